// The clinic's machines: suction, handpiece and mains hum.
#include "bite/clinic.hpp"
#include "bite/resonator.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace retap::bite::clinic {

namespace {

constexpr double two_pi = 2.0 * std::numbers::pi;

// A slowly wandering number about 0 with standard deviation 1: white noise through one pole.
class Wander {
public:
    Wander(double corner_hz, double rate_hz)
        : keep_(std::exp(-two_pi * corner_hz / rate_hz)), drive_(std::sqrt(1.0 - keep_ * keep_)) {}
    double operator()(Random& random) {
        value_ = keep_ * value_ + drive_ * random.normal(0.0, 1.0);
        return value_;
    }

private:
    double keep_;
    double drive_;
    double value_ = 0.0;
};

} // namespace

std::vector<double> suction(std::size_t length, double rate_hz, Random& random) {
    const double top = 0.45 * rate_hz;
    Resonator tube(random.uniform(350.0, 900.0), 300.0, rate_hz);
    Resonator mouth(std::min(top, random.uniform(1200.0, 2200.0)), 900.0, rate_hz);
    Resonator hiss(std::min(top, random.uniform(3000.0, 6000.0)), 3500.0, rate_hz);
    Wander breath(1.5, rate_hz);
    Wander gurgle(9.0, rate_hz);
    const double wet = random.uniform(0.2, 0.6);
    std::vector<double> out(length);
    for (double& sample : out) {
        const double white = random.normal(0.0, 1.0);
        const double slow = breath(random);
        const double fast = gurgle(random);
        const double liquid = std::exp(wet * fast);
        sample = (1.4 * tube(white) * liquid + 1.0 * mouth(white) * liquid + 0.8 * hiss(white)) * std::exp(0.2 * slow);
    }
    return out;
}

std::vector<double> handpiece(std::size_t length, double rate_hz, Random& random) {
    const double free_hz = random.uniform(4300.0, 6400.0);
    constexpr std::array<double, 3> overtones{1.0, 0.35, 0.12};
    Wander unsteady(4.0, rate_hz);
    Wander load(0.8, rate_hz);
    Resonator air(std::min(0.4 * rate_hz, 7000.0), 5000.0, rate_hz);
    double phase = random.uniform(0.0, two_pi);
    std::vector<double> out(length);
    for (double& sample : out) {
        const double hz = free_hz * (1.0 + 0.003 * unsteady(random) - 0.04 * std::max(0.0, load(random)));
        phase += two_pi * hz / rate_hz;
        double tone = 0.0;
        for (std::size_t k = 0; k < overtones.size(); ++k) {
            const auto times = static_cast<double>(k + 1);
            if (times * hz < 0.45 * rate_hz) {
                tone += overtones.at(k) * std::sin(times * phase);
            }
        }
        sample = tone + 0.6 * air(random.normal(0.0, 1.0));
    }
    return out;
}

std::vector<double> hum(std::size_t length, double rate_hz, Random& random) {
    const double mains_hz = random.uniform(0.0, 1.0) < 0.5 ? 50.0 : 60.0;
    std::vector<double> out(length, 0.0);
    for (int k = 1; k <= 12; ++k) {
        const double hz = mains_hz * k;
        if (hz > 0.45 * rate_hz) {
            break;
        }
        const double even = k % 2 == 0 ? 0.5 : 1.0;
        const double level = even * random.log_normal(1.0, 0.5) / std::pow(k, 1.2);
        const double phase = random.uniform(0.0, two_pi);
        for (std::size_t n = 0; n < length; ++n) {
            out[n] += level * std::sin(two_pi * hz * static_cast<double>(n) / rate_hz + phase);
        }
    }
    return out;
}

} // namespace retap::bite::clinic
