#include "compare/landing_difference.hpp"

#include "compare/scatter_matrix.hpp"
#include "dsp/robust.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <map>
#include <random>
#include <vector>

namespace retap::compare {
namespace {

constexpr std::size_t lags = dsp::landing_lags_ms.size();
using Row = std::vector<double>;

Row mean_of(std::span<const Row> rows) {
    Row mean(rows.front().size(), 0.0);
    for (const Row& row : rows) {
        for (std::size_t i = 0; i < mean.size(); ++i) {
            mean[i] += row[i] / static_cast<double>(rows.size());
        }
    }
    return mean;
}

/// The chosen taps of a table with their sides and takes.
class Sides {
public:
    Sides(const dsp::LandingTable& table, std::vector<std::size_t> taps, std::span<const std::size_t> side,
          std::span<const std::size_t> take, const LandingDifferenceSettings& settings)
        : table_(table), taps_(std::move(taps)), side_(side), take_(take), settings_(settings) {}

    [[nodiscard]] double distance() const {
        std::array<std::map<std::size_t, std::vector<Row>>, 2> rows; // by side and take
        for (const std::size_t tap : taps_) {
            rows.at(side_[tap])[take_[tap]].push_back(describe(tap));
        }
        ScatterMatrix within(2 * lags);
        std::size_t degrees = 0;
        std::array<Row, 2> centre;
        double share = 0.0;        // variance of the difference of centres, in variances of a tap
        double reseat_share = 0.0; // and in variances of a seat
        std::vector<Row> seats;    // how far each take's centre is from its side's
        std::size_t repeats = 0;
        for (std::size_t s = 0; s < 2; ++s) {
            std::vector<Row> all;
            std::vector<Row> centres;
            for (const auto& [number, take] : rows.at(s)) {
                centres.push_back(mean_of(take));
                within.add(take, centres.back());
                degrees += take.size() - 1;
                all.insert(all.end(), take.begin(), take.end());
            }
            centre.at(s) = mean_of(all);
            share += 1.0 / static_cast<double>(all.size());
            reseat_share += 0.5 / static_cast<double>(centres.size());
            repeats += centres.size() - 1;
            for (const Row& c : centres) {
                Row off(c.size());
                std::ranges::transform(c, mean_of(centres), off.begin(), std::minus<>());
                seats.push_back(std::move(off));
            }
        }
        const double reseat = reseat_variance(seats, repeats, within, degrees) * reseat_share;
        for (std::size_t i = 0; i < within.size(); ++i) {
            for (std::size_t j = 0; j < within.size(); ++j) {
                within.at(i, j) *= share / static_cast<double>(std::max<std::size_t>(1, degrees)) *
                                   (i == j ? 1.0 : 1.0 - settings_.independence);
            }
            within.at(i, i) += reseat;
        }
        Row difference(2 * lags);
        std::ranges::transform(centre[1], centre[0], difference.begin(), std::minus<>());
        return std::sqrt(within.squared_distance(difference).value_or(0.0));
    }

private:
    /// A tap's landing as seen against the taps of either side.
    [[nodiscard]] Row describe(std::size_t tap) const {
        Row row(2 * lags, 0.0);
        std::array<double, 2> partners{};
        for (const std::size_t other : taps_) {
            if (!table_.known(tap, other)) {
                continue;
            }
            const std::span<const float> seen = table_.row(tap, other);
            const std::size_t at = side_[other] * lags;
            for (std::size_t i = 0; i < lags; ++i) {
                row[at + i] += static_cast<double>(seen[i]);
            }
            partners.at(side_[other]) += 1.0;
        }
        for (std::size_t i = 0; i < row.size(); ++i) {
            row[i] /= std::max(1.0, partners.at(i / lags));
        }
        return row;
    }

    /// Mean variance of a figure between seats: the default, and what repeats show beyond the scatter of the taps.
    [[nodiscard]] double reseat_variance(const std::vector<Row>& seats, std::size_t repeats,
                                         const ScatterMatrix& within, std::size_t degrees) const {
        const double usual = settings_.reseat_db * settings_.reseat_db;
        if (repeats == 0) {
            return usual;
        }
        double between = 0.0;
        double by_taps = 0.0;
        for (std::size_t i = 0; i < within.size(); ++i) {
            for (const Row& seat : seats) {
                between += seat[i] * seat[i] / static_cast<double>(repeats);
            }
            by_taps += within.at(i, i) / static_cast<double>(std::max<std::size_t>(1, degrees));
        }
        const double taps_a_take = static_cast<double>(taps_.size()) / static_cast<double>(seats.size());
        // Half of the difference between two seats is one seat's variance, doubled again as the default counts both
        // sides.
        const double seen = 2.0 * std::max(0.0, between - by_taps / taps_a_take) / static_cast<double>(within.size());
        const auto weight = static_cast<double>(settings_.reseat_weight);
        const auto count = static_cast<double>(repeats);
        return (weight * usual + count * seen) / (weight + count);
    }

    const dsp::LandingTable& table_;
    std::vector<std::size_t> taps_;
    std::span<const std::size_t> side_;
    std::span<const std::size_t> take_;
    LandingDifferenceSettings settings_;
};

} // namespace

LandingDifference landing_difference(const dsp::LandingTable& table, std::span<const std::size_t> side,
                                     std::span<const std::size_t> take, const LandingDifferenceSettings& settings) {
    const std::size_t n = table.taps();
    assert(side.size() == n && take.size() == n);
    assert(std::ranges::count(side, 0U) >= 2 && std::ranges::count(side, 1U) >= 2);
    std::vector<std::size_t> all(n);
    for (std::size_t i = 0; i < n; ++i) {
        all[i] = i;
    }
    const double distance = Sides(table, all, side, take, settings).distance();

    // Labels are shuffled as pairs of side and take, so that sizes stay as they are.
    std::mt19937 random(settings.seed);
    std::vector<std::size_t> order(all);
    std::vector<std::size_t> shuffled_side(n);
    std::vector<std::size_t> shuffled_take(n);
    std::vector<double> usual;
    for (std::size_t k = 0; k < settings.relabellings; ++k) {
        for (std::size_t i = n - 1; i > 0; --i) { // spelled out: std::shuffle may differ between libraries
            std::swap(order[i], order[random() % (i + 1)]);
        }
        for (std::size_t i = 0; i < n; ++i) {
            shuffled_side[i] = side[order[i]];
            shuffled_take[i] = take[order[i]];
        }
        usual.push_back(Sides(table, all, shuffled_side, shuffled_take, settings).distance());
    }
    const double middle = dsp::median(usual);
    if (middle <= 0.0) {
        return {.ratio = distance > 0.0 ? std::numeric_limits<double>::infinity() : 0.0, .standard_error = 0.0};
    }

    std::vector<double> without;
    for (std::size_t left_out = 0; left_out < n; ++left_out) {
        std::vector<std::size_t> rest;
        for (std::size_t i = 0; i < n; ++i) {
            if (i != left_out) {
                rest.push_back(i);
            }
        }
        without.push_back(Sides(table, rest, side, take, settings).distance() / middle);
    }
    double mean = 0.0;
    for (const double w : without) {
        mean += w / static_cast<double>(n);
    }
    double squares = 0.0;
    for (const double w : without) {
        squares += (w - mean) * (w - mean);
    }
    return {.ratio = distance / middle,
            .standard_error = std::sqrt(squares * static_cast<double>(n - 1) / static_cast<double>(n))};
}

} // namespace retap::compare
