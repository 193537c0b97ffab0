// Conditions of the baseline, the patient, and the ends.
#include "chart/next_conditions.hpp"

#include <algorithm>

namespace retap::chart::conditions {

namespace {

bool is_high(const Assessment& a) {
    return a.situation.feel == Feel::high;
}

bool missing(const std::vector<std::string>& lacks, std::string_view check) {
    return std::ranges::find(lacks, check) != lacks.end();
}

Step first_missing(const std::vector<std::string>& lacks) {
    if (missing(lacks, "the film holds")) {
        return Step::chart_holds;
    }
    return missing(lacks, "the centric marks") ? Step::chart_centric : Step::record;
}

} // namespace

bool no_baseline(const Assessment& a) {
    return !a.situation.restored && a.situation.missing_before().size() == 3;
}

bool baseline_incomplete(const Assessment& a) {
    const auto lacking = a.situation.missing_before().size();
    return !a.situation.restored && lacking < 3 && (lacking > 0 || !a.baseline_left.empty());
}

bool baseline_lost(const Assessment& a) {
    return a.situation.restored && (!a.situation.missing_before().empty() || !a.baseline_left.empty());
}

bool baseline_complete(const Assessment& a) {
    return !a.situation.restored && a.situation.missing_before().empty() && a.baseline_left.empty();
}

bool few_holds_at_baseline(const Assessment& a) {
    return a.situation.before.holds && few_holds(*a.situation.before.holds) &&
           !settled(a.situation.warnings, "few-holds");
}

bool one_sided_at_baseline(const Assessment& a) {
    return a.baseline_spread && side_without_holds(*a.baseline_spread) &&
           !settled(a.situation.warnings, "one-sided-holds");
}

bool warning_open(const Assessment& a) {
    return std::ranges::any_of(a.situation.warnings, [](const Warning& warning) { return !warning.settled(); });
}

bool ask_the_patient(const Assessment& a) {
    return a.situation.restored && a.situation.missing_now().empty() && a.situation.feel == Feel::not_asked;
}

bool numbness_not_noted(const Assessment& a) {
    return a.situation.restored && a.situation.feel != Feel::not_asked && !a.situation.numb;
}

bool numb(const Assessment& a) {
    return a.situation.numb == true;
}

bool high_while_numb(const Assessment& a) {
    return a.centric_settled && is_high(a) && numb(a) && !decided_to_wait(a);
}

bool high_and_not_numb(const Assessment& a) {
    return a.situation.restored && is_high(a) && a.situation.numb == false;
}

bool feels_different(const Assessment& a) {
    return a.situation.restored && a.situation.feel == Feel::other;
}

bool comfortable_while_numb(const Assessment& a) {
    return a.all_equal && a.situation.feel == Feel::comfortable && numb(a);
}

bool done(const Assessment& a) {
    return a.all_equal && a.situation.feel == Feel::comfortable && a.situation.numb == false;
}

Step next_of_baseline(const Assessment& a) {
    const auto lacks = a.situation.missing_before();
    if (!missing(lacks, "the film holds") && !a.baseline_left.empty()) {
        return Step::test_pairs;
    }
    return first_missing(lacks);
}

Step next_of_checks(const Assessment& a) {
    return first_missing(a.situation.missing_now());
}

bool holds_back_work(const Rule& rule) {
    return rule.blocks == Blocks::work || rule.blocks == Blocks::judgement;
}

bool holds_back_today(const Rule& rule) {
    return holds_back_done(rule) && rule.id != "numb";
}

bool holds_back_done(const Rule& rule) {
    return rule.blocks != Blocks::nothing;
}

} // namespace retap::chart::conditions
