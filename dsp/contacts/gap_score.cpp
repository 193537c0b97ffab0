#include "dsp/contacts/gap_score.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <functional>
#include <utility>

namespace retap::dsp {

namespace {

// What is left of `column` beside the directions in `base`, brought to length 1; empty when nothing is.
Spectrum beside(Spectrum column, const std::vector<Spectrum>& base) {
    const double before = dot(column, column);
    for (const Spectrum& b : base) {
        const double share = dot(column, b);
        for (std::size_t f = 0; f < column.size(); ++f) {
            column[f] -= share * b[f];
        }
    }
    const double after = dot(column, column);
    if (after <= 1e-9 * before) {
        return {};
    }
    std::ranges::transform(column, column.begin(), [k = 1.0 / std::sqrt(after)](Complex v) { return k * v; });
    return column;
}

Spectrum sloped(const TapSpectra& s, const Spectrum& column) {
    Spectrum out(column.size());
    for (std::size_t f = 0; f < column.size(); ++f) {
        const double w = s.first_radians + s.step_radians * static_cast<double>(f);
        out[f] = {-w * column[f].imag(), w * column[f].real()};
    }
    return out;
}

// Every third frequency: enough for gaps up to 3 ms.
TapSpectra thinned(const TapSpectra& s) {
    TapSpectra out{.first_radians = s.first_radians, .step_radians = 3.0 * s.step_radians};
    for (const Spectrum& tap : s.taps) {
        out.taps.emplace_back();
        for (std::size_t f = 0; f < tap.size(); f += 3) {
            out.taps.back().push_back(tap[f]);
        }
    }
    return out;
}

} // namespace

std::vector<GapPromise> score_gaps(const TapSpectra& aligned, const GapSearch& search) {
    assert(!aligned.taps.empty());
    const TapSpectra s = thinned(aligned);
    Spectrum mean(s.taps.front().size(), Complex(0.0));
    std::vector<Spectrum> differences = s.taps;
    for (const Spectrum& tap : differences) {
        std::ranges::transform(mean, tap, mean.begin(),
                               [n = static_cast<double>(s.taps.size())](Complex a, Complex b) { return a + b / n; });
    }
    std::vector<Spectrum> base;
    for (Spectrum column : {mean, sloped(s, mean)}) {
        column = beside(std::move(column), base);
        if (column.empty()) {
            return {};
        }
        base.push_back(std::move(column));
    }
    double all = 0.0;
    for (Spectrum& d : differences) {
        std::ranges::transform(d, mean, d.begin(), std::minus<>());
        for (const Spectrum& b : base) {
            const double share = dot(d, b);
            for (std::size_t f = 0; f < d.size(); ++f) {
                d[f] -= share * b[f];
            }
        }
        all += dot(d, d);
    }
    const auto explained_by = [&](const Spectrum& later) {
        std::vector<Spectrum> directions = base;
        for (Spectrum column : {later, sloped(s, later)}) {
            column = beside(std::move(column), directions);
            if (!column.empty()) {
                directions.push_back(std::move(column));
            }
        }
        double explained = 0.0;
        for (const Spectrum& direction : std::span(directions).subspan(base.size())) {
            for (const Spectrum& d : differences) {
                const double share = dot(d, direction);
                explained += share * share;
            }
        }
        return explained / std::max(all, 1e-300);
    };
    std::vector<GapPromise> promises;
    const auto steps = static_cast<std::size_t>((search.longest_ms - search.shortest_ms) / search.step_ms) + 1;
    const auto promise_of = [&](double gap) {
        GapPromise best{.gap_ms = gap};
        for (const double ratio : {0.4, 0.8}) {
            Phasor phasor = s.phasor(gap);
            Spectrum later(mean.size());
            for (std::size_t f = 0; f < mean.size(); ++f) {
                const Complex z = phasor.next();
                const Complex both = 1.0 + ratio * z;
                later[f] = times(times(mean[f], z), std::conj(both)) / std::norm(both);
            }
            const double explained = explained_by(later);
            if (explained > best.explained) {
                best.ratio = ratio;
                best.explained = explained;
            }
        }
        return best;
    };
    for (const double side : {1.0, -1.0}) { // after the stronger arrival, and before it
        for (std::size_t k = 0; k < steps; ++k) {
            promises.push_back(promise_of(side * (search.shortest_ms + search.step_ms * static_cast<double>(k))));
        }
    }
    return promises;
}

} // namespace retap::dsp
