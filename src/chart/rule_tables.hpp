// The parts of the table that next_rules joins, in this order. Part of next_rules.cpp; not for others.
#pragma once

#include "chart/next_rules.hpp"

#include <span>

namespace retap::chart {

inline constexpr std::string_view supervisor = "your supervising clinician";
inline constexpr std::string_view protocol = "the clinic's own protocol";
inline constexpr std::string_view practice = "common practice, no source";

[[nodiscard]] std::span<const Rule> rules_of_baseline();
[[nodiscard]] std::span<const Rule> rules_of_checks();
[[nodiscard]] std::span<const Rule> rules_of_flags();
[[nodiscard]] std::span<const Rule> rules_of_restoration();
[[nodiscard]] std::span<const Rule> rules_of_sound();
[[nodiscard]] std::span<const Rule> rules_of_patient();
[[nodiscard]] std::span<const Rule> rules_of_movements();
[[nodiscard]] std::span<const Rule> rules_of_ends();

} // namespace retap::chart
