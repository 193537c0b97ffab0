#include "compare/tap_groups.hpp"

#include <algorithm>
#include <cassert>
#include <functional>
#include <map>
#include <span>

namespace retap::compare {
namespace {

Row mean_of(std::span<const Row> rows) {
    Row mean(rows.front().size(), 0.0);
    for (const Row& row : rows) {
        for (std::size_t i = 0; i < mean.size(); ++i) {
            mean[i] += row[i] / static_cast<double>(rows.size());
        }
    }
    return mean;
}

} // namespace

GroupedRows::GroupedRows(const TapGroups& groups, const std::vector<Row>& rows)
    : figures_(rows[groups.kept.front()].size()), kept_(groups.kept.size()), within_(figures_) {
    std::array<std::map<std::size_t, std::vector<Row>>, 2> by_take;
    for (const std::size_t tap : groups.kept) {
        by_take.at(groups.side[tap])[groups.take[tap]].push_back(rows[tap]);
    }
    for (std::size_t s = 0; s < 2; ++s) {
        assert(!by_take.at(s).empty());
        std::vector<Row> all;
        std::vector<Row> centres;
        for (const auto& [number, take] : by_take.at(s)) {
            centres.push_back(mean_of(take));
            within_.add(take, centres.back());
            degrees_ += take.size() - 1;
            all.insert(all.end(), take.begin(), take.end());
        }
        centre_.at(s) = mean_of(all);
        variance_share_ += 1.0 / static_cast<double>(all.size());
        seat_share_ += 0.5 / static_cast<double>(centres.size());
        takes_ += centres.size();
        const Row middle = mean_of(centres);
        for (const Row& centre : centres) {
            for (std::size_t i = 0; i < figures_; ++i) {
                between_takes_ += (centre[i] - middle[i]) * (centre[i] - middle[i]);
            }
        }
    }
}

Row GroupedRows::difference() const {
    Row out(figures_);
    std::ranges::transform(centre_[1], centre_[0], out.begin(), std::minus<>());
    return out;
}

const ScatterMatrix& GroupedRows::within() const {
    return within_;
}

std::size_t GroupedRows::degrees() const {
    return degrees_;
}

double GroupedRows::variance_share() const {
    return variance_share_;
}

double GroupedRows::seat_share() const {
    return seat_share_;
}

std::size_t GroupedRows::repeats() const {
    return takes_ - 2;
}

double GroupedRows::seat_variance() const {
    if (repeats() == 0) {
        return 0.0;
    }
    double by_taps = 0.0; // variance of a tap, summed over figures
    for (std::size_t i = 0; i < figures_; ++i) {
        by_taps += within_.at(i, i) / static_cast<double>(std::max<std::size_t>(1, degrees_));
    }
    const double taps_a_take = static_cast<double>(kept_) / static_cast<double>(takes_);
    const double one_seat = between_takes_ / static_cast<double>(repeats()) - by_taps / taps_a_take;
    return 2.0 * std::max(0.0, one_seat) / static_cast<double>(figures_); // between two seats: twice that of one
}

} // namespace retap::compare
