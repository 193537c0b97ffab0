#include "lesson_bite_options.hpp"

#include "error.hpp"
#include "lesson/bite_words.hpp"
#include "report/wording.hpp"

#include <algorithm>
#include <charconv>
#include <optional>
#include <string_view>
#include <vector>

namespace retap::commands {
namespace {

std::optional<double> read_number(std::string_view text) {
    double value = 0.0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    return error == std::errc() && end == text.data() + text.size() ? std::optional(value) : std::nullopt;
}

std::size_t pair_named(std::string_view text, chart::Numbering numbering) {
    const auto number = read_number(text);
    const auto tooth =
        number ? chart::Tooth::from_number(static_cast<int>(*number), numbering) : std::optional<chart::Tooth>();
    const auto pair = tooth ? bite::pair_of_tooth(tooth->number(chart::Numbering::iso)) : std::nullopt;
    if (!pair) {
        throw UsageError("'" + std::string(text) + "' is no tooth from second molar to second molar in " +
                         (numbering == chart::Numbering::iso ? "ISO numbering. Try 16, or --numbering universal."
                                                             : "Universal numbering. Try 3, or --numbering iso."));
    }
    return *pair;
}

/// "KEY=NUMBER"; the number may be left out when there is a usual one.
struct Setting {
    std::string key;
    double number = 0.0;
};

Setting read_setting(const std::string& option, const std::string& text, std::optional<double> usual,
                     lesson::BenchRange range) {
    const auto equals = text.find('=');
    const auto number = equals == std::string::npos ? usual : read_number(std::string_view(text).substr(equals + 1));
    if (!number || *number < range.lowest || *number > range.highest) {
        throw UsageError(option + " '" + text + "' needs a number of micrometres from " +
                         report::number(range.lowest, 0) + " to " + report::number(range.highest, 0) + " after '='.");
    }
    return {.key = text.substr(0, equals), .number = *number};
}

/// A pair has one height.
void refuse_twice(const std::vector<bite::HeightChange>& heights) {
    for (auto one = heights.begin(); one != heights.end(); ++one) {
        if (std::any_of(heights.begin(), one, [&](const auto& other) { return other.pair == one->pair; })) {
            throw UsageError("Two of the teeth in --high and --low are the same, or meet each other. Give one height "
                             "for each.");
        }
    }
}

} // namespace

chart::Numbering BiteOptions::teeth() const {
    return chart::numbering_from(numbering).value_or(chart::Numbering::iso); // the option lets nothing else through
}

bite::LessonBite BiteOptions::to_bite() const {
    bite::LessonBite bite;
    for (const std::string& text : high) {
        const Setting set = read_setting("--high", text, std::nullopt, lesson::bench_height_um);
        bite.heights.push_back({.pair = pair_named(set.key, teeth()), .height_um = set.number});
    }
    for (const std::string& text : low) {
        const Setting set = read_setting("--low", text, lesson::usual_depth_um, lesson::bench_height_um);
        bite.heights.push_back({.pair = pair_named(set.key, teeth()), .height_um = -set.number});
    }
    refuse_twice(bite.heights);
    if (!slide.empty()) {
        const Setting set = read_setting("--slide", slide, std::nullopt, lesson::bench_slide_um);
        bite.slide = bite::Slide{.pair = pair_named(set.key, teeth()), .distance_um = set.number};
    }
    if (!side.empty()) {
        const Setting set = read_setting("--side", side, std::nullopt, lesson::bench_height_um);
        const auto which = lesson::side_named(set.key);
        if (!which) {
            throw UsageError("--side '" + side + "' needs left or right before '=', as in left=100.");
        }
        bite.side = bite::HighSide{.side = *which, .height_um = set.number};
    }
    bite.speed_m_per_s = 1e-3 * speed_mm_s;
    bite.pickups = lesson::pickups_named(pickup).value_or(bite.pickups); // the options let nothing else through
    bite.room = lesson::room_named(room).value_or(bite.room);
    bite.taps = taps;
    bite.seed = seed;
    bite.take = take;
    bite.scatter = scatter;
    return bite;
}

void add_bite_options(Command command, BiteOptions& options) {
    command.option("--high", options.high, "This tooth is so many micrometres high, 0 to 200")
        .type_name("TOOTH=UM")
        .one_value_each();
    command.option("--low", options.low, "This tooth is out of contact, by 100 um or as said")
        .type_name("TOOTH[=UM]")
        .one_value_each();
    command.option("--slide", options.slide, "This tooth meets on an incline and leads the jaw so far, 50 to 1500 um")
        .type_name("TOOTH=UM");
    command.option("--side", options.side, "All back teeth of one side are high").type_name("left|right=UM");
    command.option("--speed", options.speed_mm_s, "Closing speed")
        .within(lesson::bench_speed_mm_s.lowest, lesson::bench_speed_mm_s.highest)
        .type_name("MM/S")
        .show_default();
    command.option("--pickup", options.pickup, "Where the pick-up sits; both sides make two channels")
        .one_of({"forehead", "left", "right", "both"})
        .show_default();
    command.option("--room", options.room, "What else is heard").one_of({"silent", "quiet", "busy"}).show_default();
    command.option("--taps", options.taps, "How many taps").within(1, 60).show_default();
    command.option("--scatter", options.scatter, "How much the taps differ, times what is usual")
        .within(0.0, 3.0)
        .show_default();
    command.option("--seed", options.seed, "Which mouth; the same number gives the same mouth").show_default();
    command.option("--take", options.take, "Which recording of that mouth").show_default();
    command.option("--numbering", options.numbering, "How teeth are numbered")
        .one_of({"iso", "universal"})
        .show_default();
}

} // namespace retap::commands
