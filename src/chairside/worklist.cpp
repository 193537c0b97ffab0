#include "chairside/worklist.hpp"

#include "chairside/page_json.hpp"

#include <algorithm>
#include <string>
#include <vector>

namespace retap::chairside {

namespace {

using report::Json;
using visit::VisitSummary;

constexpr std::size_t most_shown = 200; // in one list: as many as a page draws at once without a stop

/// The first of them, as lines.
Json lines(const std::vector<VisitSummary>& visits, Moment now) {
    Json list = Json::array();
    for (const VisitSummary& summary : visits) {
        if (list.size() == most_shown) {
            break;
        }
        list.push_back(summary_json(summary, now));
    }
    return list;
}

bool is_to_be_signed(const VisitSummary& visit, const std::string& today) {
    const auto look = visit::look_from(visit.latest_look);
    return look && (visit.opened_at < today || look->kind != visit::LookKind::before);
}

} // namespace

Json worklist_json(visit::VisitStore& store, Moment now) {
    const std::string today = utc_text(visit::start_of_day(now));
    auto waiting = store.list({.waiting = true});
    std::stable_sort(waiting.begin(), waiting.end(),
                     [](const VisitSummary& a, const VisitSummary& b) { return a.open->since.at < b.open->since.at; });
    auto unsigned_ones = store.list({.closed = false});
    std::erase_if(unsigned_ones, [&](const VisitSummary& visit) { return !is_to_be_signed(visit, today); });
    std::reverse(unsigned_ones.begin(), unsigned_ones.end());
    return {{"toRecheck", lines(waiting, now)},
            {"toSign", lines(unsigned_ones, now)},
            {"today", lines(store.list({.since = today, .limit = int{most_shown}}), now)}};
}

Json visits_json(visit::VisitStore& store, const std::string& label, Moment now) {
    return {{"visits", lines(store.list({.label = label, .limit = int{most_shown}}), now)}};
}

} // namespace retap::chairside
