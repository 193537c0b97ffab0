#include "visit/chain.hpp"

#include "invented_visit.hpp"
#include "visit/sha256.hpp"

#include <doctest/doctest.h>

using namespace retap;
using namespace retap::visit;

namespace {

std::vector<Entry> whole() {
    const std::vector<NewEntry> news = {{test::morning, {}, {}, test::filling_on_16()},
                                        test::holds(test::before, "hold 16 17"),
                                        test::correcting(2, test::holds(test::before, "hold 16")),
                                        test::signature()};
    std::vector<Entry> entries;
    std::string digest;
    for (const NewEntry& entry : news) {
        const int number = static_cast<int>(entries.size()) + 1;
        digest = chained_digest(digest, "uid", number, entry);
        entries.push_back({entry, number, digest});
    }
    return entries;
}

} // namespace

TEST_CASE("the digest is SHA-256 over the parts as they are documented") {
    // written out by hand: each part is its length, a colon, the text and a line end
    NewEntry entry = test::signature();
    const std::string content =
        "retap.entry/1\n3:abc\n3:uid\n1:4\n6:signed\n0:\n20:2031-05-14T10:00:00Z\n10:B. Teacher\n0:\n0:\n"
        "50:role=supervising dentist\ncomment=Seen and agreed.\n\n";
    CHECK(chained_digest("abc", "uid", 4, entry) == sha256(content));
}

TEST_CASE("a whole chain has no faults") {
    CHECK(faults_of_chain("uid", whole()).empty());
}

TEST_CASE("any change to any part of any entry shows at that entry") {
    for (std::size_t i = 0; i < whole().size(); ++i) {
        CAPTURE(i);
        const auto fault_after = [&](auto change) {
            auto entries = whole();
            change(entries[i]);
            const auto faults = faults_of_chain("uid", entries);
            return faults.empty() ? std::string() : faults.front();
        };
        const std::string here = "Entry " + std::to_string(i + 1) + " (";
        CHECK(fault_after([](Entry& e) { e.stamp.at = "2031-05-14T08:30:01Z"; }).find(here) == 0);
        CHECK(fault_after([](Entry& e) { e.stamp.by += "x"; }).find(here) == 0);
        CHECK(fault_after([](Entry& e) { e.look = test::after2; }).find(here) == 0);
        CHECK(fault_after([](Entry& e) { e.correction = Correction{1, "other"}; }).find(here) == 0);
        CHECK(fault_after([](Entry& e) { e.digest.back() = e.digest.back() == '0' ? '1' : '0'; }).find(here) == 0);
    }
    auto entries = whole();
    std::get<HoldsCharted>(entries[1].body).holds.begin()->second = chart::Film::open;
    CHECK(faults_of_chain("uid", entries) == std::vector<std::string>{"Entry 2 (holds) is not what was written."});
}

TEST_CASE("moving text from one part to the next shows: parts carry their lengths") {
    const NewEntry one{{"2031-05-14T10:00:00Z", "AB"}, {}, {}, Signed{"C", ""}};
    const NewEntry other{{"2031-05-14T10:00:00ZA", "B"}, {}, {}, Signed{"C", ""}};
    CHECK(chained_digest("", "uid", 1, one) != chained_digest("", "uid", 1, other));
}

TEST_CASE("removed, reordered and added entries show, and so does another visit's uid") {
    auto removed = whole();
    removed.erase(removed.begin() + 1);
    CHECK(faults_of_chain("uid", removed) == std::vector<std::string>{"Entry 2 is missing."});

    auto swapped = whole();
    std::swap(swapped[1].body, swapped[2].body);
    CHECK(faults_of_chain("uid", swapped).size() == 2);

    auto added = whole();
    Entry more{test::holds(test::after, "hold 16"), 5, {}};
    more.digest = chained_digest(added.back().digest, "uid", 5, more);
    added.push_back(more);
    CHECK(faults_of_chain("uid", added) == std::vector<std::string>{"Something was added after the visit was signed."});

    CHECK(faults_of_chain("other", whole()).size() == 4);
    CHECK(faults_of_chain("uid", {}).size() == 1);
}
