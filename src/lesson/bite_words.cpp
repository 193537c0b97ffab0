#include "lesson/bite_words.hpp"

#include "report/wording.hpp"

#include <vector>

namespace retap::lesson {
namespace {

using report::number;

std::string micrometres(double um) {
    return number(um, 0) + " \u00B5m";
}

std::string side_word(bite::ArchSide side) {
    return side == bite::ArchSide::left ? "left" : "right";
}

} // namespace

std::optional<bite::Pickups> pickups_named(std::string_view word) {
    if (word == "forehead") {
        return bite::Pickups::forehead;
    }
    if (word == "left") {
        return bite::Pickups::left;
    }
    if (word == "right") {
        return bite::Pickups::right;
    }
    return word == "both" ? std::optional(bite::Pickups::left_and_right) : std::nullopt;
}

std::optional<bite::LessonRoom> room_named(std::string_view word) {
    if (word == "silent") {
        return bite::LessonRoom::silent;
    }
    if (word == "quiet") {
        return bite::LessonRoom::quiet;
    }
    return word == "busy" ? std::optional(bite::LessonRoom::busy) : std::nullopt;
}

std::optional<bite::ArchSide> side_named(std::string_view word) {
    if (word == "left") {
        return bite::ArchSide::left;
    }
    return word == "right" ? std::optional(bite::ArchSide::right) : std::nullopt;
}

std::string tooth_of_pair(std::size_t pair, chart::Numbering numbering, std::optional<chart::Tooth> chosen) {
    const auto upper = chart::Tooth::from_number(bite::upper_tooth_iso(pair), chart::Numbering::iso);
    const bool same_pair = chosen && chart::namesake(*chosen) == *upper;
    return chart::name(same_pair ? *chosen : *upper, numbering);
}

std::string bite_in_words(const bite::LessonBite& bite, chart::Numbering numbering,
                          std::optional<chart::Tooth> chosen) {
    std::vector<std::string> parts;
    for (const bite::HeightChange& change : bite.heights) {
        const std::string tooth = tooth_of_pair(change.pair, numbering, chosen);
        parts.push_back(change.height_um < 0.0 ? tooth + " out of contact by " + micrometres(-change.height_um)
                                               : tooth + " high by " + micrometres(change.height_um));
    }
    if (bite.side) {
        parts.push_back(side_word(bite.side->side) + " side high by " + micrometres(bite.side->height_um));
    }
    if (bite.slide) {
        parts.push_back("a slide of " + micrometres(bite.slide->distance_um) + " on " +
                        tooth_of_pair(bite.slide->pair, numbering, chosen));
    }
    if (parts.empty()) {
        parts.emplace_back("a balanced bite");
    }
    std::string words;
    for (const std::string& part : parts) {
        words += part + ", ";
    }
    return words + "closing at " + number(1e3 * bite.speed_m_per_s, 0) + " mm/s";
}

std::string physics_in_words(const bite::LessonBite& bite, chart::Numbering numbering,
                             std::optional<chart::Tooth> chosen) {
    std::string out;
    const auto line = [&](const std::string& what, double height_um) {
        if (height_um > 0.0) {
            out += what + " meets early by height / closing speed = " + micrometres(height_um) + " / " +
                   number(1e3 * bite.speed_m_per_s, 0) +
                   " mm/s = " + number(bite::expected_delay_ms(height_um, bite.speed_m_per_s), 2) + " ms.\n";
        }
    };
    for (const bite::HeightChange& change : bite.heights) {
        line("Tooth " + tooth_of_pair(change.pair, numbering, chosen), change.height_um);
    }
    if (bite.side) {
        line("The " + side_word(bite.side->side) + " side", bite.side->height_um);
    }
    return out;
}

} // namespace retap::lesson
