#include "chart/notation_scanner.hpp"

#include <algorithm>
#include <array>
#include <utility>

namespace retap::chart {

namespace {

constexpr std::array<std::pair<std::string_view, Stage>, 9> stage_words = {{
    {"centric", Stage::centric},
    {"cen", Stage::centric},
    {"working", Stage::working},
    {"work", Stage::working},
    {"nonworking", Stage::non_working},
    {"non", Stage::non_working},
    {"protrusive", Stage::protrusive},
    {"pro", Stage::protrusive},
    {"prot", Stage::protrusive},
}};

constexpr std::array<std::pair<std::string_view, Facing>, 4> facing_words = {{
    {"in", Facing::inner},
    {"out", Facing::outer},
    {"mes", Facing::mesial},
    {"dis", Facing::distal},
}};

template <class Table>
auto look_up(const Table& table, std::string_view key) -> std::optional<decltype(table[0].second)> {
    const auto found = std::find_if(table.begin(), table.end(), [key](const auto& row) { return row.first == key; });
    return found == table.end() ? std::nullopt : std::optional(found->second);
}

std::string upper_case(std::string letters) {
    for (char& c : letters) {
        c = static_cast<char>(c - 'a' + 'A');
    }
    return letters;
}

std::string codes_of(Tooth tooth) {
    std::string codes;
    for (const Spot spot : spots_of(tooth)) {
        codes += (codes.empty() ? "" : " ") + code(tooth, spot);
    }
    return codes;
}

/// A stage word after its letters were read, "non-working" with its hyphen included.
std::optional<Stage> stage_from(NotationScanner& scanner, const std::string& letters) {
    if (letters == "non" && scanner.take("-")) {
        const std::size_t start = scanner.at();
        if (const std::string rest = scanner.take_letters(); rest != "working" && rest != "work") {
            scanner.fail(start, "expected non-working");
        }
        return Stage::non_working;
    }
    return look_up(stage_words, letters);
}

Place take_place_after(NotationScanner& scanner, Tooth tooth, const std::string& letters, std::size_t start) {
    const auto spot = spot_from(tooth, upper_case(letters));
    if (!spot) {
        scanner.fail(start, "\"" + upper_case(letters) + "\" is not a place on " + name(tooth, scanner.numbering()) +
                                " (" + plain_name(tooth) + "); it has " + codes_of(tooth));
    }
    if (!scanner.take("/")) {
        return {*spot, std::nullopt};
    }
    if (!has_inclines(*spot)) {
        scanner.fail(scanner.at() - 1, "a " + plain_name(tooth, Place{*spot, std::nullopt}) + " has no inclines");
    }
    const std::size_t facing_start = scanner.at();
    const auto facing = look_up(facing_words, scanner.take_letters());
    if (!facing) {
        scanner.fail(facing_start, "an incline is /in, /out, /mes or /dis");
    }
    return {*spot, facing};
}

/// Signs of weight and of where it lies after a place, in any order, each once.
void take_signs(NotationScanner& scanner, Mark& mark) {
    bool weighed = false;
    for (char sign = scanner.here(); sign == '+' || sign == '-' || sign == '*' || sign == '~'; sign = scanner.here()) {
        const bool places = sign == '*' || sign == '~';
        if (places && mark.where != Where::not_said) {
            scanner.fail(scanner.at(), "where the mark lies is given twice; * is on the restoration, ~ beside it");
        }
        if (!places && weighed) {
            scanner.fail(scanner.at(), "the weight of the mark is given twice");
        }
        if (places) {
            mark.where = sign == '*' ? Where::restoration : Where::beside;
        } else {
            weighed = true;
            mark.weight = sign == '+' ? Weight::heavy : Weight::light;
        }
        scanner.take(std::string_view(&sign, 1));
    }
}

class MarksReader {
public:
    MarksReader(std::string_view text, Numbering numbering) : scanner_(text, numbering) {}

    MarkChart read() {
        if (scanner_.at_end()) {
            scanner_.fail(scanner_.at(), "it is empty; write, for example, centric 16 MP CF; or centric none");
        }
        while (!scanner_.at_end()) {
            read_item();
        }
        require_content(scanner_.at());
        std::sort(chart_.marks.begin(), chart_.marks.end());
        return chart_;
    }

private:
    void read_item() {
        const std::size_t start = scanner_.at();
        if (scanner_.at_digit()) {
            open_group_if_none();
            if (tooth_ && !tooth_has_place_) {
                scanner_.fail(start, "no place was given for " + name(*tooth_, scanner_.numbering()));
            }
            tooth_ = scanner_.take_tooth();
            tooth_has_place_ = false;
            return;
        }
        const std::string letters = scanner_.take_letters();
        if (letters.empty()) {
            scanner_.fail(start, "expected a tooth number, a place on a tooth, or a stage");
        }
        if (letters == "none") {
            read_none(start);
        } else if (letters == "again") {
            read_again(start);
        } else if (const auto stage = stage_from(scanner_, letters)) {
            start_group(*stage, start);
        } else {
            read_mark(letters, start);
        }
    }

    void open_group_if_none() {
        if (!stage_) {
            stage_ = Stage::centric;
            chart_.stages.insert(Stage::centric);
        }
        if (none_) {
            scanner_.fail(scanner_.at(), "this group was said to be none");
        }
    }

    void read_none(std::size_t start) {
        open_group_if_none();
        if (tooth_) {
            scanner_.fail(start, "\"none\" stands alone in its group");
        }
        none_ = true;
    }

    /// Closes the group before it; says that what carries both stages can be told.
    void read_again(std::size_t start) {
        if (!stage_ || !chart_.has_eccentric()) {
            scanner_.fail(start, "\"again\" says that centric was marked again over a movement; no movement (working, "
                                 "non-working, protrusive) stands before it");
        }
        require_content(start);
        if (chart_.centric_again) {
            scanner_.fail(start, "\"again\" is given twice");
        }
        chart_.centric_again = true;
    }

    void start_group(Stage stage, std::size_t start) {
        if (stage_) {
            require_content(start);
        }
        if (!chart_.stages.insert(stage).second) {
            scanner_.fail(start, "there are two " + std::string(word(stage)) + " groups");
        }
        stage_ = stage;
        tooth_.reset();
        none_ = false;
    }

    /// A group says something: marks that are complete, or none.
    void require_content(std::size_t at) const {
        if (tooth_ && !tooth_has_place_) {
            scanner_.fail(at, "no place was given for " + name(*tooth_, scanner_.numbering()));
        }
        if (!tooth_ && !none_) {
            scanner_.fail(at, "nothing follows \"" + std::string(word(*stage_)) +
                                  "\"; if paper was used and left nothing, write none");
        }
    }

    void read_mark(const std::string& letters, std::size_t start) {
        if (!tooth_) {
            scanner_.fail(start, "\"" + letters +
                                     "\" is not a stage (centric, working, non-working, protrusive), and no "
                                     "tooth was given for it to be a place on");
        }
        Mark mark{*tooth_, take_place_after(scanner_, *tooth_, letters, start), *stage_, Weight::even, Where::not_said};
        take_signs(scanner_, mark);
        const bool twice = std::any_of(chart_.marks.begin(), chart_.marks.end(), [&](const Mark& other) {
            return other.tooth == mark.tooth && other.place == mark.place && other.stage == mark.stage;
        });
        if (twice) {
            scanner_.fail(start, "the " + plain_name(mark, scanner_.numbering()) + " is marked twice in this stage");
        }
        chart_.marks.push_back(mark);
        tooth_has_place_ = true;
    }

    NotationScanner scanner_;
    MarkChart chart_;
    std::optional<Stage> stage_;
    std::optional<Tooth> tooth_;
    bool tooth_has_place_ = false;
    bool none_ = false;
};

std::string signs(const Mark& mark) {
    std::string text;
    if (mark.weight != Weight::even) {
        text += mark.weight == Weight::heavy ? "+" : "-";
    }
    if (mark.where != Where::not_said) {
        text += mark.where == Where::restoration ? "*" : "~";
    }
    return text;
}

} // namespace

MarkChart read_marks(std::string_view text, Numbering numbering) {
    return MarksReader(text, numbering).read();
}

std::string write_marks(const MarkChart& chart, Numbering numbering) {
    std::string text;
    for (const Stage stage : chart.stages) {
        text += (text.empty() ? "" : "; ") + std::string(word(stage));
        std::optional<Tooth> tooth;
        for (const Mark& mark : chart.of(stage)) {
            if (tooth != mark.tooth) {
                text += " " + name(mark.tooth, numbering);
                tooth = mark.tooth;
            }
            text += " " + code(mark.tooth, mark.place) + signs(mark);
        }
        if (!tooth) {
            text += " none";
        }
    }
    return chart.centric_again ? text + "; again" : text;
}

} // namespace retap::chart
