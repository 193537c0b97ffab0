#include "bite/random.hpp"

#include <bit>
#include <cassert>
#include <cmath>
#include <numbers>

namespace retap::bite {

namespace {
std::uint64_t split_mix(std::uint64_t& x) {
    x += 0x9E3779B97F4A7C15ULL;
    std::uint64_t z = x;
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9ULL;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBULL;
    return z ^ (z >> 31);
}
} // namespace

Random::Random(std::uint64_t seed, std::string_view stream) {
    std::uint64_t x = seed;
    std::uint64_t mixed = split_mix(x);
    for (const char c : stream) { // FNV-1a over the name, started from the mixed seed
        mixed = (mixed ^ static_cast<unsigned char>(c)) * 0x100000001B3ULL;
    }
    for (auto& word : state_) {
        word = split_mix(mixed);
    }
}

std::uint64_t Random::bits() {
    const std::uint64_t result = std::rotl(state_[1] * 5, 7) * 9;
    const std::uint64_t t = state_[1] << 17;
    state_[2] ^= state_[0];
    state_[3] ^= state_[1];
    state_[1] ^= state_[2];
    state_[0] ^= state_[3];
    state_[2] ^= t;
    state_[3] = std::rotl(state_[3], 45);
    return result;
}

double Random::uniform(double low, double high) {
    return low + (high - low) * (static_cast<double>(bits() >> 11) * 0x1.0p-53);
}

double Random::log_uniform(double low, double high) {
    assert(low > 0.0 && high > 0.0);
    return std::exp(uniform(std::log(low), std::log(high)));
}

double Random::normal(double mean, double sd) {
    const double radius = std::sqrt(-2.0 * std::log(1.0 - uniform(0.0, 1.0)));
    return mean + sd * radius * std::cos(2.0 * std::numbers::pi * uniform(0.0, 1.0));
}

double Random::log_normal(double median, double sigma) {
    return median * std::exp(normal(0.0, sigma));
}

std::size_t Random::below(std::size_t count) {
    assert(count > 0);
    return static_cast<std::size_t>(bits() % count);
}

} // namespace retap::bite
