#include "validate/pairs.hpp"

#include "compare/compare_takes.hpp"
#include "compare/roc.hpp"
#include "validate/known_contacts.hpp"
#include "validate/onset_bias.hpp"

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

std::vector<double> distances(std::span<const PairResult> pairs, const Family& family, std::string_view condition,
                              std::size_t measure) {
    std::vector<double> out;
    for (const PairResult& pair : pairs) {
        if (pair.family == family && conditions.at(pair.condition).name == condition) {
            out.push_back(pair.distance.at(measure));
        }
    }
    return out;
}

std::vector<dsp::TakeAnalysis> sounds_of(std::span<const HeardTake> takes) {
    std::vector<dsp::TakeAnalysis> sounds;
    sounds.reserve(takes.size());
    for (const HeardTake& take : takes) {
        sounds.push_back(take.heard);
    }
    return sounds;
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

PairResult judge(const Family& family, std::size_t condition, std::span<const HeardTake> before,
                 std::span<const HeardTake> after) {
    const std::vector<dsp::TakeAnalysis> then = sounds_of(before);
    const std::vector<dsp::TakeAnalysis> now = sounds_of(after);
    compare::Comparison comparison = compare::compare_takes(then, now, compare::Setting::same);
    const HeardTake& first = before.front();
    const HeardTake& second = after.front();
    PairResult result{.family = family,
                      .patient = first.scenario.patient,
                      .condition = condition,
                      .likeness = comparison.likeness.score,
                      .likeness_low = comparison.likeness.low,
                      .likeness_high = comparison.likeness.high,
                      .verdict = comparison.verdict,
                      .measures = std::move(comparison.measures),
                      .fit = {first.heard.fitness.usable, second.heard.fitness.usable},
                      .snr_db = {first.heard.fitness.snr_db, second.heard.fitness.snr_db},
                      .onset_bias_ms = {onset_bias_ms(first), onset_bias_ms(second)},
                      .truth = {take_truth(first.truth), take_truth(second.truth)}};
    const auto rivals = rival_distances(first.rivals, second.rivals);
    result.distance.front() = 100.0 - comparison.likeness.score;
    std::ranges::copy(rivals, result.distance.begin() + 1);
    result.distance.at(rival_count + 1) = known_times_distance(first, second);
    result.distance.at(rival_count + 2) = known_teeth_distance(first, second);
    return result;
}

std::vector<Family> families_of(std::span<const PairResult> pairs) {
    std::vector<Family> families;
    for (const PairResult& pair : pairs) {
        if (std::ranges::find(families, pair.family) == families.end()) {
            families.push_back(pair.family);
        }
    }
    return families;
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

Area area(std::span<const PairResult> pairs, const Family& family, std::string_view condition, std::size_t measure) {
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

Share verdict_share(std::span<const PairResult> pairs, const Family& family, std::string_view condition,
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

std::vector<Band> calibration(std::span<const PairResult> pairs, const Family& family) {
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
