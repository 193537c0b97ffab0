#include "report/json.hpp"

#include "compare/compare_takes.hpp"
#include "dsp/analysis_settings.hpp"
#include "invented_takes.hpp"

#include <cmath>
#include <doctest/doctest.h>
#include <limits>
#include <memory>

using namespace retap;
using namespace retap::report;

TEST_CASE("numbers are rounded as promised, and what is not a number is null") {
    CHECK(json_text(rounded(1.2345678, 6), JsonLayout::one_line) == "1.234568\n");
    CHECK(json_text(rounded(-0.00000001, 6), JsonLayout::one_line) == "0.0\n");
    CHECK(rounded(std::numeric_limits<double>::quiet_NaN(), 2).is_null());
    CHECK(rounded(std::numeric_limits<double>::infinity(), 2).is_null());
    CHECK(json_text(significant(1234.5678), JsonLayout::one_line) == "1234.57\n");
    CHECK(json_text(significant(0.00012345678), JsonLayout::one_line) == "0.000123457\n");
    CHECK(json_text(significant(-87654321.0), JsonLayout::one_line) == "-87654300.0\n");
    CHECK(json_text(significant(0.0), JsonLayout::one_line) == "0.0\n");
    CHECK(significant(std::numeric_limits<double>::quiet_NaN()).is_null());
}

TEST_CASE("rounding is no worse than the last digit, over twenty powers of ten") {
    for (int power = -10; power <= 10; ++power) {
        const double value = 1.23456789 * std::pow(10.0, power);
        CAPTURE(value);
        CHECK(std::abs(significant(value).get<double>() - value) <= 0.5001e-5 * std::pow(10.0, power));
    }
}

TEST_CASE("a file name that is not UTF-8 does not break the document") {
    dsp::TakeAnalysis take;
    take.file = "caf\xe9.wav";
    const std::string text = json_text(take_json(take));
    CHECK(Json::parse(text)["file"] == "caf\uFFFD.wav");
}

TEST_CASE("a take without taps is a whole document with empty lists") {
    const Json json = take_json({});
    CHECK(json.begin().key() == "format");
    CHECK(json["taps"] == Json::array());
    CHECK(json["turned_down"] == Json::array());
    CHECK(json["settings"]["analysis_rate_hz"] == 48000.0);
}

TEST_CASE("a tap too soft to be measured has a peak and no made-up figures") {
    dsp::TakeAnalysis take;
    take.taps.resize(2);
    take.taps[0].measured = false;
    take.taps[0].peak_dbfs = -47.125;
    const Json json = take_json(take);
    CHECK(json["taps"][0]["peak_dbfs"] == -47.13);
    for (const char* const name : {"rise_ms", "duration_ms", "energy_db", "centroid_hz"}) {
        CHECK(json["taps"][0][name].is_null());
        CHECK(json["taps"][1][name] == 0.0);
    }
}

TEST_CASE("what one pick-up cannot know is null, and what two can is a number") {
    dsp::TakeAnalysis take;
    take.taps.resize(2);
    take.taps[1].left_lead_ms = 0.1234567;
    take.taps[1].left_excess_db = -1.0;
    const Json json = take_json(take);
    CHECK(json["taps"][0]["left_lead_ms"].is_null());
    CHECK(json["taps"][0]["left_excess_db"].is_null());
    CHECK(json["taps"][1]["left_lead_ms"] == 0.1235);
    CHECK(json["taps"][1]["left_excess_db"] == -1.0);
}

TEST_CASE("the settings that were in force are written down, once a document") {
    dsp::AnalysisSettings settings;
    settings.find.events.floor_quantile = 0.125;
    settings.together.stray_onsets.from_hz = 654.0;
    settings.together.contacts.prediction.white_noise = 1e-7;
    compare::Comparison comparison;
    comparison.before.settings = std::make_shared<const dsp::AnalysisSettings>(settings);
    comparison.after.settings = comparison.before.settings;
    compare::CompareSettings few_taps;
    few_taps.max_taps_a_take = 7;
    comparison.settings = std::make_shared<const compare::CompareSettings>(few_taps);
    const auto shows_them = [](const Json& shown) {
        CHECK(shown["analysis_rate_hz"] == 48000.0);
        CHECK(shown["find"]["floor_quantile"] == 0.125);
        CHECK(shown["stray_onsets"]["from_hz"] == 654.0);
        CHECK(shown["contacts"]["model_white_noise"] == 1e-7);
        CHECK(shown["tap"]["min_jump_db"] == dsp::TapLimits{}.min_jump.db());
        CHECK(shown["arrival"]["bands_hz"].size() == dsp::arrival_bands.size());
    };
    const Json take = take_json(comparison.before);
    shows_them(take["settings"]);
    CHECK_FALSE(take["settings"].contains("compare"));
    const Json both = comparison_json(comparison);
    shows_them(both["settings"]);
    CHECK(both["settings"]["compare"]["max_taps_a_take"] == 7);
    CHECK_FALSE(both["before"].contains("settings"));
    CHECK_FALSE(both["after"].contains("settings"));
    CHECK_FALSE(take_json({})["settings"].contains("find")); // nobody analysed it
}
