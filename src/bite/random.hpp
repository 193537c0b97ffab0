// Random numbers that are the same on every machine and compiler: the standard's distributions are not.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string_view>

namespace retap::bite {

/// One stream of random numbers, fixed by a seed and the name of what it is for; streams of one seed are independent.
/// xoshiro256** (Blackman and Vigna 2021, ACM Trans Math Softw 47:36) seeded by SplitMix64. Not for secrets.
class Random {
public:
    Random(std::uint64_t seed, std::string_view stream);

    [[nodiscard]] std::uint64_t bits();
    /// Uniform in [low, high).
    [[nodiscard]] double uniform(double low, double high);
    /// Uniform in its logarithm; both bounds positive (asserted).
    [[nodiscard]] double log_uniform(double low, double high);
    [[nodiscard]] double normal(double mean, double sd);
    /// Median times exp(N(0, sigma)).
    [[nodiscard]] double log_normal(double median, double sigma);
    /// Whole number in [0, count); count positive (asserted).
    [[nodiscard]] std::size_t below(std::size_t count);

private:
    std::uint64_t state_[4]{};
};

} // namespace retap::bite
