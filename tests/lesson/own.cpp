#include "lesson/own.hpp"

#include <cmath>
#include <doctest/doctest.h>
#include <vector>

using namespace retap;
using namespace retap::lesson;

TEST_CASE("repeatability of own takes is that of the published worked rows") {
    // Bland and Altman 1996, BMJ 313:744: peak flow, four readings each, with printed means and
    // SDs: 12.58, 38.60, 55.08, 5.00. Here four takes of four taps, read as their durations; pooled by hand:
    // sqrt((158.33 + 1489.58 + 3033.33 + 25) / 4) = sqrt(1176.56) = 34.30.
    const std::vector<std::vector<double>> rows{
        {190, 220, 200, 200}, {210, 300, 280, 265}, {270, 250, 330, 370}, {320, 330, 330, 330}};
    std::vector<dsp::TakeAnalysis> takes;
    for (const auto& row : rows) {
        dsp::TakeAnalysis take;
        for (const double value : row) {
            dsp::Tap tap;
            tap.duration_ms = value;
            take.taps.push_back(tap);
        }
        takes.push_back(take);
    }
    for (const OwnMeasure& measure : own_repeatability(takes)) {
        if (measure.name == "duration") {
            CHECK(measure.between_taps.within_sd == doctest::Approx(34.30).epsilon(0.0005));
            // Medians 200, 272.5, 300, 330: mean 275.625, SD sqrt(9279.69 / 3) = 55.617.
            CHECK(measure.between_takes.within_sd == doctest::Approx(55.617).epsilon(0.0005));
            CHECK(measure.between_takes.coefficient() ==
                  doctest::Approx(1.96 * std::sqrt(2.0) * 55.617).epsilon(0.001));
            return;
        }
    }
    FAIL("duration is missing");
}

TEST_CASE("few takes are said to be few, and the section names every measure it has") {
    CHECK(own_words(4).size() == own_words(5).size() + 1);
    std::vector<dsp::TakeAnalysis> takes(2);
    for (std::size_t i = 0; i < takes.size(); ++i) {
        dsp::Tap tap;
        tap.duration_ms = 20.0 + static_cast<double>(i);
        takes[i].taps = {tap, tap};
    }
    const std::string section = own_section(takes);
    CHECK(section.find("<th scope=\"row\">lasts</th>") != std::string::npos);
    CHECK(section.find("contacts spread over") == std::string::npos); // none were told apart
    // Medians 20 and 21: their SD is 1 / sqrt 2, and two takes differ by up to 1.96 sqrt 2 of it, 1.96.
    CHECK(section.find("1.96\u00A0ms") != std::string::npos);
}
