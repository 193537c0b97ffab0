#include "chart/next_conditions.hpp"
#include "chart/next_rules.hpp"

#include <algorithm>

namespace retap::chart {

std::vector<Question> open_questions(const Assessment& a, Numbering numbering) {
    std::vector<Question> open;
    if (!a.changes.place_not_said.empty()) {
        open.push_back(
            {"mark-place",
             "Does it lie on the restoration or beside it: " + list(a.changes.place_not_said, numbering) + "?",
             a.changes.place_not_said,
             {},
             {"restoration", "beside"}});
    }
    if (!a.maybe_crossbite.empty()) {
        std::vector<Tooth> teeth;
        for (const Mark& mark : a.maybe_crossbite) {
            if (std::ranges::find(teeth, mark.tooth) == teeth.end()) {
                teeth.push_back(mark.tooth);
            }
        }
        open.push_back({"crossbite",
                        "Do these teeth meet in crossbite: " + list(teeth, numbering) + "?",
                        a.maybe_crossbite,
                        teeth,
                        {"crossbite", "none"}});
    }
    if (conditions::ask_the_patient(a)) {
        open.push_back({"feel", "How does the bite feel to the patient?", {}, {}, {"comfortable", "high", "other"}});
    }
    if (a.situation.restored && !a.situation.numb) {
        open.push_back({"numb", "Is the patient numb?", {}, {}, {"yes", "no"}});
    }
    return open;
}

} // namespace retap::chart
