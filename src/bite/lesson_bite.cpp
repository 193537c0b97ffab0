#include "bite/lesson_bite.hpp"

#include "dsp/base/statistics.hpp"

#include <algorithm>
#include <array>
#include <cassert>

namespace retap::bite {

namespace {

constexpr double usual_speed_m_per_s = 0.05;
constexpr double matters_share = 0.1;
constexpr double matters_within_s = 0.030; // before the muscles let go again

bool on_side(std::size_t pair, ArchSide side) {
    const bool right = pair < pair_count / 2;
    constexpr int first_premolar = 4;
    return right == (side == ArchSide::right) && upper_tooth_iso(pair) % 10 >= first_premolar;
}

BiteChange change_of(const LessonBite& bite) {
    BiteChange change{.heights = bite.heights, .slide = bite.slide};
    for (std::size_t pair = 0; bite.side && pair < pair_count; ++pair) {
        if (on_side(pair, bite.side->side)) {
            change.heights.push_back({.pair = pair, .height_um = bite.side->height_um});
        }
    }
    return change;
}

void furnish(Scenario& scenario, LessonRoom room) {
    if (room == LessonRoom::silent) {
        scenario.peak_over_noise_db = 60.0;
        return;
    }
    scenario.room = Room{};
    scenario.peak_over_noise_db = room == LessonRoom::quiet ? 45.0 : 34.0;
    if (room == LessonRoom::busy) {
        scenario.clinic = {{.kind = ClinicSoundKind::suction, .level_db = -32.0, .seed = scenario.take},
                           {.kind = ClinicSoundKind::clunks, .level_db = -16.0, .seed = scenario.take}};
    }
}

using Firsts = std::array<const ContactEvent*, pair_count>;

Firsts first_meetings(const TapTruth& tap) {
    Firsts firsts{};
    for (const ContactEvent& contact : tap.contacts) { // by time
        const ContactEvent*& first = firsts.at(contact.pair);
        first = first == nullptr ? &contact : first;
    }
    return firsts;
}

double spread_s(const TapTruth& tap, const Firsts& firsts) {
    double fastest = 0.0;
    for (const ContactEvent* first : firsts) {
        fastest = first == nullptr ? fastest : std::max(fastest, first->speed_m_per_s);
    }
    double last_s = tap.onset_s;
    for (const ContactEvent* first : firsts) {
        if (first != nullptr && first->speed_m_per_s >= matters_share * fastest &&
            first->at_s - tap.onset_s <= matters_within_s) {
            last_s = std::max(last_s, first->at_s);
        }
    }
    return last_s - tap.onset_s;
}

} // namespace

std::optional<std::size_t> pair_of_tooth(int iso) {
    constexpr int quadrants = 4;
    constexpr int second_molar = 7;
    const int place = iso % 10;
    int quadrant = iso / 10;
    if (iso < 0 || quadrant < 1 || quadrant > quadrants || place < 1 || place > second_molar) {
        return std::nullopt;
    }
    if (quadrant > 2) {
        quadrant = quadrant == 4 ? 1 : 2; // lower right bites on upper right
    }
    return static_cast<std::size_t>(quadrant == 1 ? second_molar - place : second_molar - 1 + place);
}

LessonBite balanced(LessonBite bite) {
    bite.heights.clear();
    bite.slide.reset();
    bite.side.reset();
    return bite;
}

Take make_lesson_take(const LessonBite& bite) {
    assert(bite.speed_m_per_s >= 0.02 && bite.speed_m_per_s <= 0.2);
    Patient patient = draw_patient(bite.seed);
    patient.tapping.speed_m_per_s = usual_speed_m_per_s; // sets the level
    Scenario scenario{.patient = bite.seed, .take = bite.take, .seat = bite.seat, .change = change_of(bite)};
    scenario.taps = bite.taps;
    scenario.closing_speed_m_per_s = bite.speed_m_per_s;
    scenario.tap_scatter = bite.scatter;
    scenario.pickups = bite.pickups;
    scenario.usual_peak_dbfs = -22.0;
    furnish(scenario, bite.room);
    return make_take(patient, scenario);
}

double expected_delay_ms(double height_um, double speed_m_per_s) {
    assert(speed_m_per_s > 0.0);
    return 1e-3 * height_um / speed_m_per_s;
}

TruthSummary summarise(const std::vector<TapTruth>& taps) {
    std::array<std::vector<double>, pair_count> after_ms;
    std::array<std::vector<double>, pair_count> speed_mm_s;
    std::vector<double> spreads_ms;
    for (const TapTruth& tap : taps) {
        const Firsts firsts = first_meetings(tap);
        for (const ContactEvent* first : firsts) {
            if (first != nullptr) {
                after_ms.at(first->pair).push_back(1e3 * (first->at_s - tap.onset_s));
                speed_mm_s.at(first->pair).push_back(1e3 * first->speed_m_per_s);
            }
        }
        spreads_ms.push_back(1e3 * spread_s(tap, firsts));
    }
    TruthSummary summary;
    for (std::size_t pair = 0; pair < pair_count; ++pair) {
        if (!after_ms.at(pair).empty()) {
            summary.pairs.push_back({.pair = pair,
                                     .taps = after_ms.at(pair).size(),
                                     .after_ms = dsp::median(after_ms.at(pair)),
                                     .speed_mm_s = dsp::median(speed_mm_s.at(pair))});
        }
    }
    std::stable_sort(summary.pairs.begin(), summary.pairs.end(),
                     [](const PairTiming& a, const PairTiming& b) { return a.after_ms < b.after_ms; });
    summary.spread_ms = spreads_ms.empty() ? 0.0 : dsp::median(spreads_ms);
    return summary;
}

} // namespace retap::bite
