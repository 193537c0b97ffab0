#include "visit/sounds.hpp"

#include "audio/around_taps.hpp"
#include "audio/inspect_file.hpp"
#include "audio/sound_writer.hpp"
#include "compare/compare_takes.hpp"
#include "error.hpp"

namespace retap::visit {

PreparedTake prepare_take(const std::filesystem::path& file, const audio::ChannelChoice& choice) {
    const dsp::TakeAnalysis whole = audio::inspect_file(file, choice);
    std::vector<double> onsets_s;
    for (const dsp::Tap& tap : whole.taps) {
        onsets_s.push_back(tap.onset_s);
    }
    const auto sound = audio::read_around_taps(file, onsets_s, choice);
    if (!sound) {
        throw InputError("No taps are heard in '" + file.string() +
                         "', so there is nothing to keep. Record again, and see "
                         "with 'retap inspect' what was heard.");
    }
    PreparedTake prepared;
    prepared.flac = audio::encode_sound(*sound, audio::SoundFormat::flac_24);
    // What is kept is what is judged, rounding and cutting included.
    const std::string name = file.filename().string();
    prepared.analysis = audio::inspect_sound(audio::read_sound(prepared.flac, name), name);
    return prepared;
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

} // namespace

bool can_compare(const Visit& visit, const Look& look) {
    const Look* before = visit.baseline();
    return look.name.kind != LookKind::before && before != nullptr && !before->takes.empty() && !look.takes.empty();
}

compare::Comparison compare_look(VisitStore& store, const Visit& visit, const Look& look) {
    if (!can_compare(visit, look)) {
        throw InputError("Visit " + std::to_string(visit.id) + " has no takes to compare for look '" + text(look.name) +
                         "': one is needed before and one at that look. Add them with: retap visit attach");
    }
    return compare::compare_takes(inspect_all(store, visit.id, *visit.baseline()), inspect_all(store, visit.id, look));
}

Compared to_keep(const compare::Comparison& comparison, const Visit& visit, const Look& look,
                 const std::string& program) {
    Compared compared;
    compared.verdict = comparison.verdict;
    compared.likeness = comparison.likeness;
    compared.sentence = comparison.sentence;
    compared.before_takes = visit.baseline()->take_entries();
    compared.now_takes = look.take_entries();
    compared.program = program;
    return compared;
}

} // namespace retap::visit
