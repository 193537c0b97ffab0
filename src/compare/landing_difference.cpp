#include "compare/landing_difference.hpp"

#include "compare/on_cores.hpp"
#include "compare/scatter_matrix.hpp"
#include "compare/tap_groups.hpp"
#include "dsp/base/statistics.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <functional>
#include <limits>
#include <numeric>
#include <random>
#include <vector>

namespace retap::compare {
namespace {

constexpr std::size_t lags = dsp::phat_lags_ms.size();

/// A tap's landing as seen against the taps of either side, of the taps that are kept.
Row describe(const dsp::LandingTable& table, const TapGroups& groups, std::size_t tap) {
    Row row(2 * lags, 0.0);
    std::array<double, 2> partners{};
    for (const std::size_t other : groups.kept) {
        if (!table.known(tap, other)) {
            continue;
        }
        const std::span<const float> seen = table.row(tap, other);
        const std::size_t at = groups.side[other] * lags;
        for (std::size_t i = 0; i < lags; ++i) {
            row[at + i] += static_cast<double>(seen[i]);
        }
        partners.at(groups.side[other]) += 1.0;
    }
    for (std::size_t i = 0; i < row.size(); ++i) {
        row[i] /= std::max(1.0, partners.at(i / lags));
    }
    return row;
}

GroupedRows describe_all(const dsp::LandingTable& table, const TapGroups& groups) {
    std::vector<Row> rows(table.taps());
    for (const std::size_t tap : groups.kept) {
        rows[tap] = describe(table, groups, tap);
    }
    return {groups, rows};
}

double distance(const GroupedRows& rows, const ScatterMatrix& seats, const LandingDifferenceSettings& settings) {
    ScatterMatrix spread = rows.within();
    const double share = rows.variance_share() / static_cast<double>(std::max<std::size_t>(1, rows.degrees()));
    for (std::size_t i = 0; i < spread.size(); ++i) {
        for (std::size_t j = 0; j < spread.size(); ++j) {
            spread.at(i, j) *= share * (i == j ? 1.0 : 1.0 - settings.independence);
            spread.at(i, j) += seats.at(i, j);
        }
        spread.at(i, i) += settings.residual_db * settings.residual_db;
    }
    return std::sqrt(spread.squared_distance(rows.difference()).value_or(0.0));
}

/// How far apart the seats of two sides are, in standard deviations of the settings' scatter between two single seats:
/// what repeats show beyond the scatter of the taps counts beside the assumption, and more takes a side lie closer.
double seat_strength(const GroupedRows& rows, const LandingDifferenceSettings& settings) {
    const auto weight = static_cast<double>(settings.seat_weight);
    const auto repeats = static_cast<double>(rows.repeats());
    const double usual = settings.seat_figure_db * settings.seat_figure_db;
    const double seen = rows.seat_variance() / usual;
    const double factor = (weight + repeats * seen) / (weight + repeats);
    return std::sqrt(factor * rows.seat_share());
}

/// Which taps go through the filter: those of one side of the labelling.
std::vector<char> one_side(const TapGroups& groups, std::size_t chosen_side) {
    std::vector<char> chosen(groups.side.size());
    std::ranges::transform(groups.side, chosen.begin(),
                           [chosen_side](std::size_t s) { return s == chosen_side ? '\1' : '\0'; });
    return chosen;
}

/// The taps in order, those of `first_side` ahead of the others.
std::vector<std::size_t> listed(const TapGroups& groups, std::size_t first_side) {
    std::vector<std::size_t> order(groups.side.size());
    std::iota(order.begin(), order.end(), 0U);
    std::stable_partition(order.begin(), order.end(), [&](std::size_t tap) { return groups.side[tap] == first_side; });
    return order;
}

/// Each tap of the list gets side and take of the one that stands where `order` says: they move as pairs, so that sizes
/// stay as they are.
TapGroups relabelled(const TapGroups& groups, std::span<const std::size_t> list, std::span<const std::size_t> order) {
    TapGroups shuffled = groups;
    for (std::size_t i = 0; i < list.size(); ++i) {
        shuffled.side[list[i]] = groups.side[list[order[i]]];
        shuffled.take[list[i]] = groups.take[list[order[i]]];
    }
    return shuffled;
}

/// All that is needed to tell two sides apart, however the taps are labelled.
class Judge {
public:
    Judge(dsp::LandingSounds& sounds, dsp::SampleRate rate, const TapGroups& groups,
          const LandingDifferenceSettings& settings)
        : sounds_(sounds), rate_(rate), settings_(settings), plain_(sounds.relate()),
          rows_(describe_all(plain_, groups)), strength_(seat_strength(rows_, settings)), seats_(2 * lags) {
        const Row here = rows_.difference();
        const auto phases = draw(settings.seats, settings.seed);
        std::vector<Row> moves(2 * phases.size()); // either side through each seat
        on_cores(sounds_, moves.size(), [&](dsp::LandingSounds& own, std::size_t i) {
            const dsp::LandingTable table = own.relate_recoloured(plain_, one_side(groups, i % 2), phases[i / 2]);
            moves[i] = describe_all(table, groups).difference();
            std::ranges::transform(moves[i], here, moves[i].begin(), std::minus<>());
        });
        seats_.add(moves, Row(2 * lags, 0.0));
        for (std::size_t i = 0; i < seats_.size(); ++i) {
            for (std::size_t j = 0; j < seats_.size(); ++j) {
                seats_.at(i, j) /= static_cast<double>(std::max<std::size_t>(1, moves.size()));
            }
        }
        usual_filters_ = draw(settings.usual_seats, settings.seed + 1);
    }

    [[nodiscard]] double as_labelled() const { return distance(rows_, seats_, settings_); }

    /// Variance of the difference between the sides, in variances of a tap.
    [[nodiscard]] double variance_share() const { return rows_.variance_share(); }

    /// What the distance is when labels mean nothing and the pick-up was re-seated: each relabelling and its filter
    /// once with either side listed first, so that the answer does not hang on which one is.
    [[nodiscard]] std::vector<double> usual(const TapGroups& groups) const {
        const std::array lists{listed(groups, 0), listed(groups, 1)};
        const auto orders = random_orders(groups.side.size());
        std::vector<double> distances(2 * orders.size());
        on_cores(sounds_, distances.size(), [&](dsp::LandingSounds& own, std::size_t i) {
            const std::size_t first = i % 2;
            const TapGroups shuffled = relabelled(groups, lists.at(first), orders[i / 2]);
            const auto& phase = usual_filters_[i / 2 % usual_filters_.size()];
            const dsp::LandingTable table = own.relate_recoloured(plain_, one_side(shuffled, first), phase);
            distances[i] = distance(describe_all(table, shuffled), seats_, settings_);
        });
        return distances;
    }

private:
    [[nodiscard]] std::vector<std::vector<float>> draw(std::size_t count, unsigned seed) const {
        return dsp::draw_seat_phases(count, sounds_.bins(), rate_, strength_, seed, settings_.seat);
    }

    /// One order of the taps for each relabelling.
    [[nodiscard]] std::vector<std::vector<std::size_t>> random_orders(std::size_t taps) const {
        std::mt19937 random(settings_.seed);
        std::vector<std::size_t> order(taps);
        std::iota(order.begin(), order.end(), 0U);
        std::vector<std::vector<std::size_t>> orders;
        for (std::size_t k = 0; k < settings_.relabellings; ++k) {
            for (std::size_t i = order.size() - 1; i > 0; --i) { // spelled out: std::shuffle may differ
                std::swap(order[i], order[random() % (i + 1)]);
            }
            orders.push_back(order);
        }
        return orders;
    }

    dsp::LandingSounds& sounds_;
    dsp::SampleRate rate_;
    const LandingDifferenceSettings& settings_;
    dsp::LandingTable plain_;
    GroupedRows rows_;
    double strength_;
    ScatterMatrix seats_;
    std::vector<std::vector<float>> usual_filters_;
};

} // namespace

double landing_difference(dsp::LandingSounds& sounds, dsp::SampleRate rate, std::span<const std::size_t> side,
                          std::span<const std::size_t> take, const LandingDifferenceSettings& settings) {
    const std::size_t n = sounds.taps();
    assert(side.size() == n && take.size() == n && settings.usual_seats > 0);
    assert(std::ranges::count(side, 0U) >= 2 && std::ranges::count(side, 1U) >= 2);
    TapGroups groups{.side = {side.begin(), side.end()}, .take = {take.begin(), take.end()}, .kept = {}};
    groups.kept.resize(n);
    std::iota(groups.kept.begin(), groups.kept.end(), 0U);

    const Judge judge(sounds, rate, groups, settings);
    const double distance = judge.as_labelled();
    const std::vector<double> usual = judge.usual(groups);
    const double middle = dsp::median(usual);
    if (middle <= 0.0) {
        return distance > 0.0 ? std::numeric_limits<double>::infinity() : 0.0;
    }
    const double usual_share = 2.0 / static_cast<double>(settings.usual_taps);
    const double fewness = std::sqrt(judge.variance_share() / usual_share); // 1 with the usual number of taps
    return distance / middle * std::pow(fewness, settings.taps_power);
}

} // namespace retap::compare
