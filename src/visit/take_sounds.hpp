// Takes on their way into the store, and back out to be compared.
#pragma once

#include "audio/sound_file.hpp"
#include "compare/comparison.hpp"
#include "dsp/base/take.hpp"
#include "visit/store.hpp"

#include <cstddef>
#include <filesystem>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace retap::visit {

/// A take ready to be kept: FLAC, 24 bit, cut to what lies within half a second of a tap, so that no talk is stored;
/// and what the sound stage says about exactly that sound.
struct PreparedTake {
    std::vector<std::byte> flac;
    dsp::TakeAnalysis analysis;
};

/// Throws InputError as SoundReader does, and when no tap is heard at all.
[[nodiscard]] PreparedTake prepare_take(const std::filesystem::path& file, const audio::ChannelChoice& choice = {});
/// The same of a sound that is held already; `name` is what messages call it.
[[nodiscard]] PreparedTake prepare_take(const audio::Sound& sound, const std::string& name);

/// Where the visit keeps this very sound already, as a sentence. A recording cannot stand for two looks (compared with
/// itself it is alike, whatever the bite), nor for a repeat of itself.
[[nodiscard]] std::optional<std::string> kept_already(const Visit& visit, std::span<const std::byte> flac);

/// The analysis of a kept take, worked out anew from its sound.
[[nodiscard]] dsp::TakeAnalysis inspect_kept(VisitStore& store, VisitId id, const Said<TakeKept>& take);

/// Takes of a look against those of the baseline, the first that is fit of each side to be shown. A take that is not
/// fit has been recorded again, so it is left out, and the reasons say so; where a side has no other it stays, and the
/// verdict is unclear. Neither side may be empty (asserted).
[[nodiscard]] compare::Comparison compare_fit(std::vector<dsp::TakeAnalysis> before,
                                              std::vector<dsp::TakeAnalysis> now);
/// The entry of the take that stands for the look in players and plots: the first that is fit, else the first. The look
/// has takes (asserted); `fit` says it of each.
[[nodiscard]] int shown_take(const Look& look, const std::function<bool(const Said<TakeKept>&)>& fit);

/// The sound of a look against the baseline, by compare_fit. Throws InputError when a side has no take.
[[nodiscard]] compare::Comparison compare_look(VisitStore& store, const Visit& visit, const Look& look);
/// Whether compare_look can be asked.
[[nodiscard]] bool can_compare(const Visit& visit, const Look& look);

/// As it is kept in the record.
[[nodiscard]] Compared to_keep(const compare::Comparison& comparison, const Visit& visit, const Look& look,
                               const std::string& program);

} // namespace retap::visit
