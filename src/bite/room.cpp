#include "bite/room.hpp"

#include "bite/random.hpp"

#include <array>
#include <cassert>
#include <cmath>
#include <vector>

namespace retap::bite {

namespace {

constexpr std::size_t lines = 8;

struct Line {
    std::vector<double> held;
    std::size_t at = 0;
    double gain = 0.0;
    double damp = 0.0; // of the one-pole low-pass in the loop
    double low = 0.0;
};

} // namespace

void add_room(std::span<double> sound, double rate_hz, const Room& room) {
    assert(rate_hz > 0.0 && room.reverberation_s > 0.0 && room.delay_s >= 0.0);
    Random random(room.seed, "room");
    std::array<Line, lines> net;
    for (std::size_t i = 0; i < lines; ++i) {
        const double delay_s = 0.009 * std::exp2(1.8 * (static_cast<double>(i) + random.uniform(-0.3, 0.3)) / lines);
        Line& line = net.at(i);
        line.held.assign(static_cast<std::size_t>(delay_s * rate_hz) + 1, 0.0);
        line.gain = std::pow(10.0, -3.0 * delay_s / room.reverberation_s);
        line.damp = 0.5 * (1.0 - line.gain); // at half the rate the loop loses twice the decibels, near enough
    }
    const auto wait = static_cast<std::size_t>(room.delay_s * rate_hz);
    std::vector<double> tail(sound.size(), 0.0);
    double dry_energy = 0.0;
    double wet_energy = 0.0;
    for (std::size_t n = 0; n < sound.size(); ++n) {
        std::array<double, lines> out{};
        double sum = 0.0;
        for (std::size_t i = 0; i < lines; ++i) {
            Line& line = net.at(i);
            line.low = (1.0 - line.damp) * line.held[line.at] + line.damp * line.low;
            out.at(i) = line.gain * line.low;
            sum += out.at(i);
            tail[n] += (i % 2 == 0 ? 1.0 : -1.0) * out.at(i);
        }
        const double in = n >= wait ? sound[n - wait] : 0.0;
        for (std::size_t i = 0; i < lines; ++i) {
            Line& line = net.at(i);
            line.held[line.at] = in + out.at(i) - 2.0 / lines * sum;
            line.at = (line.at + 1) % line.held.size();
        }
        dry_energy += sound[n] * sound[n];
        wet_energy += tail[n] * tail[n];
    }
    if (wet_energy == 0.0) {
        return;
    }
    const double gain = std::sqrt(dry_energy / wet_energy) * std::pow(10.0, room.level_db / 20.0);
    for (std::size_t n = 0; n < sound.size(); ++n) {
        sound[n] += gain * tail[n];
    }
}

} // namespace retap::bite
