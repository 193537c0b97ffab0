// Situations built from typed charts, for the tests of rules.
#pragma once

#include "chart/next_rules.hpp"
#include "chart/notation.hpp"

#include <algorithm>
#include <string>
#include <vector>

namespace retap::chart::test {

inline constexpr const char* full_holds = "hold 17..14 24..27; open 13..23";

inline LookCharts look(const std::string& holds, const std::string& marks) {
    LookCharts charts;
    if (!holds.empty()) {
        charts.holds = read_holds(holds, Numbering::iso);
    }
    if (!marks.empty()) {
        charts.marks = read_marks(marks, Numbering::iso);
    }
    return charts;
}

/// A visit on these teeth with film as before at every pair, both sounds alike, and these marks before and after.
inline Situation marked(const std::string& treated, const std::string& before, const std::string& after) {
    Situation s;
    s.treated = read_teeth(treated, Numbering::iso);
    s.before = look(full_holds, before);
    s.before_has_sound = true;
    s.restored = true;
    s.now = look(full_holds, after);
    s.now_has_sound = true;
    s.sound = compare::Verdict::alike;
    return s;
}

/// The same, the patient comfortable and not numb: what would end in "done" when nothing else were open.
inline Situation comfortable(const std::string& treated, const std::string& before, const std::string& after) {
    Situation s = marked(treated, before, after);
    s.feel = Feel::comfortable;
    s.numb = false;
    return s;
}

inline std::vector<std::string> ids(const Situation& s) {
    std::vector<std::string> found;
    for (const Advice& advice : next_steps(Assessment(s), Numbering::iso)) {
        found.emplace_back(advice.rule->id);
    }
    return found;
}

inline bool applies(const std::string& id, const Situation& s) {
    const auto found = ids(s);
    return std::find(found.begin(), found.end(), id) != found.end();
}

inline const Advice* advice_of(const std::vector<Advice>& advice, const std::string& id) {
    const auto found = std::ranges::find_if(advice, [&](const Advice& one) { return one.rule->id == id; });
    return found == advice.end() ? nullptr : &*found;
}

inline std::vector<std::string> evidence(const std::string& id, const Situation& s) {
    const auto advice = next_steps(Assessment(s), Numbering::iso);
    const Advice* const one = advice_of(advice, id);
    return one == nullptr ? std::vector<std::string>{} : one->evidence;
}

} // namespace retap::chart::test
