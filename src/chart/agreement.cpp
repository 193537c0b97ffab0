#include "chart/agreement.hpp"

#include <algorithm>
#include <cstddef>
#include <utility>

namespace retap::chart {

AgreementTable::AgreementTable(std::vector<std::string> names)
    : categories(std::move(names)), counts(categories.size(), std::vector<double>(categories.size(), 0.0)) {}

void AgreementTable::add(std::size_t first, std::size_t second) {
    counts.at(first).at(second) += 1.0;
}

double AgreementTable::total() const {
    double sum = 0.0;
    for (const auto& row : counts) {
        for (const double count : row) {
            sum += count;
        }
    }
    return sum;
}

Agreement agreement_of(AgreementTable table) {
    Agreement result{std::move(table), 0.0, std::nullopt, std::nullopt};
    const auto& counts = result.table.counts;
    result.cases = result.table.total();
    if (result.cases <= 0.0) {
        return result;
    }
    double same = 0.0;
    double by_chance = 0.0;
    for (std::size_t k = 0; k < counts.size(); ++k) {
        double row = 0.0;
        double column = 0.0;
        for (std::size_t j = 0; j < counts.size(); ++j) {
            row += counts[k][j];
            column += counts[j][k];
        }
        same += counts[k][k];
        by_chance += (row / result.cases) * (column / result.cases);
    }
    result.observed = same / result.cases;
    if (by_chance < 1.0) {
        result.kappa = (*result.observed - by_chance) / (1.0 - by_chance);
    }
    return result;
}

Agreement agreement_on_holds(const HoldChart& first, const HoldChart& second) {
    AgreementTable table(
        {std::string(word(Film::hold)), std::string(word(Film::slide)), std::string(word(Film::open))});
    for (const auto& [pair, film] : first) {
        const auto other = result_of(second, pair);
        if (film != Film::untestable && other && *other != Film::untestable) {
            table.add(static_cast<std::size_t>(film), static_cast<std::size_t>(*other));
        }
    }
    return agreement_of(std::move(table));
}

namespace {

std::vector<Mark> centric_marks_on(const MarkChart& chart, Tooth tooth) {
    std::vector<Mark> marks = chart.of(Stage::centric);
    std::erase_if(marks, [tooth](const Mark& mark) { return mark.tooth != tooth; });
    return marks;
}

/// 0 none, 1 incline only, 2 stop.
std::size_t support(const MarkChart& chart, Tooth tooth) {
    const auto marks = centric_marks_on(chart, tooth);
    if (marks.empty()) {
        return 0;
    }
    return std::any_of(marks.begin(), marks.end(), [](const Mark& mark) { return is_stop(mark); }) ? 2 : 1;
}

std::optional<Weight> heaviest(const MarkChart& chart, Tooth tooth) {
    const auto marks = centric_marks_on(chart, tooth);
    const auto found =
        std::max_element(marks.begin(), marks.end(), [](const Mark& a, const Mark& b) { return a.weight < b.weight; });
    return found == marks.end() ? std::nullopt : std::optional(found->weight);
}

bool mentions(const MarkChart& chart, Tooth tooth) {
    return std::any_of(chart.marks.begin(), chart.marks.end(),
                       [tooth](const Mark& mark) { return mark.tooth == tooth; });
}

} // namespace

Agreement agreement_on_stops(const MarkChart& first, const MarkChart& second, const std::vector<Tooth>& teeth) {
    AgreementTable table({"no mark", "incline only", "stop"});
    for (const Tooth tooth : teeth) {
        table.add(support(first, tooth), support(second, tooth));
    }
    return agreement_of(std::move(table));
}

Agreement agreement_on_weights(const MarkChart& first, const MarkChart& second) {
    AgreementTable table(
        {std::string(word(Weight::light)), std::string(word(Weight::even)), std::string(word(Weight::heavy))});
    for (const Tooth tooth : all_teeth()) {
        const auto a = heaviest(first, tooth);
        const auto b = heaviest(second, tooth);
        if (a && b) {
            table.add(static_cast<std::size_t>(*a), static_cast<std::size_t>(*b));
        }
    }
    return agreement_of(std::move(table));
}

std::vector<Tooth> teeth_for_agreement(const MarkChart& first, const MarkChart& second) {
    std::vector<Tooth> teeth = all_teeth();
    std::erase_if(
        teeth, [&](Tooth tooth) { return tooth.place() == 8 && !mentions(first, tooth) && !mentions(second, tooth); });
    return teeth;
}

} // namespace retap::chart
