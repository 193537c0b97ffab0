#include "bite/clinic.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>
#include <string>

namespace retap::bite {

namespace {

constexpr double ramp_s = 0.04; // nothing starts or stops with a click of its own

std::vector<double> raw(ClinicSoundKind kind, std::size_t length, double rate_hz, Random& random) {
    switch (kind) {
    case ClinicSoundKind::suction:
        return clinic::suction(length, rate_hz, random);
    case ClinicSoundKind::handpiece:
        return clinic::handpiece(length, rate_hz, random);
    case ClinicSoundKind::hum:
        return clinic::hum(length, rate_hz, random);
    case ClinicSoundKind::clunks:
        return clinic::clunks(length, rate_hz, random);
    case ClinicSoundKind::speech:
        break;
    }
    return clinic::speech(length, rate_hz, random);
}

} // namespace

std::vector<double> make_clinic_sound(const ClinicSound& sound, std::size_t length, double rate_hz) {
    assert(rate_hz >= 8000.0 && sound.from_s >= 0.0);
    std::vector<double> out(length, 0.0);
    const double end_s = std::min(sound.to_s, static_cast<double>(length) / rate_hz);
    if (end_s <= sound.from_s) {
        return out;
    }
    const auto from = static_cast<std::size_t>(sound.from_s * rate_hz);
    const auto to = std::min(length, static_cast<std::size_t>(end_s * rate_hz));
    Random random(sound.seed, "clinic sound " + std::to_string(static_cast<int>(sound.kind)));
    std::vector<double> part = raw(sound.kind, to - from, rate_hz, random);
    double power = 0.0;
    double peak = 0.0;
    for (const double s : part) {
        power += s * s;
        peak = std::max(peak, std::abs(s));
    }
    const double size = sound.kind == ClinicSoundKind::clunks
                            ? peak
                            : std::sqrt(power / static_cast<double>(std::max<std::size_t>(1, part.size())));
    if (size == 0.0) {
        return out;
    }
    const double gain = std::pow(10.0, sound.level_db / 20.0) / size;
    const double ramp = std::min(ramp_s * rate_hz, 0.5 * static_cast<double>(part.size()));
    const bool whole = sound.kind == ClinicSoundKind::clunks;
    for (std::size_t n = 0; n < part.size(); ++n) {
        const double edge = static_cast<double>(std::min(n, part.size() - 1 - n));
        const double ease = whole || edge >= ramp ? 1.0 : 0.5 - 0.5 * std::cos(std::numbers::pi * edge / ramp);
        out[from + n] = gain * ease * part[n];
    }
    return out;
}

} // namespace retap::bite
