#include "validate/pairs.hpp"

#include "compare/compare_takes.hpp"
#include "compare/roc.hpp"
#include "validate/known_contacts.hpp"

#include <algorithm>
#include <cmath>

namespace retap::validate {

namespace {

constexpr double z95 = 1.959963985;

bool unchanged(const PairResult& pair) {
    return conditions.at(pair.condition).height_um == 0.0;
}

bool built_up(const PairResult& pair) {
    return conditions.at(pair.condition).height_um > 0.0;
}

std::vector<double> distances(std::span<const PairResult> pairs, Family family, std::string_view condition,
                              std::size_t measure) {
    std::vector<double> out;
    for (const PairResult& pair : pairs) {
        if (pair.family == family && conditions.at(pair.condition).name == condition) {
            out.push_back(pair.distance.at(measure));
        }
    }
    return out;
}

} // namespace

std::string_view measure_name(std::size_t measure) {
    if (measure == 0) {
        return "Retap";
    }
    if (measure <= rival_count) {
        return rival_names.at(measure - 1);
    }
    return measure == rival_count + 1 ? "if the contact times were known" : "if times and teeth were known";
}

PairResult judge(Family family, std::size_t condition, const HeardTake& before, const HeardTake& after) {
    const compare::Comparison comparison =
        compare::compare_takes(std::span(&before.heard, 1), std::span(&after.heard, 1));
    PairResult result{.family = family,
                      .patient = before.scenario.patient,
                      .condition = condition,
                      .likeness = comparison.likeness.score,
                      .likeness_low = comparison.likeness.low,
                      .likeness_high = comparison.likeness.high,
                      .verdict = comparison.verdict};
    const auto rivals = rival_distances(rival_features(before.heard), rival_features(after.heard));
    result.distance.front() = 100.0 - comparison.likeness.score;
    std::ranges::copy(rivals, result.distance.begin() + 1);
    result.distance.at(rival_count + 1) = known_times_distance(before, after);
    result.distance.at(rival_count + 2) = known_teeth_distance(before, after);
    return result;
}

Share share(double hits, double of) {
    if (of <= 0.0) {
        return {};
    }
    const double p = hits / of;
    const double scale = 1.0 + z95 * z95 / of;
    const double centre = (p + 0.5 * z95 * z95 / of) / scale;
    const double half = z95 * std::sqrt(p * (1.0 - p) / of + 0.25 * z95 * z95 / (of * of)) / scale;
    return {.hits = hits,
            .of = of,
            .value = p,
            .low = std::clamp(centre - half, 0.0, p),
            .high = std::clamp(centre + half, p, 1.0)};
}

Area area(std::span<const PairResult> pairs, Family family, std::string_view condition, std::size_t measure) {
    const auto low = distances(pairs, family, "unchanged", measure);
    const auto high = distances(pairs, family, condition, measure);
    if (low.empty() || high.empty()) {
        return {};
    }
    const compare::RocArea roc = compare::roc_area(low, high);
    return {.value = roc.area,
            .low = std::max(0.0, roc.area - z95 * roc.standard_error),
            .high = std::min(1.0, roc.area + z95 * roc.standard_error)};
}

Share verdict_share(std::span<const PairResult> pairs, Family family, std::string_view condition,
                    compare::Verdict verdict) {
    double hits = 0.0;
    double of = 0.0;
    for (const PairResult& pair : pairs) {
        if (pair.family == family && conditions.at(pair.condition).name == condition) {
            of += 1.0;
            hits += pair.verdict == verdict ? 1.0 : 0.0;
        }
    }
    return share(hits, of);
}

std::vector<Band> calibration(std::span<const PairResult> pairs, Family family) {
    constexpr std::array<double, 7> edges{0.0, 20.0, 40.0, 60.0, 80.0, 90.0, 100.0};
    double same = 0.0;
    double changed = 0.0;
    for (const PairResult& pair : pairs) {
        same += pair.family == family && unchanged(pair) ? 1.0 : 0.0;
        changed += pair.family == family && built_up(pair) ? 1.0 : 0.0;
    }
    std::vector<Band> bands;
    for (std::size_t b = 0; b + 1 < edges.size(); ++b) {
        Band band{.low = edges.at(b), .high = edges.at(b + 1)};
        const bool last = b + 2 == edges.size();
        double same_weight = 0.0;
        double all_weight = 0.0;
        double squares = 0.0;
        for (const PairResult& pair : pairs) {
            const bool inside =
                pair.likeness >= band.low && (pair.likeness < band.high || (last && pair.likeness <= band.high));
            if (pair.family != family || !inside || !(unchanged(pair) || built_up(pair))) {
                continue;
            }
            const double weight = unchanged(pair) ? 0.5 / same : 0.5 / changed; // the heights are equally many
            ++band.pairs;
            same_weight += unchanged(pair) ? weight : 0.0;
            all_weight += weight;
            squares += weight * weight;
        }
        if (band.pairs > 0) {
            band.unchanged = same_weight / all_weight;
            const double worth = all_weight * all_weight / squares;
            const Share interval = share(band.unchanged * worth, worth);
            band.unchanged_low = interval.low;
            band.unchanged_high = interval.high;
        }
        bands.push_back(band);
    }
    return bands;
}

} // namespace retap::validate
