#include "chairside/worklist.hpp"

#include "temp_folder.hpp"
#include "time_zone.hpp"
#include "visit/invented_visit.hpp"
#include "visit/sqlite_store.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

using namespace retap;
using chairside::worklist_json;
using report::Json;
using visit::VisitId;

namespace {

struct ClinicList {
    test::TempFolder folder;
    visit::SqliteStore store{folder / "visits.db"};

    VisitId open(const std::string& label, const std::string& at) {
        visit::Opened opened = test::filling_on_16();
        opened.label = label;
        return store.open_visit({at, "A. Student"}, opened);
    }
    void decide(VisitId id, visit::Action action, const std::string& at) {
        store.add(id, {{at, "B. Teacher"}, test::after, {}, visit::Decided{action, ""}});
    }
};

std::vector<std::string> labels(const Json& lines) {
    std::vector<std::string> found;
    for (const Json& line : lines) {
        found.push_back(line.at("label").get<std::string>());
    }
    return found;
}

using Labels = std::vector<std::string>;

chairside::Moment moment(const char* utc) {
    return *visit::moment_from(utc);
}

} // namespace

TEST_CASE("the worklist says what is to be rechecked, to be signed, and was begun today") {
    const test::TimeZone zone("UTC");
    ClinicList clinic;
    const VisitId waits = clinic.open("C-1", "2031-05-13T08:00:00Z");
    clinic.store.add(waits, test::feel(test::after, true, chart::Feel::high));
    clinic.decide(waits, visit::Action::wait, "2031-05-13T09:00:00Z");
    clinic.store.add(waits, test::signature());
    const VisitId waits_longer = clinic.open("C-2", "2031-05-13T08:30:00Z");
    clinic.store.add(waits_longer, test::holds(test::after, "hold 16"));
    clinic.decide(waits_longer, visit::Action::wait, "2031-05-13T08:50:00Z");
    const VisitId forgotten = clinic.open("C-3", "2031-05-12T08:00:00Z");
    clinic.store.add(forgotten, test::holds(test::before, "hold 16"));
    (void)clinic.open("empty", "2031-05-12T08:00:00Z");
    const VisitId seated = clinic.open("C-4", "2031-05-14T08:00:00Z");
    clinic.store.add(seated, test::holds(test::before, "hold 16"));
    const VisitId worked = clinic.open("C-5", "2031-05-14T09:00:00Z");
    clinic.store.add(worked, test::holds(test::after, "hold 16"));

    const Json list = worklist_json(clinic.store, moment("2031-05-14T12:00:00Z"));
    CHECK(labels(list.at("toRecheck")) == Labels{"C-2", "C-1"});
    CHECK(labels(list.at("toSign")) == Labels{"C-3", "C-2", "C-5"});
    CHECK(labels(list.at("today")) == Labels{"C-5", "C-4"});
    const Json& line = list.at("toRecheck").at(1);
    CHECK(line.at("waiting") ==
          Json{{"since", "Yesterday, 09:00"}, {"by", "B. Teacher"}, {"numb", true}, {"due", true}});
    CHECK(list.at("toRecheck").at(0).at("waiting").at("numb").is_null());
    CHECK(list.at("today").at(0).at("waiting").is_null());
    CHECK(line.at("clinician") == "A. Student");
    CHECK(line.at("signed") == true);
}

TEST_CASE("who was told to wait today is not due before tomorrow, by the day of the place") {
    const test::TimeZone zone("XYZ-3"); // three hours ahead
    ClinicList clinic;
    const VisitId id = clinic.open("C-1", "2031-05-14T19:00:00Z");
    clinic.store.add(id, test::holds(test::after, "hold 16"));
    clinic.decide(id, visit::Action::wait, "2031-05-14T20:00:00Z");
    const auto due = [&](const char* now) {
        return worklist_json(clinic.store, moment(now)).at("toRecheck").at(0).at("waiting").at("due").get<bool>();
    };
    CHECK_FALSE(due("2031-05-14T20:30:00Z"));
    CHECK(due("2031-05-14T21:30:00Z")); // half past midnight there
}

TEST_CASE("visits are found by a part of their label, and by nothing else of them") {
    ClinicList clinic;
    (void)clinic.open("C-1042", "2031-05-14T08:00:00Z");
    (void)clinic.open("D-7", "2031-05-14T08:30:00Z");
    const auto now = moment("2031-05-14T12:00:00Z");
    CHECK(labels(chairside::visits_json(clinic.store, "c-10", now).at("visits")) == Labels{"C-1042"});
    CHECK(labels(chairside::visits_json(clinic.store, "student", now).at("visits")).empty());
    CHECK(labels(chairside::visits_json(clinic.store, "", now).at("visits")) == Labels{"D-7", "C-1042"});
}
