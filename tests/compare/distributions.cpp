#include "compare/distributions.hpp"

#include <doctest/doctest.h>

#include <gsl/gsl_cdf.h>

#include <initializer_list>
#include <limits>

using namespace retap::compare;

namespace {
doctest::Approx close(double value) {
    return doctest::Approx(value).epsilon(1e-9).scale(0.0); // purely relative
}
} // namespace

TEST_CASE("probabilities agree with GSL, far into the tails") {
    for (const double z : {-6.0, -1.5, 0.0, 0.3, 4.0}) {
        CAPTURE(z);
        CHECK(normal_below(z) == close(gsl_cdf_ugaussian_P(z)));
        for (const double degrees : {1.0, 4.7, 17.776474, 200.0}) {
            CAPTURE(degrees);
            CHECK(student_below(z, degrees) == close(gsl_cdf_tdist_P(z, degrees)));
            CHECK(student_above(z, degrees) == close(gsl_cdf_tdist_Q(z, degrees)));
        }
    }
}

TEST_CASE("quantiles agree with GSL") {
    for (const double p : {0.001, 0.05, 0.4, 0.5, 0.9, 0.975, 0.9999}) {
        CAPTURE(p);
        CHECK(normal_quantile(p) == doctest::Approx(gsl_cdf_ugaussian_Pinv(p)).epsilon(1e-9));
        CHECK(student_quantile(p, 11.3) == doctest::Approx(gsl_cdf_tdist_Pinv(p, 11.3)).epsilon(1e-9));
        CHECK(chi_squared_quantile(p, 10.0) == doctest::Approx(gsl_cdf_chisq_Pinv(p, 10.0)).epsilon(1e-9));
    }
}

TEST_CASE("infinite statistics have probability nought or one") {
    constexpr double infinity = std::numeric_limits<double>::infinity();
    CHECK(student_below(-infinity, 5.0) == 0.0);
    CHECK(student_below(infinity, 5.0) == 1.0);
    CHECK(student_above(infinity, 5.0) == 0.0);
}
