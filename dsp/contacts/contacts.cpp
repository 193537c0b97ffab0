#include "dsp/contacts/contacts.hpp"

#include "dsp/base/quiet.hpp"
#include "dsp/base/statistics.hpp"
#include "dsp/contacts/resolution.hpp"
#include "dsp/contacts/second_arrival.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

namespace retap::dsp {

namespace {

struct Candidate {
    double gap_ms = 0.0;
    SecondArrival arrival;
};

bool explains_too_little(const Candidate& c, const ContactSettings& settings) {
    return c.arrival.gain < settings.min_gain;
}

bool is_ringing(const Candidate& c, const ContactSettings& settings) {
    const double ratio_db = Level::from_amplitude(c.arrival.ratio).db();
    const bool alike = std::abs(ratio_db) <= settings.alike.db();
    const double least = alike          ? settings.min_over_ringing
                         : ratio_db < 0 ? settings.min_over_ringing_if_later
                                        : settings.min_over_ringing_if_earlier;
    return c.arrival.gain - c.arrival.train_gain < least;
}

bool is_too_weak(const Candidate& c, const ContactSettings& settings) {
    const Level ratio = Level::from_amplitude(c.arrival.ratio);
    return ratio < settings.min_later || Level(-ratio.db()) < settings.min_earlier;
}

bool is_too_near(const Candidate& c, double resolution_ms) {
    return c.gap_ms < resolution_ms;
}

double rms(std::span<const float> x) {
    return x.empty() ? 0.0 : std::sqrt(autocorrelation(x, 0)[0] / static_cast<double>(x.size()));
}

// Looks for the second arrival in one whitened tap.
class Listener {
public:
    Listener(SampleRate rate, const ContactSettings& settings) : rate_(rate) {
        const auto whole = [&](double ms) { return static_cast<std::size_t>(std::lround(samples(ms))); };
        const std::size_t lead = whole(1.0);
        short_ = {.shortest = std::max<std::size_t>(whole(settings.shortest_ms), 2),
                  .longest = whole(settings.short_gap_ms),
                  .decay = samples(settings.short_decay_ms),
                  .lead = lead};
        long_ = {.shortest = whole(0.85 * settings.short_gap_ms), // an overlap, so that no gap lies at an edge
                 .longest = whole(settings.longest_ms),
                 .decay = samples(settings.long_decay_ms),
                 .lead = lead};
    }

    [[nodiscard]] std::optional<Candidate> listen(const TapSound& tap, const LinearPrediction& model) const {
        const double onset = std::floor(tap.onset.samples());
        const double begin = onset - static_cast<double>(short_.lead);
        if (begin < 0.0 || onset >= static_cast<double>(tap.samples.size())) {
            return std::nullopt;
        }
        const auto first = static_cast<std::size_t>(begin);
        const std::size_t needed = first + stretch_length(long_);
        const std::vector<float> white =
            prediction_residual(tap.samples.first(std::min(needed, tap.samples.size())), model);
        // the filter's first output values know nothing of what was before
        const std::size_t settled = std::min(model.coefficients.size(), first);
        const auto quiet = quiet_before(white, Position(begin), Length(samples(1.0)));
        const double noise = rms(quiet.subspan(std::min(settled, quiet.size())));

        std::optional<Candidate> best;
        for (const ArrivalSearch& search : {short_, long_}) {
            const std::span<const float> rest = std::span(white).subspan(first);
            const auto found =
                find_second_arrival(rest.first(std::min(stretch_length(search), rest.size())), noise, search);
            if (found && (!best || found->gain > best->arrival.gain)) {
                best = Candidate{.gap_ms = Length(found->lag).ms(rate_), .arrival = *found};
            }
        }
        return best;
    }

private:
    [[nodiscard]] double samples(double ms) const { return Length::from_ms(ms, rate_).samples(); }
    // from the lead to where the longest gap still has twice its own time, or three time constants of the weighting
    [[nodiscard]] static std::size_t stretch_length(const ArrivalSearch& search) {
        return search.lead + std::max(2 * search.longest, static_cast<std::size_t>(3.0 * search.decay));
    }

    SampleRate rate_;
    ArrivalSearch short_;
    ArrivalSearch long_;
};

ContactTrain one_contact(double resolution_ms) {
    return {.contacts = {{.at_ms = 0.0, .strength = 1.0}}, .onset_spread_ms = 0.0, .resolution_ms = resolution_ms};
}

ContactTrain two_contacts(double gap_ms, double ratio, double resolution_ms) {
    const double strongest = std::max(1.0, ratio);
    return {.contacts = {{.at_ms = 0.0, .strength = 1.0 / strongest}, {.at_ms = gap_ms, .strength = ratio / strongest}},
            .onset_spread_ms = gap_ms,
            .resolution_ms = resolution_ms};
}

using Candidates = std::span<const std::optional<Candidate>>;

// Each tap's likeliest gap, for taps that mostly agree about it; nothing else is worth a guess.
std::vector<double> guesses(Candidates candidates, const ContactSettings& settings) {
    std::vector<double> gaps;
    for (const auto& c : candidates) {
        gaps.push_back(c && c->gap_ms > 0.0 ? c->gap_ms : settings.longest_ms);
    }
    const double middle = gaps.empty() ? 0.0 : median(gaps);
    const auto agree = std::ranges::count_if(
        gaps, [&](double gap) { return std::abs(gap / middle - 1.0) < settings.shift.widest_scatter; });
    return 2 * static_cast<std::size_t>(agree) > gaps.size() ? gaps : std::vector<double>{};
}

// Whether the taps differ by the shift of a second contact, rather than by chance or in other ways.
bool shift_counts(const ShiftingArrivals& found, const ContactSettings& settings) {
    const double explained = (1.0 - found.left) * found.over_noise;
    const double else_left = std::max(0.0, found.left * found.over_noise - 1.0);
    return found.over_noise >= settings.min_over_noise && explained >= settings.min_over_chance * found.chance &&
           explained >= settings.min_explained * (explained + else_left);
}

// Contacts of all taps by the way they shift; empty when they do not, or when most taps show no second one.
std::vector<ContactTrain> shifting_contacts(std::span<const TapSound> taps, Candidates candidates, SampleRate rate,
                                            double resolution_ms, const ContactSettings& settings) {
    const auto found = find_shifting_arrivals(taps, rate, guesses(candidates, settings), settings.shift);
    if (!found || !shift_counts(*found, settings)) {
        return {};
    }
    std::vector<double> gaps;
    for (const Playing& p : found->playing) {
        gaps.push_back(p.lag_ms);
    }
    const double middle = median(gaps);
    std::vector<ContactTrain> trains;
    std::size_t pairs = 0;
    for (const Playing& p : found->playing) {
        const Level ratio = Level::from_amplitude(p.ratio);
        const bool counts = std::abs(ratio.db()) <= -settings.min_shifting.db() && p.lag_ms >= resolution_ms &&
                            std::abs(p.lag_ms / middle - 1.0) <= settings.shift.widest_scatter;
        pairs += counts ? 1U : 0U;
        trains.push_back(counts ? two_contacts(p.lag_ms, p.ratio, resolution_ms) : one_contact(resolution_ms));
    }
    return 2 * pairs > taps.size() ? trains : std::vector<ContactTrain>{};
}

// Contacts of each tap by itself, as far as at least half of the taps agree: what is heard in a few taps only is more
// often an accident of the sound than a contact that the others have not.
std::vector<ContactTrain> arriving_twice(Candidates candidates, double resolution_ms, const ContactSettings& settings) {
    std::vector<double> gaps;
    for (const auto& c : candidates) {
        const bool counts = c && !explains_too_little(*c, settings) && !is_ringing(*c, settings) &&
                            !is_too_weak(*c, settings) && !is_too_near(*c, resolution_ms);
        gaps.push_back(counts ? c->gap_ms : 0.0);
    }
    std::vector<double> heard = gaps;
    std::erase(heard, 0.0);
    const double middle = heard.empty() ? 1.0 : median(heard);
    const auto agrees = [&](double gap) { return std::abs(gap / middle - 1.0) < settings.shift.widest_scatter; };
    const bool usual = 2 * static_cast<std::size_t>(std::ranges::count_if(gaps, agrees)) >= gaps.size();
    std::vector<ContactTrain> trains;
    for (std::size_t i = 0; i < gaps.size(); ++i) {
        trains.push_back(usual && agrees(gaps[i]) ? two_contacts(gaps[i], candidates[i]->arrival.ratio, resolution_ms)
                                                  : one_contact(resolution_ms));
    }
    return trains;
}

} // namespace

std::vector<ContactTrain> resolve_contacts(std::span<const TapSound> taps, SampleRate rate,
                                           const ContactSettings& settings) {
    const LinearPrediction model = fit_linear_prediction(
        shared_autocorrelation(taps, rate, settings.order, settings.model), settings.order, settings.prediction);
    const double bandwidth = usable_bandwidth(taps, rate).hz();
    const double nearest_ms = bandwidth > 0.0 ? 1e3 / bandwidth : settings.longest_ms;
    const double resolution_ms = std::clamp(nearest_ms, settings.shortest_ms, settings.longest_ms);
    const Listener listener(rate, settings);
    std::vector<std::optional<Candidate>> candidates;
    for (const TapSound& tap : taps) {
        candidates.push_back(listener.listen(tap, model));
    }
    std::vector<ContactTrain> trains;
    trains.reserve(taps.size());
    const std::size_t groups = (taps.size() + settings.most_together - 1) / settings.most_together;
    for (std::size_t g = 0; g < groups; ++g) {
        const std::size_t begin = g * taps.size() / groups;
        const std::size_t count = (g + 1) * taps.size() / groups - begin;
        const Candidates here = std::span(candidates).subspan(begin, count);
        const std::vector<ContactTrain> shifting =
            shifting_contacts(taps.subspan(begin, count), here, rate, resolution_ms, settings);
        const std::vector<ContactTrain> found =
            shifting.empty() ? arriving_twice(here, resolution_ms, settings) : shifting;
        trains.insert(trains.end(), found.begin(), found.end());
    }
    return trains;
}

} // namespace retap::dsp
