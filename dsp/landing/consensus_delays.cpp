#include "dsp/landing/consensus_delays.hpp"

#include "dsp/base/statistics.hpp"

#include <cassert>
#include <utility>

namespace retap::dsp {

std::vector<double> consensus_delays(std::span<const double> apart, std::size_t count) {
    assert(apart.size() == count * count);
    constexpr int rounds = 5;
    std::vector<double> places(count, 0.0);
    for (int round = 0; round < rounds; ++round) {
        std::vector<double> moved(count);
        for (std::size_t i = 0; i < count; ++i) {
            std::vector<double> wanted;
            for (std::size_t j = 0; j < count; ++j) { // its own place among them, so that two do not swap for ever
                wanted.push_back(apart[i * count + j] + places[j]);
            }
            moved[i] = median(wanted);
        }
        places = std::move(moved);
    }
    return places;
}

} // namespace retap::dsp
