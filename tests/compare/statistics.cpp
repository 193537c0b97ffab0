#include "compare/statistics.hpp"

#include <doctest/doctest.h>

#include <gsl/gsl_statistics_double.h>

#include <array>
#include <cmath>
#include <random>

using namespace retap::compare;

namespace {

using Values = std::vector<double>;

// NIST StRD, univariate set "Lew" (beam deflections). Written down from memory; the certified mean, standard deviation
// and lag-1 autocorrelation below come out to all fifteen digits, which no wrong digit would allow.
const Values lew{-213, -564, -35,  -15,  141,  115,  -420, -360, 203,  -338, -431, 194,  -220, -513, 154,  -125, -559,
                 92,   -21,  -579, -52,  99,   -543, -175, 162,  -457, -346, 204,  -300, -474, 164,  -107, -572, -8,
                 83,   -541, -224, 180,  -420, -374, 201,  -236, -531, 83,   27,   -564, -112, 131,  -507, -254, 199,
                 -311, -495, 143,  -46,  -579, -90,  136,  -472, -338, 202,  -287, -477, 169,  -124, -568, 17,   48,
                 -568, -135, 162,  -430, -422, 172,  -74,  -577, -13,  92,   -534, -243, 194,  -355, -465, 156,  -81,
                 -578, -64,  139,  -449, -384, 193,  -198, -538, 110,  -44,  -577, -6,   66,   -552, -164, 161,  -460,
                 -344, 205,  -281, -504, 134,  -28,  -576, -118, 156,  -437, -381, 200,  -220, -540, 83,   11,   -568,
                 -160, 172,  -414, -408, 188,  -125, -572, -32,  139,  -492, -321, 205,  -262, -504, 142,  -83,  -574,
                 0,    48,   -571, -106, 137,  -501, -266, 190,  -391, -406, 194,  -186, -553, 83,   -13,  -577, -49,
                 103,  -515, -280, 201,  300,  -506, 131,  -45,  -578, -80,  138,  -462, -361, 201,  -211, -554, 32,
                 74,   -533, -235, 187,  -372, -442, 182,  -147, -566, 25,   68,   -535, -244, 194,  -351, -463, 174,
                 -125, -570, 15,   72,   -550, -190, 172,  -424, -385, 198,  -218, -536, 96};

// Student's sleep data as R carries them (data from memory; results recomputed from them by an independent script).
const Values sleep_one{0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0};
const Values sleep_two{1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4};

// Bland and Altman 1986, Lancet: peak flow in l/min, read twice on 17 people with each of two meters.
const std::vector<Values> wright{{494, 490}, {395, 397}, {516, 512}, {434, 401}, {476, 470}, {557, 611},
                                 {413, 415}, {442, 431}, {650, 638}, {433, 429}, {417, 420}, {656, 633},
                                 {267, 275}, {478, 492}, {178, 165}, {423, 372}, {427, 421}};
const std::vector<Values> mini{{512, 525}, {430, 415}, {520, 508}, {428, 444}, {500, 500}, {600, 625},
                               {364, 460}, {380, 390}, {658, 642}, {445, 432}, {432, 420}, {626, 605},
                               {260, 227}, {477, 467}, {259, 268}, {350, 370}, {451, 443}};

} // namespace

TEST_CASE("mean and standard deviation have the certified digits of NIST StRD") {
    const Moments m = moments(lew);
    CHECK(m.n == 200);
    CHECK(m.mean == doctest::Approx(-177.435000000000).epsilon(1e-14));
    CHECK(m.sd == doctest::Approx(277.332168044316).epsilon(1e-14));
    // not ours, but it pins the order of the data
    CHECK(gsl_stats_lag1_autocorrelation(lew.data(), 1, lew.size()) ==
          doctest::Approx(-0.307304800605679).epsilon(1e-13));

    const Moments small = moments(Values{10000001.0, 10000003.0, 10000002.0}); // NumAcc1: 10000002 and 1 exactly
    CHECK(small.mean == 10000002.0);
    CHECK(small.sd == 1.0);
}

TEST_CASE("a large offset costs no digits") {
    // The make of NIST StRD NumAcc4: 10000000.2, then 10000000.1 and 10000000.3 in turn, 500 times; by arithmetic the
    // mean is 10000000.2 and the variance 1000 * 0.1^2 / 1000. Storing x.1 near 1e7 rounds by 1e-9, which leaves 8
    // digits.
    Values values{10000000.2};
    for (int i = 0; i < 500; ++i) {
        values.push_back(10000000.1);
        values.push_back(10000000.3);
    }
    const Moments m = moments(values);
    CHECK(m.mean == doctest::Approx(10000000.2).epsilon(1e-15));
    CHECK(m.sd == doctest::Approx(0.1).epsilon(1e-8));
    CHECK(moments(Values{4.0}).sd == 0.0);

    // 2^50 + i for i = 0..9999: each is exact, but their sum is not, so the first mean is rounded. Mean of i 4999.5,
    // variance of i n (n + 1) / 12.
    const double offset = std::exp2(50.0);
    Values steps;
    for (int i = 0; i < 10000; ++i) {
        steps.push_back(offset + i);
    }
    CHECK(moments(steps).mean == offset + 4999.5);
    CHECK(moments(steps).sd == doctest::Approx(std::sqrt(10000.0 * 10001.0 / 12.0)).epsilon(1e-13));
}

TEST_CASE("moments agree with GSL on random values") {
    std::mt19937 engine(61);
    std::normal_distribution<double> normal(3.0, 0.2);
    Values values(137);
    for (double& v : values) {
        v = normal(engine);
    }
    CHECK(moments(values).mean == doctest::Approx(gsl_stats_mean(values.data(), 1, values.size())).epsilon(1e-13));
    CHECK(moments(values).sd == doctest::Approx(gsl_stats_sd(values.data(), 1, values.size())).epsilon(1e-13));
}

TEST_CASE("Welch's t on the car mileage of the NIST e-Handbook, 1.3.5.3") {
    const Moments us{.n = 249, .mean = 20.14458, .sd = 6.414700};
    const Moments japan{.n = 79, .mean = 30.48101, .sd = 6.107710};
    const MeanDifference d = mean_difference(japan, us); // printed: t -12.946, 136.87 degrees of freedom
    CHECK(d.t() == doctest::Approx(-12.94627).epsilon(1e-6));
    CHECK(d.degrees == doctest::Approx(136.8750).epsilon(1e-6));
}

TEST_CASE("Welch's interval on Student's sleep data, and the other way round") {
    const MeanDifference d = mean_difference(moments(sleep_two), moments(sleep_one));
    CHECK(d.t() == doctest::Approx(-1.860813).epsilon(1e-6));
    CHECK(d.degrees == doctest::Approx(17.776474).epsilon(1e-7));
    const Interval interval = confidence_interval(d, 0.95);
    CHECK(interval.low == doctest::Approx(-3.365483).epsilon(1e-6));
    CHECK(interval.high == doctest::Approx(0.205483).epsilon(1e-5));
    const Interval swapped = confidence_interval(mean_difference(moments(sleep_one), moments(sleep_two)), 0.95);
    CHECK(swapped.low == doctest::Approx(-interval.high));
    CHECK(swapped.high == doctest::Approx(-interval.low));
}

TEST_CASE("two one-sided tests on the example of Lakens 2017, Soc Psychol Personal Sci") {
    // 5.25, 0.95, 95 against 5.22, 0.83, 89 with raw bounds +-0.384, variances not pooled (recomputed independently)
    const Moments first{.n = 95, .mean = 5.25, .sd = 0.95};
    const Moments second{.n = 89, .mean = 5.22, .sd = 0.83};
    // NOLINTNEXTLINE(readability-suspicious-call-argument): the example takes the second group from the first
    const MeanDifference d = mean_difference(second, first);
    CHECK(d.degrees == doctest::Approx(181.1344).epsilon(1e-6));
    const EquivalenceTest test = test_equivalence(d, 0.384);
    CHECK(test.p_below_high == doctest::Approx(0.00384).epsilon(2e-3)); // t = -2.6961
    CHECK(test.p_above_low == doctest::Approx(0.000946).epsilon(1e-3)); // t = 3.1530
    CHECK(test.p == test.p_below_high);
    const Interval interval = confidence_interval(d, 0.90);
    CHECK(interval.low == doctest::Approx(-0.187084).epsilon(1e-5));
    CHECK(interval.high == doctest::Approx(0.247084).epsilon(1e-5));
}

TEST_CASE("the equivalence test says yes exactly when the interval lies inside the tolerance") {
    const MeanDifference d = mean_difference(moments(sleep_one), moments(sleep_two));
    const Interval interval = confidence_interval(d, 0.90);
    const double outermost = std::max(std::abs(interval.low), std::abs(interval.high));
    CHECK(test_equivalence(d, outermost * 1.0001).p < 0.05);
    CHECK(test_equivalence(d, outermost * 0.9999).p > 0.05);
}

TEST_CASE("groups that do not vary are judged by their difference alone") {
    const Moments a = moments(Values{2.0, 2.0, 2.0});
    const Moments b = moments(Values{3.0, 3.0});
    const MeanDifference d = mean_difference(a, b);
    CHECK(d.degrees == 3.0);
    CHECK(std::isinf(d.t()));
    CHECK(confidence_interval(d, 0.95).low == 1.0);
    CHECK(confidence_interval(d, 0.95).high == 1.0);
    CHECK(test_equivalence(d, 1.5).p == 0.0);
    CHECK(test_equivalence(d, 0.5).p == 1.0);
    CHECK(mean_difference(a, a).t() == 0.0);
}

TEST_CASE("a 90 % interval covers the truth nine times in ten, with unequal groups") {
    constexpr unsigned seed = 62;
    constexpr int draws = 4000;
    CAPTURE(seed);
    std::mt19937 engine(seed);
    std::normal_distribution<double> tight(1.0, 0.5);
    std::normal_distribution<double> wide(1.7, 2.0);
    int covered = 0;
    for (int i = 0; i < draws; ++i) {
        Values a(6);
        Values b(9);
        for (double& v : a) {
            v = tight(engine);
        }
        for (double& v : b) {
            v = wide(engine);
        }
        const Interval interval = confidence_interval(mean_difference(moments(a), moments(b)), 0.90);
        covered += interval.low <= 0.7 && 0.7 <= interval.high ? 1 : 0;
    }
    // binomial sd of the share is 0.0047; three of them, and Welch is right within half a per cent here
    CHECK(std::abs(covered / static_cast<double>(draws) - 0.90) < 0.02);
}

TEST_CASE("within-subject spread of the peak-flow meters of Bland and Altman 1986") {
    const Repeatability one = repeatability(wright);
    CHECK(one.within_sd == doctest::Approx(15.3067).epsilon(1e-5));
    CHECK(one.coefficient() == doctest::Approx(42.43).epsilon(1e-4));
    CHECK(one.degrees == 17.0);
    const Repeatability two = repeatability(mini);
    CHECK(two.within_sd == doctest::Approx(19.9108).epsilon(1e-5));
    CHECK(two.coefficient() == doctest::Approx(55.19).epsilon(1e-4));
}

TEST_CASE("four readings each: rows of Bland and Altman 1996, BMJ 313:744, with their printed mean and SD") {
    struct Row {
        Values values;
        double mean, sd;
    };
    const std::array<Row, 4> rows{{{{190, 220, 200, 200}, 202.50, 12.58},
                                   {{210, 300, 280, 265}, 263.75, 38.60},
                                   {{270, 250, 330, 370}, 305.00, 55.08},
                                   {{320, 330, 330, 330}, 327.50, 5.00}}};
    double squares = 0.0;
    std::vector<Values> groups;
    for (const Row& row : rows) {
        const Moments m = moments(row.values);
        CHECK(std::abs(m.mean - row.mean) < 0.0051);
        CHECK(std::abs(m.sd - row.sd) < 0.0051);
        squares += m.sd * m.sd;
        groups.push_back(row.values);
    }
    CHECK(repeatability(groups).within_sd == doctest::Approx(std::sqrt(squares / 4.0)));
    CHECK(repeatability(groups).degrees == 12.0);
    groups.push_back({999.0}); // a single reading teaches nothing about repeating
    CHECK(repeatability(groups).degrees == 12.0);
    CHECK(repeatability({}).degrees == 0.0);
}
