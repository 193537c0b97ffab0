// A two-pole band-pass, the building block of the clinic's sounds.
#pragma once

#include <cmath>
#include <numbers>

namespace retap::bite {

/// Peak gain 1 at the centre whatever the bandwidth. The centre may move from sample to sample.
class Resonator {
public:
    Resonator(double centre_hz, double bandwidth_hz, double rate_hz) : rate_hz_(rate_hz) {
        tune(centre_hz, bandwidth_hz);
    }
    void tune(double centre_hz, double bandwidth_hz) {
        radius_ = std::exp(-std::numbers::pi * bandwidth_hz / rate_hz_);
        turn_ = 2.0 * radius_ * std::cos(2.0 * std::numbers::pi * centre_hz / rate_hz_);
        gain_ = 0.5 * (1.0 - radius_ * radius_);
    }
    double operator()(double in) {
        const double out = gain_ * (in - in2_) + turn_ * y1_ - radius_ * radius_ * y2_;
        in2_ = in1_;
        in1_ = in;
        y2_ = y1_;
        y1_ = out;
        return out;
    }

private:
    double rate_hz_;
    double radius_ = 0.0, turn_ = 0.0, gain_ = 0.0;
    double in1_ = 0.0, in2_ = 0.0; // the input one and two samples ago
    double y1_ = 0.0, y2_ = 0.0;
};

} // namespace retap::bite
