// Stops the program at each of the calls by which it changes files, starts it again, and looks at what is there:
// nothing may be lost that was promised, nothing doubled, and nothing may keep it from working. A few places of each
// deed; RETAP_STOPS=all tries every one of them.
#include "child_process.hpp"
#include "paths.hpp"
#include "report/json.hpp"
#include "temp_folder.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <functional>
#include <string>
#include <vector>

using namespace retap::test;
using json = retap::report::Json;
namespace fs = std::filesystem;

namespace {

/// Before each call and in the middle of it ("3half"), or in as many places as are wanted, evenly spread.
std::vector<std::string> stops_among(std::size_t calls) {
    constexpr std::size_t few = 3;
    const char* text = std::getenv("RETAP_STOPS");
    const bool all = text != nullptr && std::string(text) == "all";
    const std::size_t wanted = all ? 2 * calls : text == nullptr ? few : std::strtoul(text, nullptr, 10);
    std::vector<std::string> stops;
    for (std::size_t i = 0; i < wanted; ++i) {
        const std::size_t at = (2 * i + 1) * calls / (2 * wanted) + 1;
        stops.push_back(std::to_string(std::min(at, calls)) + (i % 2 == 0 ? "" : "half"));
    }
    return stops;
}

struct Ran {
    int status = 0;
    std::string out{};
    std::string err{};
};

constexpr int killed = 137;

/// A store with one visit in a folder of its own, and the program at work on it.
class Place {
public:
    explicit Place(const fs::path& from = {}) {
        if (!from.empty()) {
            fs::copy(from, work(), fs::copy_options::recursive);
        } else {
            fs::create_directory(work());
        }
    }
    [[nodiscard]] fs::path work() const { return folder_ / "work"; }
    [[nodiscard]] fs::path store() const { return work() / "visits.db"; }

    /// `stop`: where the program is stopped; empty: nowhere.
    [[nodiscard]] Ran run(std::vector<std::string> command, const std::string& stop = {}) const {
        const fs::path out = folder_ / "out";
        const fs::path err = folder_ / "err";
        fs::remove(out);
        fs::remove(err);
        ChildProcess child(std::move(command), {out, err},
                           {"LD_PRELOAD=" + binary_dir() + "/libstop_at.so", "RETAP_STOP_AT=" + stop,
                            "RETAP_STOP_UNDER=" + work().string(), "RETAP_STOP_COUNT=" + (folder_ / "count").string(),
                            "HOME=" + folder_.path().string()});
        const int status = child.wait();
        return {status, bytes_of(out), bytes_of(err)};
    }
    [[nodiscard]] Ran visit(std::vector<std::string> arguments, const std::string& stop = {}) const {
        arguments.insert(arguments.begin(), {binary_dir() + "/retap", "visit"});
        arguments.insert(arguments.end(), {"--store", store().string()});
        return run(std::move(arguments), stop);
    }
    [[nodiscard]] Ran record_once(const std::string& sound = {}, const std::string& stop = {}) const {
        std::vector<std::string> command{binary_dir() + "/record_once", store().string(), "1"};
        if (!sound.empty()) {
            command.push_back(sound);
        }
        return run(std::move(command), stop);
    }
    /// Of the last run that was not stopped.
    [[nodiscard]] std::size_t calls() const { return std::strtoul(bytes_of(folder_ / "count").c_str(), nullptr, 10); }
    [[nodiscard]] std::size_t files_with(const std::string& text) const {
        return static_cast<std::size_t>(
            std::count_if(fs::recursive_directory_iterator(work()), {}, [&](const fs::directory_entry& entry) {
                return entry.is_regular_file() && bytes_of(entry.path()).find(text) != std::string::npos;
            }));
    }

private:
    TempFolder folder_;
};

const std::string label = "Q7-VERY-SPECIAL";
const std::string sound = source_dir() + "/recordings/before.flac";

void open_visit(const Place& place) {
    REQUIRE(place.visit({"new", label, "--teeth", "16", "--numbering", "iso", "--worker", "A. Student"}).status == 0);
    REQUIRE(place.visit({"holds", "1", "before", "hold 16"}).status == 0);
}

void check_whole(const Place& place) {
    const Ran verified = place.visit({"verify", "1"});
    CAPTURE(verified.out);
    CAPTURE(verified.err);
    CHECK(verified.status == 0);
}

/// Runs `work` in a copy of `before` for each place where it is stopped, and then `look`.
void stop_everywhere(const Place& before, const std::function<Ran(const Place&, const std::string&)>& work,
                     const std::function<void(const Place&)>& look) {
    const Place whole(before.work());
    {
        const Ran undisturbed = work(whole, "0");
        CAPTURE(undisturbed.err);
        REQUIRE(undisturbed.status == 0);
    }
    const std::size_t calls = whole.calls();
    REQUIRE(calls > 3);
    look(whole);
    const std::vector<std::string> stops = stops_among(calls);
    std::size_t stopped_runs = 0;
    for (const std::string& stop : stops) {
        CAPTURE(calls);
        CAPTURE(stop);
        const Place place(before.work());
        const Ran stopped = work(place, stop);
        CHECK((stopped.status == killed || stopped.status == 0)); // runs need not make equally many calls
        stopped_runs += stopped.status == killed ? 1U : 0U;
        look(place);
    }
    CHECK(stopped_runs > stops.size() / 2);
    MESSAGE(stopped_runs, " times stopped at one of ", calls, " calls");
}

/// How much of a recording there is beside its visit: bytes of its journal, and more than any when it is whole.
std::size_t left_beside(const Place& place) {
    std::size_t most = 0;
    std::error_code none;
    for (const auto& entry : fs::directory_iterator(place.work() / "visits.db.takes", none)) {
        most = std::max(most, entry.path().extension() == ".flac" ? SIZE_MAX : fs::file_size(entry.path()));
    }
    return most;
}

/// Starts the program twice more; says whether the visit has the take.
bool found_at_the_next_start(const Place& place) {
    const Ran next = place.record_once();
    CAPTURE(next.err);
    REQUIRE(next.status == 0);
    CHECK((next.out == "1 0\n" || next.out == "0 0\n"));
    CHECK(fs::is_empty(place.work() / "visits.db.takes")); // what was heard is in the visit, and nowhere else
    CHECK(place.record_once().out == next.out);
    check_whole(place);
    return next.out == "1 0\n";
}

} // namespace

TEST_CASE("stopped anywhere while a take is recorded and kept, the program finds it at the next start, once") {
    const Place before;
    open_visit(before);
    std::size_t longest_journal = 0; // so far: it is stopped later and later
    std::size_t longest_when_lost = 0;
    std::size_t found = 0;
    stop_everywhere(
        before, [](const Place& place, const std::string& stop) { return place.record_once(sound, stop); },
        [&](const Place& place) {
            const std::size_t left = left_beside(place);
            longest_journal = std::max(longest_journal, left == SIZE_MAX ? 0 : left);
            if (found_at_the_next_start(place)) {
                ++found;
            } else {
                longest_when_lost = std::max({longest_when_lost, longest_journal, left});
            }
        });
    CHECK(found > 1);
    CHECK(longest_when_lost < longest_journal / 4); // the first tap sounds in the first quarter of the recording
}

TEST_CASE("stopped anywhere while a left take is put into its visit, the program never loses nor doubles it") {
    const Place before;
    open_visit(before);
    const Place whole(before.work());
    REQUIRE(whole.record_once(sound, "0").status == 0);
    // Late enough that there is a take, before the visit has it. A journal knows its own folder, so each has its own.
    const std::string late = std::to_string(whole.calls() / 2);
    stop_everywhere(
        before,
        [&](const Place& place, const std::string& stop) {
            REQUIRE(place.record_once(sound, late).status == killed);
            REQUIRE(left_beside(place) > 0);
            return place.record_once({}, stop);
        },
        [](const Place& place) { CHECK(found_at_the_next_start(place)); });
}

TEST_CASE("stopped anywhere while a take is attached, a visit has it or has not, and takes it then") {
    const Place before;
    open_visit(before);
    const auto attach = [](const Place& place, const std::string& stop) {
        return place.visit({"attach", "1", "before", sound}, stop);
    };
    stop_everywhere(before, attach, [&](const Place& place) {
        check_whole(place);
        const auto takes = [&] {
            return json::parse(place.visit({"show", "1", "--json"}).out).at("looks").at(0).at("takes").size();
        };
        if (takes() == 0) {
            CHECK(attach(place, "0").status == 0);
        }
        CHECK(takes() == 1);
        check_whole(place);
    });
}

TEST_CASE("stopped anywhere while a visit is signed, it is signed or open, and whole") {
    const Place before;
    open_visit(before);
    const auto sign = [](const Place& place, const std::string& stop) {
        return place.visit({"sign", "1", "--name", "B. Supervisor", "--role", "supervisor"}, stop);
    };
    stop_everywhere(before, sign, [&](const Place& place) {
        check_whole(place);
        static_cast<void>(sign(place, "0")); // refused when it is signed
        CHECK(json::parse(place.visit({"show", "1", "--json"}).out).at("closed") == true);
        check_whole(place);
    });
}

TEST_CASE("stopped anywhere while a visit is erased, it is whole or gone, and erasing again leaves nothing of it") {
    const Place before;
    open_visit(before);
    REQUIRE(before.visit({"attach", "1", "before", sound}).status == 0);
    const auto erase = [](const Place& place, const std::string& stop) {
        return place.visit({"erase", "1", "--by", "A. Student", "--reason", "test", "--yes"}, stop);
    };
    stop_everywhere(before, erase, [&](const Place& place) {
        if (place.visit({"show", "1"}).status == 0) {
            check_whole(place);
            const Ran again = erase(place, "0");
            CAPTURE(again.err);
            CHECK(again.status == 0);
        }
        CHECK(json::parse(place.visit({"list", "--erased", "--json"}).out).at("erased").size() == 1);
        CHECK(place.files_with(label) == 0);
    });
}

TEST_CASE(
    "stopped anywhere while a backup is written, there is a whole one or none, and nothing hidden after the next") {
    const Place before;
    open_visit(before);
    REQUIRE(before.visit({"attach", "1", "before", sound}).status == 0);
    const auto back_up = [](const Place& place, const std::string& stop) {
        return place.visit({"backup", (place.work() / "copy.db").string()}, stop);
    };
    stop_everywhere(before, back_up, [&](const Place& place) {
        check_whole(place);
        if (!fs::exists(place.work() / "copy.db")) {
            const Ran again = back_up(place, "0");
            CAPTURE(again.err);
            CHECK(again.status == 0);
        }
        CHECK(
            place.run({binary_dir() + "/retap", "visit", "verify", "1", "--store", (place.work() / "copy.db").string()})
                .status == 0);
        CHECK(place.visit({"backup", (place.work() / "second.db").string()}).status == 0);
        for (const auto& entry : fs::directory_iterator(place.work())) {
            CHECK_FALSE(entry.path().filename().string().starts_with('.'));
        }
    });
}
