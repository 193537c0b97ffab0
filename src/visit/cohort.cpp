#include "visit/cohort.hpp"

#include "visit/sha256.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace retap::visit {

namespace {

std::string half_year(const std::string& time) {
    return time.substr(0, 4) + (time.substr(5, 2) <= "06" ? "-1" : "-2");
}

bool has_holds_and_take(const Look* look) {
    return look != nullptr && look->holds && !look->takes.empty();
}

void count_holds(const Visit& visit, Share& kept) {
    const Look* before = visit.baseline();
    const Look* now = visit.latest();
    if (before == nullptr || now == nullptr || !before->holds || !now->holds) {
        return;
    }
    for (const auto& [pair, film] : before->holds->content.holds) {
        const auto found = chart::result_of(now->holds->content.holds, pair);
        if (film == chart::Film::hold && found && *found != chart::Film::untestable) {
            ++kept.of;
            kept.yes += *found == chart::Film::hold ? 1 : 0;
        }
    }
}

/// Looks are in the order of the work.
std::optional<int> adjustments_of(const Visit& visit) {
    int looks = 0;
    for (const Look& look : visit.looks) {
        if (look.name.kind != LookKind::after) {
            continue;
        }
        if (look.comparison && look.comparison->content.verdict == compare::Verdict::alike) {
            return looks;
        }
        ++looks;
    }
    return std::nullopt;
}

double middle_of(std::vector<int> values) {
    std::sort(values.begin(), values.end());
    const std::size_t half = values.size() / 2;
    return values.size() % 2 == 1 ? values[half] : (values[half - 1] + values[half]) / 2.0;
}

struct Gathered {
    CohortRow row;
    std::vector<int> adjustments{};
};

void count_visit(const VisitSummary& summary, const Visit& visit, Gathered& gathered) {
    CohortRow& row = gathered.row;
    ++row.visits;
    const Look* now = visit.latest();
    ++row.complete.of;
    row.complete.yes += has_holds_and_take(visit.baseline()) && has_holds_and_take(now) && now->comparison ? 1 : 0;
    count_holds(visit, row.holds_kept);
    if (now != nullptr && now->comparison) {
        const auto verdict = now->comparison->content.verdict;
        ++row.as_before.of;
        row.as_before.yes += verdict == compare::Verdict::alike ? 1 : 0;
        row.different += verdict == compare::Verdict::different ? 1 : 0;
        row.unclear += verdict == compare::Verdict::unclear ? 1 : 0;
    }
    if (const auto count = adjustments_of(visit)) {
        gathered.adjustments.push_back(*count);
    }
    if (summary.open && summary.open->action == Action::wait) {
        ++row.rechecks_kept.of;
        row.rechecks_kept.yes += summary.followed ? 1 : 0;
    }
}

} // namespace

std::optional<std::pair<double, double>> Share::interval() const {
    if (of == 0) {
        return std::nullopt;
    }
    constexpr double z = 1.959963984540054; // of the normal distribution, 2.5 % beyond on either side
    const double n = of;
    const double p = yes / n;
    const double middle = (p + z * z / (2 * n)) / (1 + z * z / n);
    const double half = z * std::sqrt(p * (1 - p) / n + z * z / (4 * n * n)) / (1 + z * z / n);
    return std::pair(std::max(0.0, middle - half), std::min(1.0, middle + half));
}

std::string pseudonym(const std::string& worker) {
    return "P-" + sha256("retap.cohort/1\n" + worker).substr(0, 6);
}

std::vector<CohortRow> cohort(VisitStore& store, const VisitFilter& filter, const CohortOptions& options) {
    std::map<std::pair<std::string, std::string>, Gathered> by_person_and_term;
    for (const VisitSummary& summary : store.list(filter)) {
        const std::string label = options.names ? summary.worker : pseudonym(summary.worker);
        const std::string term = half_year(summary.opened_at);
        Gathered& gathered = by_person_and_term[{label, term}];
        gathered.row.label = label;
        gathered.row.term = term;
        count_visit(summary, store.load(summary.id), gathered);
    }
    std::vector<CohortRow> rows;
    for (auto& [key, gathered] : by_person_and_term) {
        if (!gathered.adjustments.empty()) {
            gathered.row.adjustments = middle_of(std::move(gathered.adjustments));
        }
        rows.push_back(std::move(gathered.row));
    }
    return rows;
}

} // namespace retap::visit
