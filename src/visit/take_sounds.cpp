#include "visit/take_sounds.hpp"

#include "audio/around_taps.hpp"
#include "audio/inspect_file.hpp"
#include "audio/sound_writer.hpp"
#include "compare/compare_takes.hpp"
#include "compare/obstacles.hpp"
#include "error.hpp"
#include "visit/sha256.hpp"

#include <algorithm>
#include <cassert>
#include <utility>

namespace retap::visit {

namespace {

std::vector<double> onsets_of(const dsp::TakeAnalysis& take) {
    std::vector<double> onsets_s;
    for (const dsp::Tap& tap : take.taps) {
        onsets_s.push_back(tap.onset_s);
    }
    return onsets_s;
}

PreparedTake prepared_from(const std::optional<audio::Sound>& kept, const std::string& named, const std::string& name) {
    if (!kept) {
        throw InputError("No taps are heard in '" + named +
                         "', so there is nothing to keep. Record again, and see "
                         "with 'retap inspect' what was heard.");
    }
    PreparedTake prepared;
    prepared.flac = audio::encode_sound(*kept, audio::SoundFormat::flac_24);
    // What is kept is what is judged, rounding and cutting included.
    prepared.analysis = audio::inspect_sound(audio::read_sound(prepared.flac, name), name);
    return prepared;
}

} // namespace

PreparedTake prepare_take(const std::filesystem::path& file, const audio::ChannelChoice& choice) {
    const auto onsets_s = onsets_of(audio::inspect_file(file, choice));
    return prepared_from(audio::read_around_taps(file, onsets_s, choice), file.string(), file.filename().string());
}

PreparedTake prepare_take(const audio::Sound& sound, const std::string& name) {
    return prepared_from(audio::around_taps(sound, onsets_of(audio::inspect_sound(sound, name))), name, name);
}

std::optional<std::string> kept_already(const Visit& visit, std::span<const std::byte> flac) {
    const std::string digest = sha256(flac);
    for (const Look& look : visit.looks) {
        for (const auto& take : look.takes) {
            if (take.content.sound_sha256 == digest) {
                return "This recording is in visit " + std::to_string(visit.id) + " already, as '" + take.content.name +
                       "' of look '" + text(look.name) + "' (entry " + std::to_string(take.entry) +
                       "): compared with itself it says nothing.";
            }
        }
    }
    return std::nullopt;
}

dsp::TakeAnalysis inspect_kept(VisitStore& store, VisitId id, const Said<TakeKept>& take) {
    const TakeContent content = store.take(id, take.entry);
    return audio::inspect_sound(audio::read_sound(content.flac, take.content.name), take.content.name);
}

namespace {

std::vector<dsp::TakeAnalysis> inspect_all(VisitStore& store, VisitId id, const Look& look) {
    std::vector<dsp::TakeAnalysis> analyses;
    for (const auto& take : look.takes) {
        analyses.push_back(inspect_kept(store, id, take));
    }
    return analyses;
}

/// One device on one day: gain and pick-up are taken to be as they were. What is known of no recording is no match.
compare::Setting setting_of(const std::vector<dsp::TakeAnalysis>& before, const std::vector<dsp::TakeAnalysis>& now) {
    constexpr std::size_t date = 10; // YYYY-MM-DD
    const dsp::TakeAnalysis& first = before.front();
    const auto like_the_first = [&](const dsp::TakeAnalysis& take) {
        return take.device == first.device && take.recorded_on.substr(0, date) == first.recorded_on.substr(0, date);
    };
    const bool known = !first.device.empty() && first.recorded_on.size() >= date;
    return known && std::ranges::all_of(before, like_the_first) && std::ranges::all_of(now, like_the_first)
               ? compare::Setting::same
               : compare::Setting::unknown;
}

/// Takes out what is not fit, unless nothing else is there; returns how many. At one setting a take that is only soft
/// stays: a second soft one says that it is not the tapping.
std::size_t leave_unfit_out(std::vector<dsp::TakeAnalysis>& takes, compare::Setting setting) {
    const auto fit = [setting](const dsp::TakeAnalysis& take) {
        return take.fitness.usable || (setting == compare::Setting::same && compare::fit_but_for_softness(take));
    };
    return std::ranges::any_of(takes, fit) ? std::erase_if(takes, std::not_fn(fit)) : 0;
}

void say_left_out(std::vector<std::string>& reasons, std::size_t count, const std::string& side) {
    if (count > 0) {
        reasons.push_back((count == 1 ? "One take " : std::to_string(count) + " takes ") + side +
                          (count == 1 ? " is" : " are") + " not fit and left out.");
    }
}

} // namespace

compare::Comparison compare_fit(std::vector<dsp::TakeAnalysis> before, std::vector<dsp::TakeAnalysis> now) {
    const compare::Setting setting = setting_of(before, now);
    const std::size_t out_before = leave_unfit_out(before, setting);
    const std::size_t out_now = leave_unfit_out(now, setting);
    compare::Comparison comparison = compare::compare_takes(before, now, setting);
    say_left_out(comparison.reasons, out_before, "before");
    say_left_out(comparison.reasons, out_now, "after");
    return comparison;
}

int shown_take(const Look& look, const std::function<bool(const Said<TakeKept>&)>& fit) {
    assert(!look.takes.empty());
    const auto first = std::ranges::find_if(look.takes, fit);
    return (first == look.takes.end() ? look.takes.front() : *first).entry;
}

bool can_compare(const Visit& visit, const Look& look) {
    const Look* before = visit.baseline();
    return look.name.kind != LookKind::before && before != nullptr && !before->takes.empty() && !look.takes.empty();
}

compare::Comparison compare_look(VisitStore& store, const Visit& visit, const Look& look) {
    if (!can_compare(visit, look)) {
        throw InputError("Visit " + std::to_string(visit.id) + " has no takes to compare for look '" + text(look.name) +
                         "': one is needed before and one at that look. Add them with: retap visit attach");
    }
    return compare_fit(inspect_all(store, visit.id, *visit.baseline()), inspect_all(store, visit.id, look));
}

namespace {

std::optional<double> lead_change_ms(const compare::Comparison& comparison) {
    const auto* first = compare::measure_named(comparison.measures, word(compare::EvidenceKind::first_sound));
    return first == nullptr ? std::nullopt : std::optional(first->difference);
}

} // namespace

Compared to_keep(const compare::Comparison& comparison, const Visit& visit, const Look& look,
                 const std::string& program) {
    Compared compared;
    compared.verdict = comparison.verdict;
    compared.likeness = comparison.likeness;
    compared.sentence = comparison.sentence;
    compared.before_takes = visit.baseline()->take_entries();
    compared.now_takes = look.take_entries();
    compared.program = program;
    compared.first_contact = chart::first_contact(comparison);
    compared.lead_change_ms = lead_change_ms(comparison);
    return compared;
}

} // namespace retap::visit
