#include "visit/inherit.hpp"
#include "visit/visit.hpp"

#include <algorithm>
#include <cassert>
#include <map>
#include <set>
#include <utility>

namespace retap::visit {

namespace {

class Folder {
public:
    Folder(VisitId id, std::string uid, std::vector<Entry> entries) {
        visit_.id = id;
        visit_.uid = std::move(uid);
        visit_.entries = std::move(entries);
    }

    Visit fold() {
        for (const Entry& entry : visit_.entries) {
            if (entry.correction) {
                superseded_.insert(entry.correction->of);
            }
        }
        for (const Entry& entry : visit_.entries) {
            if (!superseded_.contains(entry.number)) {
                std::visit([&](const auto& content) { take_in(entry, content); }, entry.body);
            }
        }
        for (auto& [name, look] : looks_) {
            visit_.looks.push_back(std::move(look));
        }
        settle_comparisons();
        visit_.superseded.assign(superseded_.begin(), superseded_.end());
        return std::move(visit_);
    }

private:
    template <class Content>
    static Said<Content> said(const Entry& entry, const Content& content) {
        return {entry.number, entry.stamp, content, entry.inherited};
    }
    Look& look_of(const Entry& entry) {
        const LookName name = entry.look.value_or(LookName{});
        Look& look = looks_[name];
        look.name = name;
        return look;
    }

    void take_in(const Entry& entry, const Opened& opened) {
        visit_.opened = said(entry, opened);
        visit_.opened.stamp = visit_.entries.front().stamp; // a corrected opening does not move the visit in time
    }
    void take_in(const Entry& entry, const HoldsCharted& charted) { look_of(entry).holds = said(entry, charted); }
    void take_in(const Entry& entry, const MarksCharted& charted) { look_of(entry).marks = said(entry, charted); }
    void take_in(const Entry& entry, const TakeKept& take) { look_of(entry).takes.push_back(said(entry, take)); }
    void take_in(const Entry& entry, const FeelNoted& noted) { look_of(entry).feel = said(entry, noted); }
    void take_in(const Entry& entry, const Compared& compared) { look_of(entry).comparison = said(entry, compared); }
    void take_in(const Entry& entry, const Decided& decided) {
        (entry.look ? look_of(entry).decisions : visit_.decisions).push_back(said(entry, decided));
    }
    void take_in(const Entry& entry, const CrossbiteSaid& crossbite) { visit_.crossbite = said(entry, crossbite); }
    void take_in(const Entry& entry, const WarningNoted& noted) {
        std::erase_if(visit_.warnings, [&](const Said<WarningNoted>& earlier) {
            return earlier.content.warning.about == noted.warning.about;
        });
        visit_.warnings.push_back(said(entry, noted));
    }
    void take_in(const Entry& /*entry*/, const Withdrawn& /*withdrawn*/) {}
    void take_in(const Entry& entry, const Signed& signature) { visit_.signature = said(entry, signature); }

    /// A comparison of takes that were withdrawn or joined since says nothing about the visit as it stands.
    void settle_comparisons() {
        const Look* before = visit_.baseline();
        const std::vector<int> baseline = before == nullptr ? std::vector<int>{} : before->take_entries();
        for (Look& look : visit_.looks) {
            if (look.comparison && (look.comparison->content.before_takes != baseline ||
                                    look.comparison->content.now_takes != look.take_entries())) {
                look.comparison.reset();
            }
        }
    }

    Visit visit_;
    std::map<LookName, Look> looks_;
    std::set<int> superseded_;
};

} // namespace

chart::LookCharts Look::charts() const {
    chart::LookCharts charts;
    if (holds) {
        charts.holds = holds->content.holds;
    }
    if (marks) {
        charts.marks = marks->content.marks;
    }
    return charts;
}

std::vector<int> Look::take_entries() const {
    std::vector<int> numbers;
    numbers.reserve(takes.size());
    for (const auto& take : takes) {
        numbers.push_back(take.entry);
    }
    return numbers;
}

bool Visit::holds_nothing_of_its_own() const {
    return std::all_of(entries.begin(), entries.end(), [](const Entry& entry) {
        return std::holds_alternative<Opened>(entry.body) || entry.inherited;
    });
}

const Look* Visit::look(const LookName& name) const {
    const auto found = std::find_if(looks.begin(), looks.end(), [&](const Look& look) { return look.name == name; });
    return found == looks.end() ? nullptr : &*found;
}

const Look* Visit::latest() const {
    return looks.empty() || looks.back().name.kind == LookKind::before ? nullptr : &looks.back();
}

Visit fold(VisitId id, std::string uid, std::vector<Entry> entries) {
    assert(!entries.empty());
    return Folder(id, std::move(uid), std::move(entries)).fold();
}

} // namespace retap::visit
