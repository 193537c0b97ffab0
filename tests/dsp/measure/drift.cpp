#include "dsp/measure/drift.hpp"
#include "skipped.hpp"

#include "../scipy.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <random>
#include <string>
#include <vector>

using namespace retap::dsp;

namespace {

std::vector<double> normal_values(std::size_t n, std::mt19937& engine) {
    std::normal_distribution<double> normal;
    std::vector<double> values(n);
    std::ranges::generate(values, [&] { return normal(engine); });
    return values;
}

} // namespace

TEST_CASE("the exact p is the share of all orders that look at least as trended") {
    // all 7! orders of seven different values, by brute force
    const std::vector<double> values{3.0, 1.0, 2.0, 5.0, 4.0, 6.0, 7.0};
    const double tau = trend_over_taps(values).tau;
    CHECK(tau == doctest::Approx((18.0 - 3.0) / 21.0)); // three pairs fall: 3-1, 3-2, 5-4
    std::vector<double> order(7);
    std::iota(order.begin(), order.end(), 1.0);
    int as_far = 0;
    int all = 0;
    do {
        ++all;
        as_far += std::abs(trend_over_taps(order).tau) > std::abs(tau) - 1e-9 ? 1 : 0;
    } while (std::next_permutation(order.begin(), order.end()));
    CHECK(all == 5040);
    CHECK(trend_over_taps(values).p == doctest::Approx(as_far / 5040.0).epsilon(1e-12));
}

TEST_CASE("slope, tau and p agree with SciPy") {
    std::mt19937 engine(101);
    std::vector<std::vector<double>> takes;
    std::string program = "from scipy import stats\ndef show(v):\n    r = range(len(v))\n"
                          "    k = stats.kendalltau(r, v, method='exact')\n"
                          "    print(stats.theilslopes(v, r)[0], k[0], k[1])\n";
    for (const std::size_t n : {4U, 9U, 15U, 30U}) {
        takes.push_back(normal_values(n, engine));
        for (std::size_t i = 0; i < n; ++i) {
            takes.back()[i] += 0.1 * static_cast<double>(i);
        }
        program += "show(" + retap::test::python_list(takes.back()) + ")\n";
    }
    const std::vector<double> want = retap::test::scipy("drift", program);
    if (want.size() != 3 * takes.size()) {
        retap::test::skipped("install python3-scipy");
        return;
    }
    for (std::size_t i = 0; i < takes.size(); ++i) {
        CAPTURE(takes[i].size());
        const Trend trend = trend_over_taps(takes[i]);
        CHECK(trend.per_tap == doctest::Approx(want[3 * i]).epsilon(1e-10));
        CHECK(trend.tau == doctest::Approx(want[3 * i + 1]).epsilon(1e-10));
        CHECK(trend.p == doctest::Approx(want[3 * i + 2]).epsilon(1e-9));
    }
}

TEST_CASE("a steady climb with one wild tap has the slope of the climb and is no chance") {
    std::vector<double> values;
    values.reserve(12);
    for (int i = 0; i < 12; ++i) {
        values.push_back(10.0 + 0.5 * i);
    }
    values[4] = -80.0;
    const Trend trend = trend_over_taps(values);
    CHECK(trend.per_tap == doctest::Approx(0.5));
    CHECK(trend.p < 0.01);
    CHECK(trend.n == 12);
}

TEST_CASE("no trend is found in nothing, in one value, in equal values, in four taps") {
    CHECK(trend_over_taps({}).p == 1.0);
    CHECK(trend_over_taps(std::vector<double>{3.0}).p == 1.0);
    const Trend flat = trend_over_taps(std::vector<double>(9, 2.0));
    CHECK(flat.per_tap == 0.0);
    CHECK(flat.p == 1.0);
    CHECK(trend_over_taps(std::vector<double>{1.0, 2.0, 3.0, 4.0}).p == doctest::Approx(2.0 / 24.0));
}

TEST_CASE("with ties p stays close to the share of all orders") {
    const std::vector<double> values{1.0, 1.0, 2.0, 1.0, 2.0, 1.0, 2.0, 2.0};
    const Trend trend = trend_over_taps(values);
    std::vector<std::size_t> places(values.size());
    std::iota(places.begin(), places.end(), std::size_t{0});
    int as_far = 0;
    int all = 0;
    do {
        std::vector<double> order;
        order.reserve(places.size());
        for (const std::size_t i : places) {
            order.push_back(values[i]);
        }
        double s = 0.0;
        for (std::size_t i = 0; i < order.size(); ++i) {
            for (std::size_t j = i + 1; j < order.size(); ++j) {
                s += order[j] > order[i] ? 1.0 : order[j] < order[i] ? -1.0 : 0.0;
            }
        }
        ++all;
        as_far += std::abs(s) > std::abs(trend.tau) * 28.0 - 1e-9 ? 1 : 0;
    } while (std::next_permutation(places.begin(), places.end()));
    const double exact = static_cast<double>(as_far) / all;
    CHECK(trend.p > 0.75 * exact); // the normal approximation at n = 8
    CHECK(trend.p < 1.25 * exact);
}

TEST_CASE("without a trend one take in twenty has p below 0.05, or fewer") {
    constexpr unsigned seed = 102;
    CAPTURE(seed);
    std::mt19937 engine(seed);
    int found = 0;
    for (int i = 0; i < 2000; ++i) {
        found += trend_over_taps(normal_values(10, engine)).p < 0.05 ? 1 : 0;
    }
    CHECK(found / 2000.0 < 0.065); // exact test on a coarse scale: at most 5 %, plus three standard deviations
    CHECK(found / 2000.0 > 0.02);
}
