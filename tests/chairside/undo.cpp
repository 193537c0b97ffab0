#include "chairside/undo.hpp"

#include "chart/notation.hpp"
#include "visit/invented_visit.hpp"
#include "visit/visit.hpp"

#include <doctest/doctest.h>

#include <vector>

using namespace retap;
using chairside::undo_of;
using test::after;
using test::before;
using visit::Body;
using visit::Correction;
using visit::LookName;

namespace {

/// Entries in memory, numbered and folded as the store does it.
struct Book {
    std::vector<visit::Entry> entries;

    Book() {
        visit::Opened opened;
        opened.label = "0417";
        opened.treated = chart::read_teeth("16", chart::Numbering::iso);
        add({}, opened);
    }
    int add(std::optional<LookName> look, Body body, std::optional<Correction> correction = {}) {
        visit::Entry entry;
        entry.stamp = {"2031-05-14T08:32:07Z", "somebody"};
        entry.look = look;
        entry.body = std::move(body);
        entry.correction = std::move(correction);
        entry.number = static_cast<int>(entries.size()) + 1;
        entries.push_back(std::move(entry));
        return entries.back().number;
    }
    [[nodiscard]] visit::Visit visit() const { return visit::fold(1, "uid", entries); }
    /// Does what undo says; false when there is nothing to undo.
    bool undo() {
        const auto step = undo_of(visit());
        if (step) {
            add(step->entry.look, step->entry.body, step->entry.correction);
        }
        return step.has_value();
    }
    [[nodiscard]] std::string holds(const LookName& look) const {
        const visit::Visit now = visit();
        const visit::Look* const found = now.look(look);
        return found != nullptr && found->holds ? chart::write_holds(found->holds->content.holds, chart::Numbering::iso)
                                                : "";
    }
};

visit::HoldsCharted holds(const char* text) {
    return {chart::read_holds(text, chart::Numbering::iso)};
}

} // namespace

TEST_CASE("A visit that was only opened has nothing to undo") {
    CHECK_FALSE(undo_of(Book().visit()));
}

TEST_CASE("Undoing a chart takes it away; the words say which") {
    Book book;
    book.add(before, holds("hold 16"));
    CHECK(undo_of(book.visit())->words == "film, Before");
    CHECK(book.undo());
    CHECK(book.holds(before).empty());
    CHECK_FALSE(book.undo());
}

TEST_CASE("Undoing goes back through every version of a chart, one at a time") {
    Book book;
    const int first = book.add(before, holds("hold 16"));
    const std::string one = book.holds(before);
    const int second = book.add(before, holds("hold 16 17"), Correction{first, "again"});
    const std::string two = book.holds(before);
    book.add(before, holds("open 16"), Correction{second, "again"});
    CHECK(book.undo());
    CHECK(book.holds(before) == two);
    CHECK(book.undo());
    CHECK(book.holds(before) == one);
    CHECK(book.undo());
    CHECK(book.holds(before).empty());
    CHECK_FALSE(book.undo());
}

TEST_CASE("Undoing goes back over looks in the order of entering, and something new can be undone first") {
    Book book;
    book.add(before, holds("hold 16"));
    book.add(after, holds("slide 16"));
    CHECK(book.undo());
    CHECK(book.holds(after).empty());
    book.add(after, holds("open 16"));
    CHECK(undo_of(book.visit())->words == "film, After");
    CHECK(book.undo());
    CHECK(undo_of(book.visit())->words == "film, Before");
}

TEST_CASE("What was withdrawn by hand comes back, and can then be undone itself") {
    Book book;
    const int entry = book.add(before, holds("hold 16"));
    const std::string text = book.holds(before);
    book.add(before, visit::Withdrawn{}, Correction{entry, "by hand"});
    CHECK(book.undo());
    CHECK(book.holds(before) == text);
    CHECK(book.undo());
    CHECK(book.holds(before).empty());
    CHECK_FALSE(book.undo());
}

TEST_CASE("A withdrawn take comes back with its content") {
    Book book;
    visit::TakeKept take;
    take.name = "before.flac";
    take.sound_sha256 = "abc";
    const int entry = book.add(before, take);
    book.add(before, visit::Withdrawn{}, Correction{entry, "by hand"});
    const auto step = undo_of(book.visit());
    REQUIRE(step);
    CHECK(step->take_again == entry);
    CHECK(book.undo());
    CHECK(book.visit().baseline()->takes.size() == 1);
    CHECK(undo_of(book.visit())->words == "take, Before");
}

TEST_CASE("Comparisons are no steps, details are, and a signed visit has none") {
    Book book;
    visit::Opened renamed = book.visit().opened.content;
    renamed.label = "0418";
    book.add({}, renamed, Correction{1, "details"});
    book.add(before, holds("hold 16"));
    book.add(after, visit::Compared{});
    CHECK(undo_of(book.visit())->words == "film, Before");
    CHECK(book.undo());
    CHECK(undo_of(book.visit())->words == "details");
    CHECK(book.undo());
    CHECK(book.visit().opened.content.label == "0417");
    book.add({}, visit::Signed{});
    CHECK_FALSE(undo_of(book.visit()));
}
