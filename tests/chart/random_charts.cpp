// What must hold of the advice on any chart, tried on thousands of random ones with fixed seeds. Whether something is
// open is told here by plain loops over the charts, not by the rules' own conditions.
#include "charts.hpp"
#include "trials.hpp"

#include <doctest/doctest.h>

#include <map>
#include <random>
#include <set>

using namespace retap::chart;
using retap::compare::Verdict;

namespace {

const int rounds = retap::test::trials(4000);

class Draw {
public:
    explicit Draw(unsigned seed) : random_(seed) {}
    bool one_in(unsigned n) { return random_() % n == 0; }
    std::size_t below(std::size_t n) { return random_() % n; }
    template <class List>
    auto& one_of(List& list) {
        return list[below(list.size())];
    }

private:
    std::mt19937 random_;
};

std::vector<Tooth> back_teeth_of_all() {
    std::vector<Tooth> teeth = back_teeth(Side::right);
    const auto left = back_teeth(Side::left);
    teeth.insert(teeth.end(), left.begin(), left.end());
    return teeth;
}

void put(MarkChart& chart, const Mark& mark) {
    const bool there = std::ranges::any_of(chart.marks, [&](const Mark& other) {
        return other.tooth == mark.tooth && other.place == mark.place && other.stage == mark.stage;
    });
    if (!there) {
        chart.marks.push_back(mark);
        std::sort(chart.marks.begin(), chart.marks.end());
    }
}

Mark random_mark(Draw& draw, Tooth tooth, Stage stage) {
    const auto spots = spots_of(tooth);
    Mark mark{tooth, {draw.one_of(spots), {}}, stage};
    if (has_inclines(mark.place.spot) && draw.one_in(3)) {
        mark.place.incline = static_cast<Facing>(draw.below(4));
    }
    mark.weight = static_cast<Weight>(draw.below(3));
    return mark;
}

bool is_treated(const Situation& s, Tooth tooth) {
    return std::ranges::find(s.treated, tooth) != s.treated.end();
}

/// A fault: something that was worse, or less known, than it is.
using Fault = void (*)(Draw&, Situation&);

constexpr std::array<Fault, 12> faults = {
    [](Draw& draw, Situation& s) { // a hold is lost
        if (s.now.holds && !s.now.holds->empty()) {
            std::next(s.now.holds->begin(), static_cast<long>(draw.below(s.now.holds->size())))->second = Film::open;
        }
    },
    [](Draw& draw, Situation& s) { // a pair is not tested
        if (s.now.holds && s.now.holds->size() > 1) {
            s.now.holds->erase(std::next(s.now.holds->begin(), static_cast<long>(draw.below(s.now.holds->size()))));
        }
    },
    [](Draw& draw, Situation& s) { // a mark is gone
        if (s.now.marks && !s.now.marks->marks.empty()) {
            s.now.marks->marks.erase(s.now.marks->marks.begin() +
                                     static_cast<long>(draw.below(s.now.marks->marks.size())));
        }
    },
    [](Draw& draw, Situation& s) { // a heavy mark on the restoration
        if (s.now.marks) {
            Mark mark = random_mark(draw, draw.one_of(s.treated), Stage::centric);
            mark.weight = Weight::heavy;
            mark.where = Where::restoration;
            put(*s.now.marks, mark);
        }
    },
    [](Draw& draw, Situation& s) { // an eccentric mark where no centric one is
        const auto teeth = back_teeth_of_all();
        if (s.now.marks && s.now.marks->has_eccentric()) {
            Mark mark = random_mark(draw, draw.one_of(teeth), static_cast<Stage>(1 + draw.below(3)));
            mark.weight = Weight::heavy;
            mark.where = is_treated(s, mark.tooth) ? Where::restoration : Where::not_said;
            s.now.marks->stages.insert(mark.stage);
            put(*s.now.marks, mark);
        }
    },
    [](Draw& draw, Situation& s) { // where a mark lies is not said
        if (s.now.marks && !s.now.marks->marks.empty()) {
            draw.one_of(s.now.marks->marks).where = Where::not_said;
            std::sort(s.now.marks->marks.begin(), s.now.marks->marks.end());
        }
    },
    [](Draw& draw, Situation& s) { s.sound = draw.one_in(2) ? Verdict::different : Verdict::unclear; },
    [](Draw&, Situation& s) { s.feel = Feel::high; },
    [](Draw&, Situation& s) { // numb; to know it at last is no fault
        if (s.numb) {
            s.numb = true;
        }
    },
    [](Draw&, Situation& s) { s.numb.reset(); },
    [](Draw&, Situation& s) { s.warnings.push_back({"a tooth that is loose"}); },
    [](Draw& draw, Situation& s) { s.decided = draw.one_in(2) ? Action::wait : Action::adjust; },
};

/// A visit after the work, as before in every check, then with up to three faults and now and then another thing.
Situation random_situation(Draw& draw) {
    Situation s;
    const auto teeth = back_teeth_of_all();
    std::set<Tooth> treated = {draw.one_of(teeth)};
    if (draw.one_in(4)) {
        treated.insert(draw.one_of(teeth));
    }
    s.treated.assign(treated.begin(), treated.end());
    s.before.holds.emplace();
    for (const Tooth tooth : all_teeth()) {
        if (tooth.arch() == Arch::upper && tooth.place() < 8 && !draw.one_in(150)) {
            const auto film = draw.one_in(8) ? static_cast<Film>(draw.below(4)) : Film::hold;
            (*s.before.holds)[pair_of(tooth)] = film;
        }
    }
    s.before.marks.emplace();
    s.before.marks->stages = {Stage::centric};
    for (const Tooth tooth : teeth) {
        if (is_treated(s, tooth) || draw.one_in(3)) {
            for (const Spot spot : spots_of(tooth)) {
                if (role(tooth, spot) == CuspRole::supporting) {
                    put(*s.before.marks, {tooth, {spot, {}}, Stage::centric});
                }
            }
        }
    }
    s.before_has_sound = !draw.one_in(30);
    s.restored = true;
    s.now = s.before;
    for (Mark& mark : s.now.marks->marks) {
        if (is_treated(s, mark.tooth)) {
            mark.where = draw.one_in(2) ? Where::restoration : Where::beside;
        }
    }
    s.now.marks->stages = {Stage::centric, Stage::working, Stage::non_working, Stage::protrusive};
    s.now.marks->centric_again = draw.one_in(2);
    s.now_has_sound = true;
    s.sound = Verdict::alike;
    s.numb = false;
    s.feel = Feel::comfortable;
    for (std::size_t left = draw.below(4); left > 0; --left) {
        draw.one_of(faults)(draw, s);
    }
    if (draw.one_in(20)) {
        s.now.holds.reset();
    }
    if (draw.one_in(20)) {
        s.now.marks.reset();
    }
    if (draw.one_in(15)) {
        s.crossbite.teeth = back_teeth(draw.one_in(2) ? Side::right : Side::left);
    }
    if (draw.one_in(10)) {
        s.sound = SoundSays(Verdict::different, 20.0, FirstContact::earlier);
    }
    if (draw.one_in(12)) {
        s.restored = false;
        s.now = {};
        s.sound.reset();
        s.now_has_sound = false;
    }
    return s;
}

int holds_in(const HoldChart& chart) {
    int holds = 0;
    for (const auto& [pair, film] : chart) {
        holds += film == Film::hold ? 1 : 0;
    }
    return holds;
}

bool marked_at(const MarkChart& chart, const Mark& there, bool centric) {
    for (const Mark& mark : chart.marks) {
        if (mark.tooth == there.tooth && mark.place == there.place && (mark.stage == Stage::centric) == centric) {
            return true;
        }
    }
    return false;
}

/// Something of the film is open: not all tried before the work, few holds, or not the same now.
bool film_open(const Situation& s) {
    if (!s.before.holds || !s.now.holds || holds_in(*s.before.holds) < 4) {
        return true;
    }
    for (const Tooth tooth : all_teeth()) {
        if (tooth.arch() == Arch::upper && tooth.place() < 8 && !s.before.holds->contains(pair_of(tooth))) {
            return true;
        }
    }
    for (const auto& [pair, film] : *s.before.holds) {
        const auto now = s.now.holds->find(pair);
        if (film != Film::untestable && (now == s.now.holds->end() || now->second == Film::untestable ||
                                         (now->second == Film::hold) != (film == Film::hold))) {
            return true;
        }
    }
    return false;
}

/// Something of the marks is open: gone, not placed, a tooth without any stop, an eccentric mark that nobody looked at.
bool marks_open(const Situation& s) {
    if (!s.before.marks || !s.now.marks || !s.now.marks->has_stage(Stage::centric) || !s.now.marks->has_eccentric()) {
        return true;
    }
    for (const Mark& mark : s.before.marks->marks) {
        if (mark.stage == Stage::centric && !marked_at(*s.now.marks, mark, true)) {
            return true;
        }
    }
    for (const Mark& mark : s.now.marks->marks) {
        const bool eccentric = mark.stage != Stage::centric;
        if (eccentric && !mark.tooth.front() && !marked_at(*s.now.marks, mark, true)) {
            return true;
        }
        if (!eccentric && is_treated(s, mark.tooth) && mark.where == Where::not_said) {
            return true;
        }
    }
    for (const Tooth tooth : s.treated) {
        bool stop = false;
        for (const Mark& mark : s.now.marks->marks) {
            stop = stop || (mark.tooth == tooth && is_stop(mark, s.crossbite));
        }
        if (!stop) {
            return true;
        }
    }
    return false;
}

bool anything_open(const Situation& s) {
    const bool warned = std::ranges::any_of(
        s.warnings, [](const Warning& warning) { return warning.raised_with.empty() || warning.decided.empty(); });
    return !s.restored || film_open(s) || marks_open(s) || !s.before_has_sound || !s.now_has_sound ||
           !(s.sound == Verdict::alike) || s.feel != Feel::comfortable || s.numb != false || warned ||
           s.decided == Action::wait || s.decided == Action::adjust;
}

enum class Calm { done, enough_today, open };

Calm calm(const std::vector<std::string>& ids) {
    if (std::ranges::find(ids, "done") != ids.end()) {
        return Calm::done;
    }
    return std::ranges::find(ids, "comfortable-while-numb") != ids.end() ? Calm::enough_today : Calm::open;
}

Tooth mirrored(Tooth tooth) {
    return {tooth.arch(), opposite(tooth.side()), tooth.place()};
}

std::vector<Tooth> mirrored(std::vector<Tooth> teeth) {
    for (Tooth& tooth : teeth) {
        tooth = mirrored(tooth);
    }
    std::sort(teeth.begin(), teeth.end());
    return teeth;
}

LookCharts mirrored(const LookCharts& charts) {
    LookCharts other;
    if (charts.holds) {
        other.holds.emplace();
        for (const auto& [pair, film] : *charts.holds) {
            (*other.holds)[{mirrored(pair.upper), mirrored(pair.lower)}] = film;
        }
    }
    if (charts.marks) {
        other.marks = charts.marks;
        for (Mark& mark : other.marks->marks) {
            mark.tooth = mirrored(mark.tooth);
        }
        std::sort(other.marks->marks.begin(), other.marks->marks.end());
    }
    return other;
}

Situation mirrored(Situation s) {
    s.treated = mirrored(s.treated);
    s.before = mirrored(s.before);
    s.now = mirrored(s.now);
    if (s.crossbite.teeth) {
        s.crossbite.teeth = mirrored(*s.crossbite.teeth);
    }
    return s;
}

/// The words and numbers of a sentence; each tooth number as `rename` has it. Counts of pairs are no teeth.
template <class Rename>
std::vector<std::string> words_of(const std::string& sentence, Rename rename) {
    const bool counts = sentence.find("tested pair") != std::string::npos;
    std::vector<std::string> words;
    std::string word;
    const auto end = [&] {
        if (!word.empty()) {
            const bool number = word.front() >= '0' && word.front() <= '9';
            words.push_back(number && !counts ? rename(std::stoi(word)) : number ? word : rename(word));
        }
        word.clear();
    };
    for (const char c : sentence) {
        const bool part = (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
        if (part) {
            word += c;
        } else {
            end();
        }
    }
    end();
    return words;
}

struct AsItIs {
    std::string operator()(int number) const { return std::to_string(number); }
    std::string operator()(const std::string& word) const { return word; }
};

struct Mirrored {
    std::string operator()(int number) const {
        const auto tooth = Tooth::from_number(number, Numbering::iso);
        return tooth ? name(mirrored(*tooth), Numbering::iso) : std::to_string(number);
    }
    std::string operator()(const std::string& word) const {
        return word == "right" ? "left" : word == "left" ? "right" : word;
    }
};

struct InUniversal {
    std::string operator()(int number) const {
        const auto tooth = Tooth::from_number(number, Numbering::iso);
        return tooth ? name(*tooth, Numbering::universal) : std::to_string(number);
    }
    std::string operator()(const std::string& word) const { return word; }
};

/// Everything that is said, sentence by sentence.
std::vector<std::string> said(const Situation& s, Numbering numbering) {
    std::vector<std::string> all;
    const Assessment a(s);
    for (const Advice& advice : next_steps(a, numbering)) {
        all.push_back(std::string(advice.rule->id) + " " + std::string(word(advice.step)));
        all.insert(all.end(), advice.evidence.begin(), advice.evidence.end());
        for (const MarkNote& note : advice.marks) {
            all.push_back(note.sentence + " " + note.movement);
        }
    }
    for (const Question& question : open_questions(a, numbering)) {
        all.push_back(question.text);
    }
    for (const Contradiction& one : contradictions(a, numbering)) {
        all.push_back(one.sentence + " " + std::string(one.first));
    }
    return all;
}

template <class Rename>
std::vector<std::string> all_words(const std::vector<std::string>& sentences, Rename rename) {
    std::vector<std::string> words;
    for (const std::string& sentence : sentences) {
        const auto more = words_of(sentence, rename);
        words.insert(words.end(), more.begin(), more.end());
    }
    return words;
}

std::vector<std::string> sorted(std::vector<std::string> words) {
    for (std::string& word : words) {
        word.front() =
            word.front() >= 'A' && word.front() <= 'Z' ? static_cast<char>(word.front() - 'A' + 'a') : word.front();
    }
    std::sort(words.begin(), words.end());
    return words;
}

/// The words that stand in one of two sorted lists only, for a failure to be read.
std::string difference(const std::vector<std::string>& a, const std::vector<std::string>& b) {
    std::vector<std::string> words;
    std::set_symmetric_difference(a.begin(), a.end(), b.begin(), b.end(), std::back_inserter(words));
    std::string text;
    for (const std::string& word : words) {
        text += word + " ";
    }
    return text;
}

} // namespace

TEST_CASE("nothing that is open is ever followed by done (random charts, seed 16001)") {
    Draw draw(16001);
    int done = 0;
    int open = 0;
    for (int round = 0; round < rounds; ++round) {
        const Situation s = random_situation(draw);
        const auto found = test::ids(s);
        CAPTURE(round);
        REQUIRE_FALSE(found.empty());
        const bool ended = calm(found) == Calm::done;
        if (anything_open(s)) {
            REQUIRE_FALSE(ended);
            ++open;
        }
        done += ended ? 1 : 0;
    }
    // both kinds came up, or the test would say nothing
    CHECK(done > rounds / 40);
    CHECK(open > rounds / 4);
}

TEST_CASE("adding a fault never makes the advice calmer (random charts, seed 16002)") {
    Draw draw(16002);
    std::map<Calm, int> before;
    for (int round = 0; round < rounds; ++round) {
        const Situation s = random_situation(draw);
        Situation worse = s;
        draw.one_of(faults)(draw, worse);
        const auto found = test::ids(s);
        const auto then = test::ids(worse);
        CAPTURE(round);
        if (s.restored) {
            REQUIRE(calm(then) >= calm(found));
        }
        ++before[calm(found)];
    }
    CHECK(before[Calm::done] > rounds / 40);
    CHECK(before[Calm::enough_today] > rounds / 200);
    CHECK(before[Calm::open] > rounds / 4);
}

TEST_CASE("swapping left and right changes the names and nothing else (random charts, seed 16003)") {
    Draw draw(16003);
    for (int round = 0; round < rounds; ++round) {
        const Situation s = random_situation(draw);
        CAPTURE(round);
        REQUIRE(test::ids(s) == test::ids(mirrored(s)));
        // teeth are listed along the arch, so their order turns round with them
        const auto here = sorted(all_words(said(s, Numbering::iso), Mirrored()));
        const auto there = sorted(all_words(said(mirrored(s), Numbering::iso), AsItIs()));
        CAPTURE(difference(here, there));
        REQUIRE(here == there);
    }
}

TEST_CASE("the numbering changes the names and nothing else (random charts, seed 16004)") {
    Draw draw(16004);
    for (int round = 0; round < rounds; ++round) {
        const Situation s = random_situation(draw);
        CAPTURE(round);
        REQUIRE(all_words(said(s, Numbering::iso), InUniversal()) ==
                all_words(said(s, Numbering::universal), AsItIs()));
    }
}

TEST_CASE("no advice ever says to take tooth away (random charts, seed 16005)") {
    Draw draw(16005);
    for (int round = 0; round < rounds; ++round) {
        const Situation s = random_situation(draw);
        auto sentences = said(s, Numbering::iso);
        for (const Advice& advice : next_steps(Assessment(s), Numbering::iso)) {
            sentences.emplace_back(advice.rule->suggestion);
            sentences.emplace_back(advice.rule->why);
        }
        for (const std::string& sentence : sentences) {
            for (const char* word :
                 {"emove", "rind", "educe", "rill", "rim ", "polish", "take off", "shorten", "deepen"}) {
                CAPTURE(sentence);
                REQUIRE(sentence.find(word) == std::string::npos);
            }
        }
    }
}
