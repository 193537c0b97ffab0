#include "lesson_bite_options.hpp"

#include "chart/tooth.hpp"
#include "error.hpp"
#include "report/wording.hpp"

#include <charconv>
#include <optional>
#include <string_view>

namespace retap::commands {
namespace {

constexpr double most_height_um = 200.0;
constexpr double usual_depth_um = 100.0;
constexpr double shortest_slide_um = 50.0;
constexpr double longest_slide_um = 1500.0;

std::optional<double> read_number(std::string_view text) {
    double value = 0.0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    return error == std::errc() && end == text.data() + text.size() ? std::optional(value) : std::nullopt;
}

chart::Numbering numbering_of(const std::string& word) {
    return chart::numbering_from(word).value_or(chart::Numbering::iso); // the option lets nothing else through
}

std::size_t pair_named(std::string_view text, const std::string& numbering) {
    const auto number = read_number(text);
    const auto tooth = number ? chart::Tooth::from_number(static_cast<int>(*number), numbering_of(numbering))
                              : std::optional<chart::Tooth>();
    const auto pair = tooth ? bite::pair_of_tooth(tooth->number(chart::Numbering::iso)) : std::nullopt;
    if (!pair) {
        throw UsageError("'" + std::string(text) + "' is no tooth from second molar to second molar in " + numbering +
                         " numbering. Try 16, or --numbering universal.");
    }
    return *pair;
}

/// "KEY=NUMBER"; the number may be left out when there is a usual one.
struct Setting {
    std::string key;
    double number = 0.0;
};

Setting read_setting(const std::string& option, const std::string& text, std::optional<double> usual, double lowest,
                     double highest) {
    const auto equals = text.find('=');
    const auto number = equals == std::string::npos ? usual : read_number(std::string_view(text).substr(equals + 1));
    if (!number || *number < lowest || *number > highest) {
        throw UsageError(option + " '" + text + "' needs a number of micrometres from " + report::number(lowest, 0) +
                         " to " + report::number(highest, 0) + " after '='.");
    }
    return {.key = text.substr(0, equals), .number = *number};
}

bite::Pickups pickups_of(const std::string& word) {
    return word == "left"    ? bite::Pickups::left
           : word == "right" ? bite::Pickups::right
           : word == "both"  ? bite::Pickups::left_and_right
                             : bite::Pickups::forehead;
}

bite::LessonRoom room_of(const std::string& word) {
    return word == "silent" ? bite::LessonRoom::silent
           : word == "busy" ? bite::LessonRoom::busy
                            : bite::LessonRoom::quiet;
}

std::string micrometres(double um) {
    return report::number(um, 0) + " um";
}

} // namespace

bite::LessonBite BiteOptions::to_bite() const {
    bite::LessonBite bite;
    for (const std::string& text : high) {
        const Setting set = read_setting("--high", text, std::nullopt, 0.0, most_height_um);
        bite.heights.push_back({.pair = pair_named(set.key, numbering), .height_um = set.number});
    }
    for (const std::string& text : low) {
        const Setting set = read_setting("--low", text, usual_depth_um, 0.0, most_height_um);
        bite.heights.push_back({.pair = pair_named(set.key, numbering), .height_um = -set.number});
    }
    if (!slide.empty()) {
        const Setting set = read_setting("--slide", slide, std::nullopt, shortest_slide_um, longest_slide_um);
        bite.slide = bite::Slide{.pair = pair_named(set.key, numbering), .distance_um = set.number};
    }
    if (!side.empty()) {
        const Setting set = read_setting("--side", side, std::nullopt, 0.0, most_height_um);
        if (set.key != "left" && set.key != "right") {
            throw UsageError("--side '" + side + "' needs left or right before '=', as in left=100.");
        }
        bite.side = bite::HighSide{.side = set.key == "left" ? bite::ArchSide::left : bite::ArchSide::right,
                                   .height_um = set.number};
    }
    bite.speed_m_per_s = 1e-3 * speed_mm_s;
    bite.pickups = pickups_of(pickup);
    bite.room = room_of(room);
    bite.taps = taps;
    bite.seed = seed;
    bite.take = take;
    bite.scatter = scatter;
    return bite;
}

void add_bite_options(CLI::App& command, BiteOptions& options) {
    const auto one_each = [](CLI::Option* option) { option->allow_extra_args(false); };
    one_each(command.add_option("--high", options.high, "This tooth is so many micrometres high, 0 to 200")
                 ->type_name("TOOTH=UM"));
    one_each(command.add_option("--low", options.low, "This tooth is out of contact, by 100 um or as said")
                 ->type_name("TOOTH[=UM]"));
    command
        .add_option("--slide", options.slide, "This tooth meets on an incline and leads the jaw so far, 50 to 1500 um")
        ->type_name("TOOTH=UM");
    command.add_option("--side", options.side, "All back teeth of one side are high")->type_name("left|right=UM");
    command.add_option("--speed", options.speed_mm_s, "Closing speed")
        ->check(CLI::Range(20.0, 200.0))
        ->type_name("MM/S")
        ->capture_default_str();
    command.add_option("--pickup", options.pickup, "Where the pick-up sits; both sides make two channels")
        ->check(CLI::IsMember({"forehead", "left", "right", "both"}))
        ->capture_default_str();
    command.add_option("--room", options.room, "What else is heard")
        ->check(CLI::IsMember({"silent", "quiet", "busy"}))
        ->capture_default_str();
    command.add_option("--taps", options.taps, "How many taps")->check(CLI::Range(1, 60))->capture_default_str();
    command.add_option("--scatter", options.scatter, "How much the taps differ, times what is usual")
        ->check(CLI::Range(0.0, 3.0))
        ->capture_default_str();
    command.add_option("--seed", options.seed, "Which mouth; the same number gives the same mouth")
        ->capture_default_str();
    command.add_option("--take", options.take, "Which recording of that mouth")->capture_default_str();
    command.add_option("--numbering", options.numbering, "How teeth are numbered")
        ->check(CLI::IsMember({"iso", "universal"}))
        ->capture_default_str();
}

std::string tooth_of_pair(std::size_t pair, const std::string& numbering) {
    const auto tooth = chart::Tooth::from_number(bite::upper_tooth_iso(pair), chart::Numbering::iso);
    return chart::name(*tooth, numbering_of(numbering));
}

std::string bite_in_words(const bite::LessonBite& bite, const std::string& numbering) {
    std::vector<std::string> parts;
    for (const bite::HeightChange& change : bite.heights) {
        const std::string tooth = tooth_of_pair(change.pair, numbering);
        parts.push_back(change.height_um < 0.0 ? tooth + " out of contact by " + micrometres(-change.height_um)
                                               : tooth + " high by " + micrometres(change.height_um));
    }
    if (bite.side) {
        parts.push_back(std::string(bite.side->side == bite::ArchSide::left ? "left" : "right") + " side high by " +
                        micrometres(bite.side->height_um));
    }
    if (bite.slide) {
        parts.push_back("a slide of " + micrometres(bite.slide->distance_um) + " on " +
                        tooth_of_pair(bite.slide->pair, numbering));
    }
    if (parts.empty()) {
        parts.emplace_back("a balanced bite");
    }
    std::string words;
    for (const std::string& part : parts) {
        words += part + ", ";
    }
    return words + "closing at " + report::number(1e3 * bite.speed_m_per_s, 0) + " mm/s";
}

} // namespace retap::commands
