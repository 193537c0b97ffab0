#include "compare/distributions.hpp"

#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/students_t.hpp>

#include <cassert>
#include <cmath>

namespace retap::compare {

namespace {

[[maybe_unused]] bool is_inner_probability(double p) {
    return p > 0.0 && p < 1.0;
}

} // namespace

double normal_below(double z) {
    return boost::math::cdf(boost::math::normal_distribution<double>(), z);
}

double normal_quantile(double p) {
    assert(is_inner_probability(p));
    return boost::math::quantile(boost::math::normal_distribution<double>(), p);
}

double student_below(double t, double degrees) {
    assert(degrees > 0.0);
    return boost::math::cdf(boost::math::students_t_distribution<double>(degrees), t);
}

double student_above(double t, double degrees) {
    assert(degrees > 0.0);
    return boost::math::cdf(boost::math::complement(boost::math::students_t_distribution<double>(degrees), t));
}

double student_quantile(double p, double degrees) {
    assert(is_inner_probability(p) && degrees > 0.0);
    return boost::math::quantile(boost::math::students_t_distribution<double>(degrees), p);
}

double chi_squared_quantile(double p, double degrees) {
    assert(is_inner_probability(p) && degrees > 0.0);
    return boost::math::quantile(boost::math::chi_squared_distribution<double>(degrees), p);
}

} // namespace retap::compare
