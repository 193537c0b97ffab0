#include "report/lesson_json.hpp"

#include "report/lesson_heard.hpp"

namespace retap::report {

namespace {

Json bite_json(const bite::LessonBite& bite) {
    Json heights = Json::array();
    for (const bite::HeightChange& change : bite.heights) {
        heights.push_back(
            {{"upper_tooth_iso", bite::upper_tooth_iso(change.pair)},
             {"height_um", rounded(change.height_um, 1)},
             {"expected_delay_ms", change.height_um > 0.0
                                       ? rounded(bite::expected_delay_ms(change.height_um, bite.speed_m_per_s), 4)
                                       : Json(nullptr)}});
    }
    Json slide = nullptr;
    if (bite.slide) {
        slide = {{"upper_tooth_iso", bite::upper_tooth_iso(bite.slide->pair)},
                 {"distance_um", rounded(bite.slide->distance_um, 1)}};
    }
    Json side = nullptr;
    if (bite.side) {
        side = {{"side", bite.side->side == bite::ArchSide::left ? "left" : "right"},
                {"height_um", rounded(bite.side->height_um, 1)}};
    }
    return {{"heights", std::move(heights)},
            {"slide", std::move(slide)},
            {"side", std::move(side)},
            {"closing_speed_mm_s", rounded(1e3 * bite.speed_m_per_s, 2)},
            {"taps", bite.taps},
            {"seed", bite.seed},
            {"take", bite.take}};
}

Json both_json(const TruthAndHeard& both) {
    return {{"truth", truth_json(both.truth)}, {"heard", heard_json(both.heard)}};
}

int decimals_of(const std::string& unit) {
    return unit == "ms" ? 4 : unit == "Hz" ? 1 : 2;
}

std::string member_name(const HeardMeasure& measure) {
    const std::string ending = measure.unit == "Hz" ? "hz" : measure.unit == "dB" ? "db" : measure.unit;
    return measure.name + "_" + (measure.unit == "dBFS" ? "dbfs" : ending);
}

} // namespace

Json truth_json(const bite::TruthSummary& truth) {
    Json pairs = Json::array();
    for (const bite::PairTiming& pair : truth.pairs) {
        pairs.push_back({{"upper_tooth_iso", bite::upper_tooth_iso(pair.pair)},
                         {"after_ms", rounded(pair.after_ms, 4)},
                         {"approach_mm_s", rounded(pair.speed_mm_s, 2)},
                         {"taps", pair.taps}});
    }
    return {{"pairs", std::move(pairs)}, {"spread_ms", rounded(truth.spread_ms, 4)}};
}

Json heard_json(const dsp::TakeAnalysis& heard) {
    Json out = {{"taps", heard.taps.size()}, {"usable", heard.fitness.usable}};
    for (const HeardMeasure& measure : heard_measures(heard)) {
        out[member_name(measure)] =
            measure.middle ? rounded(*measure.middle, decimals_of(measure.unit)) : Json(nullptr);
    }
    return out;
}

Json lesson_bench_json(const bite::LessonBite& bite, const TruthAndHeard& balanced, const TruthAndHeard& made) {
    return {{"format", "retap.lesson-bench/1"},
            {"bite", bite_json(bite)},
            {"balanced", both_json(balanced)},
            {"this_bite", both_json(made)}};
}

} // namespace retap::report
