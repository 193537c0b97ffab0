// Visits as text for a person at a terminal.
#pragma once

#include "chart/next_rules.hpp"
#include "compare/comparison.hpp"
#include "visit/store.hpp"

#include <optional>
#include <string>
#include <vector>

namespace retap::commands {

/// Everything about a visit: looks, what changed, what is next, who signed.
[[nodiscard]] std::string visit_text(const visit::Visit& visit, std::optional<chart::SoundSays> latest_sound);
/// Every entry in the order it was written, with what a later one corrected.
[[nodiscard]] std::string entries_text(const visit::Visit& visit);
[[nodiscard]] std::string advice_text(const std::vector<chart::Advice>& advice);
/// A decision, and where it comes from when it was taken over.
[[nodiscard]] std::string said_text(const visit::Said<visit::Decided>& decision);
[[nodiscard]] std::string list_text(const std::vector<visit::VisitSummary>& visits);
/// The last lines under every piece of advice.
/// What waits while a rule applies, for a sentence.
[[nodiscard]] std::string held_back(chart::Blocks blocks);
[[nodiscard]] std::string guidance_note();

/// The verdict on a look whose takes were not compared in the record yet; nothing when they were or cannot be.
[[nodiscard]] std::optional<chart::SoundSays> sound_now(visit::VisitStore& store, const visit::Visit& visit,
                                                        const visit::Look* look);

} // namespace retap::commands
