#include "lesson/chart_patients.hpp"

#include "chart/notation.hpp"

#include <algorithm>
#include <array>
#include <cassert>

namespace retap::lesson {

namespace {

/// One row of the table, in the typed notation and ISO numbers.
struct PatientRow {
    const char* work;
    const char* treated;
    const char* holds_before;
    const char* marks_before;
    const char* holds_after;
    const char* marks_after;
    compare::Verdict sound;
    chart::Feel feel;
    bool numb;
    const char* crossbite; ///< empty: nobody said
};

constexpr const char* usual_holds = "hold 17..14 24..27; open 13..23";

constexpr std::array<PatientRow, chart_patient_count> patient_rows = {{
    {"a filling", "16", usual_holds, "centric 16 CF MP 14 P 46 DB 26 CF", "hold 16 24..27; slide 17 15; open 14 13..23",
     "centric 16 CF+* MP~ 26 CF 46 DB", compare::Verdict::different, chart::Feel::high, false, ""},
    {"a filling", "36", usual_holds, "centric 36 CF MB 26 CF MP 46 MB", "hold 17..14 24 25 27; slide 26; open 13..23",
     "centric 26 CF MP 46 MB", compare::Verdict::different, chart::Feel::comfortable, false, ""},
    {"a crown", "26", usual_holds, "centric 16 CF MP 46 DB", usual_holds, "centric 26 MP/in* 16 CF MP 46 DB",
     compare::Verdict::different, chart::Feel::comfortable, false, ""},
    {"a filling", "46", usual_holds, "centric 46 CF MB 16 CF MP 26 CF", usual_holds,
     "centric 46 CF* MB~ 16 CF MP 26 CF; working 16 MB/in 46 MB~; non-working none; protrusive none",
     compare::Verdict::alike, chart::Feel::comfortable, false, ""},
    {"a crown", "27", usual_holds, "centric 27 CF MP 17 CF 26 CF MP; working none; non-working none; protrusive none",
     usual_holds,
     "centric 27 CF* MP* 17 CF 26 CF MP; working 17 DB/in; non-working 27 MP/in* 47 DB/in-; protrusive none; again",
     compare::Verdict::alike, chart::Feel::comfortable, false, ""},
    {"a filling", "15", usual_holds, "centric 15 P DMR 16 CF 26 CF 44 B", usual_holds,
     "centric 15 P~ DMR* 16 CF 26 CF 44 B", compare::Verdict::alike, chart::Feel::high, true, ""},
    {"a filling", "37", usual_holds, "centric 37 ML CF 36 ML 46 MB 16 MP", usual_holds,
     "centric 37 ML* CF* 36 ML 46 MB 16 MP", compare::Verdict::different, chart::Feel::comfortable, false, "36 37"},
    {"a filling", "14", usual_holds,
     "centric 14 P MMR 16 MP 24 P 46 DB; working none; non-working none; protrusive none", usual_holds,
     "centric 14 P~ MMR* 16 MP 24 P 46 DB; working none; non-working none; protrusive none; again",
     compare::Verdict::alike, chart::Feel::comfortable, false, ""},
}};

chart::LookCharts charts_of(const char* holds, const char* marks) {
    return {.holds = chart::read_holds(holds, chart::Numbering::iso),
            .marks = chart::read_marks(marks, chart::Numbering::iso)};
}

chart::Tooth across(chart::Tooth tooth) {
    return {tooth.arch(), chart::opposite(tooth.side()), tooth.place()};
}

void mirror(std::vector<chart::Tooth>& teeth) {
    for (chart::Tooth& tooth : teeth) {
        tooth = across(tooth);
    }
}

void mirror(chart::LookCharts& charts) {
    chart::HoldChart holds;
    for (const auto& [pair, film] : *charts.holds) {
        holds[{across(pair.upper), across(pair.lower)}] = film;
    }
    charts.holds = std::move(holds);
    for (chart::Mark& mark : charts.marks->marks) {
        mark.tooth = across(mark.tooth);
    }
    std::sort(charts.marks->marks.begin(), charts.marks->marks.end());
}

} // namespace

ChartPatient chart_patient(int number, bool mirrored) {
    assert(number >= 1 && number <= chart_patient_count);
    const PatientRow& row = patient_rows.at(static_cast<std::size_t>(number - 1));
    chart::Situation situation;
    situation.treated = chart::read_teeth(row.treated, chart::Numbering::iso);
    situation.before = charts_of(row.holds_before, row.marks_before);
    situation.eccentric_before_this_look = situation.before.marks && situation.before.marks->has_eccentric();
    situation.now = charts_of(row.holds_after, row.marks_after);
    situation.before_has_sound = true;
    situation.now_has_sound = true;
    situation.restored = true;
    situation.sound = row.sound;
    situation.feel = row.feel;
    situation.numb = row.numb;
    if (*row.crossbite != '\0') {
        situation.crossbite = chart::read_crossbite(row.crossbite, chart::Numbering::iso);
    }
    if (mirrored) {
        mirror(situation.treated);
        mirror(situation.before);
        mirror(situation.now);
        if (situation.crossbite.teeth) {
            mirror(*situation.crossbite.teeth);
        }
    }
    return {.work = row.work, .situation = std::move(situation)};
}

} // namespace retap::lesson
