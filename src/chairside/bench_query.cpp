#include "chairside/bench_query.hpp"

#include "error.hpp"
#include "lesson/bite_words.hpp"

#include <charconv>
#include <optional>

namespace retap::chairside {

namespace {

using lesson::BenchRange;

constexpr BenchRange slow_factor{1.0, 64.0};
constexpr BenchRange take_numbers{1.0, 1e6};

/// Nothing when it is not asked for. Throws InputError when it is no number inside the range.
std::optional<double> number_in(const HttpRequest& request, std::string_view name, BenchRange range) {
    const std::string_view text = request.query_value(name);
    if (text.empty()) {
        return std::nullopt;
    }
    double value = 0.0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc() || end != text.data() + text.size() ||
        !(value >= range.lowest && value <= range.highest)) {
        throw InputError("The bench cannot set " + std::string(name) + " to '" + std::string(text) + "'.");
    }
    return value;
}

template <class Value>
Value word_of(const HttpRequest& request, std::string_view name, std::optional<Value> (*read)(std::string_view),
              Value usual) {
    const std::string_view word = request.query_value(name);
    if (word.empty()) {
        return usual;
    }
    const auto value = read(word);
    if (!value) {
        throw InputError("The bench knows no " + std::string(name) + " '" + std::string(word) + "'.");
    }
    return *value;
}

std::size_t pair_of_query(const HttpRequest& request) {
    constexpr BenchRange iso_numbers{11.0, 48.0};
    const auto iso = number_in(request, "tooth", iso_numbers);
    const auto pair = iso ? bite::pair_of_tooth(static_cast<int>(*iso)) : std::nullopt;
    if (!pair) {
        throw InputError("The bench has no tooth '" + std::string(request.query_value("tooth")) +
                         "'. It has those from second molar to second molar.");
    }
    return *pair;
}

} // namespace

bite::LessonBite bite_of_query(const HttpRequest& request) {
    bite::LessonBite bite;
    const BenchRange heights{-lesson::bench_height_um.highest, lesson::bench_height_um.highest};
    if (const auto height = number_in(request, "height", heights); height && *height != 0.0) {
        bite.heights = {{.pair = pair_of_query(request), .height_um = *height}};
    }
    if (const auto slide = number_in(request, "slide", lesson::bench_slide_um)) {
        bite.slide = bite::Slide{.pair = pair_of_query(request), .distance_um = *slide};
    }
    if (const auto height = number_in(request, "side_height", lesson::bench_height_um); height && *height > 0.0) {
        bite.side = bite::HighSide{.side = word_of(request, "side", lesson::side_named, bite::ArchSide::right),
                                   .height_um = *height};
    }
    if (const auto speed = number_in(request, "speed", lesson::bench_speed_mm_s)) {
        bite.speed_m_per_s = 1e-3 * *speed;
    }
    if (const auto take = number_in(request, "take", take_numbers)) {
        bite.take = static_cast<std::uint64_t>(*take);
    }
    bite.pickups = word_of(request, "pickup", lesson::pickups_named, bite.pickups);
    bite.room = word_of(request, "room", lesson::room_named, bite.room);
    return bite;
}

std::optional<chart::Tooth> tooth_of_query(const HttpRequest& request) {
    constexpr BenchRange iso_numbers{11.0, 48.0};
    const auto iso = number_in(request, "tooth", iso_numbers);
    return iso ? chart::Tooth::from_number(static_cast<int>(*iso), chart::Numbering::iso) : std::nullopt;
}

lesson::SlowMotion slow_motion_of_query(const HttpRequest& request) {
    return {.factor = number_in(request, "slow", slow_factor).value_or(1.0),
            .keep_pitch = request.query_value("keep_pitch") == "1"};
}

} // namespace retap::chairside
