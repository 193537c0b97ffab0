// How far two people agree who charted the same mouth.
#pragma once

#include "chart/holds.hpp"
#include "chart/marks.hpp"

#include <optional>
#include <string>
#include <vector>

namespace retap::chart {

/// Counts of cases by the first person's (row) and the second's (column) category. Square.
struct AgreementTable {
    std::vector<std::string> categories;
    std::vector<std::vector<double>> counts;

    explicit AgreementTable(std::vector<std::string> names);
    void add(std::size_t first, std::size_t second);
    [[nodiscard]] double total() const;
};

struct Agreement {
    AgreementTable table;
    double cases = 0.0;
    /// Share of cases in the same category, 0..1. Absent without cases.
    std::optional<double> observed;
    /// Cohen's kappa (Cohen 1960, Educ Psychol Meas 20:37-46): agreement beyond chance, 1 at best. Absent without cases
    /// and when chance alone would agree always, as when both put everything into one category.
    std::optional<double> kappa;
};
[[nodiscard]] Agreement agreement_of(AgreementTable table);

/// Hold, slide or open over the pairs that both tested; what one found untestable is left out.
[[nodiscard]] Agreement agreement_on_holds(const HoldChart& first, const HoldChart& second);
/// None, incline only or stop in centric, per tooth over `teeth`: teeth that neither marked count as agreement, so the
/// choice of teeth moves the figures and is part of the result.
[[nodiscard]] Agreement agreement_on_stops(const MarkChart& first, const MarkChart& second,
                                           const std::vector<Tooth>& teeth);
/// Light, even or heavy: the heaviest centric mark of each tooth that both marked.
[[nodiscard]] Agreement agreement_on_weights(const MarkChart& first, const MarkChart& second);

/// The 28 teeth without third molars, and those third molars that either chart mentions.
[[nodiscard]] std::vector<Tooth> teeth_for_agreement(const MarkChart& first, const MarkChart& second);

} // namespace retap::chart
