#include "chairside/visit_desk.hpp"

#include "audio/inspect_file.hpp"
#include "audio/sound_file.hpp"
#include "audio/sound_writer.hpp"
#include "chairside/upload.hpp"
#include "chart/notation.hpp"
#include "error.hpp"
#include "paths.hpp"
#include "temp_folder.hpp"
#include "visit/invented_visit.hpp"
#include "visit/sqlite_store.hpp"

#include <doctest/doctest.h>

#include <array>
#include <span>
#include <string>
#include <string_view>
#include <vector>

using namespace retap;
using chairside::VisitDesk;
using report::Json;
using test::after;
using test::before;
using visit::LookName;

namespace {

struct Clinic {
    test::TempFolder folder;
    std::vector<visit::VisitId> changed;
    VisitDesk desk{std::make_unique<visit::SqliteStore>(folder / "visits.db"),
                   [] { return std::chrono::system_clock::from_time_t(1936612800); },
                   [this](visit::VisitId which) { changed.push_back(which); }};
    visit::VisitId id = desk.open(chart::read_teeth("16", chart::Numbering::iso), chart::Numbering::iso);

    [[nodiscard]] Json look(const std::string& name) {
        const Json visit = desk.visit(id);
        for (const Json& look : visit["looks"]) {
            if (look["id"] == name) {
                return look;
            }
        }
        return nullptr;
    }
    int keep(const LookName& name, const std::string& recording) {
        const std::string bytes = test::bytes_of(test::source_dir() + "/recordings/" + recording);
        return desk.keep_take(id, name, chairside::uploaded_take(recording, bytes));
    }
};

} // namespace

TEST_CASE("A new visit has a label from the time, its tooth, and an empty look before") {
    Clinic clinic;
    const Json visit = clinic.desk.visit(clinic.id);
    CHECK(visit["label"].get<std::string>().starts_with("Visit at "));
    CHECK(visit["teeth"] == Json::array({16}));
    CHECK(visit["looks"].size() == 1);
    CHECK(visit["looks"][0]["title"] == "Before");
    CHECK(visit["looks"][0]["film"].is_null());
    CHECK(visit["undo"].is_null());
    CHECK(clinic.changed == std::vector<visit::VisitId>{clinic.id});
    CHECK(clinic.desk.visits()["visits"][0]["state"] == "Nothing yet");
}

TEST_CASE("A chart is kept, charted again as a correction, and emptied by an empty text") {
    Clinic clinic;
    clinic.desk.set_holds(clinic.id, before, "iso: hold 16/46 17/47; slide 26/36");
    CHECK(clinic.look("before")["film"]["sentence"] == "2 of 3 hold");
    clinic.desk.set_holds(clinic.id, before, "iso: hold 16/46");
    CHECK(clinic.look("before")["film"]["pairs"].size() == 1);
    clinic.desk.set_holds(clinic.id, before, "");
    CHECK(clinic.look("before")["film"].is_null());
    clinic.desk.undo(clinic.id);
    CHECK(clinic.look("before")["film"]["pairs"].size() == 1);
    clinic.desk.undo(clinic.id);
    CHECK(clinic.look("before")["film"]["sentence"] == "2 of 3 hold");
}

TEST_CASE("Emptying what is empty writes nothing") {
    Clinic clinic;
    clinic.desk.set_marks(clinic.id, before, "");
    CHECK(clinic.desk.visit(clinic.id)["undo"].is_null());
}

TEST_CASE("Marks arrive with place, weight and restoration") {
    Clinic clinic;
    clinic.desk.set_marks(clinic.id, before, "iso: centric 16 CF+*; working none");
    const Json marks = clinic.look("before")["marks"];
    CHECK(marks["sentence"] == "1 mark, 1 heavy");
    CHECK(marks["marks"][0]["place"] == "CF");
    CHECK(marks["marks"][0]["weight"] == "heavy");
    CHECK(marks["marks"][0]["where"] == "restoration");
    CHECK(marks["stages"] == Json::array({"centric", "working"}));
}

TEST_CASE("A chart that cannot be read is refused and changes nothing") {
    Clinic clinic;
    CHECK_THROWS_AS(clinic.desk.set_holds(clinic.id, before, "hold 99"), InputError);
    CHECK(clinic.look("before")["film"].is_null());
}

TEST_CASE("Takes on both sides are compared by themselves, and taking one back takes the answer back") {
    Clinic clinic;
    clinic.keep(before, "before.flac");
    CHECK(clinic.desk.visit(clinic.id)["answer"].is_null());
    CHECK_THROWS_AS((void)clinic.desk.comparison(clinic.id, after), InputError);
    const int entry = clinic.keep(after, "after-unchanged.flac");
    const Json answer = clinic.desk.visit(clinic.id)["answer"];
    CHECK(answer["look"] == "after");
    CHECK(answer["verdict"] == compare::word(clinic.desk.comparison(clinic.id, after)->verdict));
    clinic.desk.take_back(clinic.id, entry);
    CHECK(clinic.desk.visit(clinic.id)["answer"].is_null());
    clinic.desk.undo(clinic.id);
    CHECK(clinic.desk.visit(clinic.id)["answer"]["verdict"] == answer["verdict"]);
}

TEST_CASE("A begun look is shown before it holds anything, and only once") {
    Clinic clinic;
    clinic.desk.set_holds(clinic.id, before, "hold 16");
    clinic.desk.begin_look(clinic.id, visit::LookKind::after);
    clinic.desk.begin_look(clinic.id, visit::LookKind::after);
    CHECK(clinic.desk.visit(clinic.id)["looks"].size() == 2);
    clinic.desk.set_holds(clinic.id, after, "hold 16");
    clinic.desk.begin_look(clinic.id, visit::LookKind::after);
    CHECK(clinic.look("after2")["title"] == "After 2");
}

TEST_CASE("What the patient says belongs to the look that is worked on and may be said again") {
    Clinic clinic;
    clinic.desk.set_patient(clinic.id, {.numb = true});
    clinic.desk.set_patient(clinic.id, {.feel = chart::Feel::high});
    Json visit = clinic.desk.visit(clinic.id);
    CHECK(visit["numb"] == true);
    CHECK(visit["feel"] == "high");
    clinic.desk.undo(clinic.id);
    visit = clinic.desk.visit(clinic.id);
    CHECK(visit["numb"] == true);
    CHECK(visit["feel"] == "not asked");
}

TEST_CASE("Decisions add up, the newest is shown, and undo goes back to the one before") {
    Clinic clinic;
    clinic.desk.set_holds(clinic.id, before, "hold 16");
    CHECK(clinic.desk.visit(clinic.id)["decision"].is_null());
    clinic.desk.decide(clinic.id, visit::Action::wait, "");
    clinic.desk.decide(clinic.id, visit::Action::finish, "");
    CHECK(clinic.desk.visit(clinic.id)["decision"] == "finish");
    clinic.desk.undo(clinic.id);
    CHECK(clinic.desk.visit(clinic.id)["decision"] == "wait");
}

TEST_CASE("Details are checked, kept and no entry when nothing changed") {
    Clinic clinic;
    clinic.desk.set_details(clinic.id, {.label = "Chair 2, 0417", .clinician = "A4"});
    CHECK(clinic.desk.visit(clinic.id)["label"] == "Chair 2, 0417");
    CHECK(clinic.desk.visit(clinic.id)["undo"] == "details");
    CHECK_THROWS_AS(clinic.desk.set_details(clinic.id, {.label = ""}), InputError);
    clinic.desk.undo(clinic.id);
    clinic.desk.set_details(clinic.id, {});
    CHECK(clinic.desk.visit(clinic.id)["undo"].is_null());
}

TEST_CASE("A signed visit is closed, says by whom, and is whole") {
    Clinic clinic;
    clinic.desk.set_holds(clinic.id, before, "hold 16");
    CHECK_THROWS_AS(clinic.desk.sign(clinic.id, "", "", ""), InputError);
    clinic.desk.sign(clinic.id, "Supervisor 4", "supervisor", "All equal.");
    const Json visit = clinic.desk.visit(clinic.id);
    CHECK(visit["signed"]["name"] == "Supervisor 4");
    CHECK(visit["signed"]["intact"] == true);
    CHECK(visit["next"].empty());
    CHECK_FALSE(clinic.desk.open_for_takes(clinic.id));
    CHECK_THROWS_AS(clinic.desk.set_holds(clinic.id, before, "hold 17"), InputError);
    CHECK_THROWS_AS(clinic.desk.undo(clinic.id), InputError);
}

TEST_CASE("A file that is no sound becomes no take") {
    CHECK_THROWS_WITH_AS((void)chairside::uploaded_take("C:\\letters\\letter.wav", "Dear colleague"),
                         doctest::Contains("letter.wav"), InputError);
    CHECK_THROWS_AS((void)chairside::uploaded_take("", ""), InputError);
}

TEST_CASE("Of a recording that is dropped onto the page no more is kept than half a second around the taps") {
    audio::Sound sound = audio::read_sound(test::source_dir() + "/recordings/before.flac");
    const audio::Sound tapping = sound;
    const auto talk = static_cast<std::size_t>(3.0 * sound.sample_rate_hz);
    sound.interleaved.insert(sound.interleaved.begin(), talk, 0.0F);
    sound.interleaved.insert(sound.interleaved.end(), talk, 0.0F);
    for (const audio::SoundFormat format : {audio::SoundFormat::wav_24, audio::SoundFormat::flac_24}) {
        const auto bytes = audio::encode_sound(sound, format);
        const std::string_view given(reinterpret_cast<const char*>(bytes.data()), bytes.size());
        const chairside::NewTake take = chairside::uploaded_take("long", given);
        const audio::Sound kept = audio::read_sound(take.flac, "kept");
        // the first tap is 0.35 s after the talk, the last 0.40 s before it: half a second reaches into both
        CHECK(kept.interleaved.size() > tapping.interleaved.size());
        CHECK(kept.interleaved.size() < tapping.interleaved.size() + static_cast<std::size_t>(0.3 * 48000.0));
    }
    const auto silence =
        audio::encode_sound({.sample_rate_hz = 48000.0, .channels = 1, .interleaved = std::vector<float>(48000)},
                            audio::SoundFormat::flac_24);
    CHECK_THROWS_WITH_AS(
        (void)chairside::uploaded_take("s.flac", {reinterpret_cast<const char*>(silence.data()), silence.size()}),
        doctest::Contains("No taps are heard in 's.flac'"), InputError);
}

TEST_CASE("A take that is not fit does not stand in the way once another was recorded, and that is said") {
    Clinic clinic;
    const int clipped = clinic.keep(before, "clipped.flac");
    CHECK(clinic.desk.shown_take(clinic.id, before) == clipped);
    const int good = clinic.keep(before, "before.flac");
    clinic.keep(after, "after-high-100um.flac");
    CHECK(clinic.desk.visit(clinic.id)["answer"]["verdict"] == "different");
    const compare::Comparison comparison = *clinic.desk.comparison(clinic.id, after);
    CHECK(comparison.before.file == "before.flac"); // what is drawn is what is played
    CHECK(clinic.desk.shown_take(clinic.id, before) == good);
    CHECK(comparison.reasons.back() == "One take before is not fit and left out.");
    clinic.desk.take_back(clinic.id, good);
    const Json answer = clinic.desk.visit(clinic.id)["answer"];
    CHECK(answer["verdict"] == "unclear");
    CHECK(answer["score"].is_null());
}

TEST_CASE("One recording cannot stand for two looks") {
    Clinic clinic;
    clinic.keep(before, "before.flac");
    CHECK_THROWS_WITH_AS((void)clinic.keep(after, "before.flac"), doctest::Contains("of look 'before' (entry 2)"),
                         InputError);
    CHECK(clinic.look("before")["takes"].size() == 1);
}

TEST_CASE("What was found in a take before it is kept is what is kept and shown: it is not analysed again") {
    Clinic clinic;
    const std::string bytes = test::bytes_of(test::source_dir() + "/recordings/before.flac");
    chairside::NewTake take = chairside::uploaded_take("before.flac", bytes);
    REQUIRE(take.analysis);
    CHECK(report::take_json(*take.analysis) ==
          report::take_json(audio::inspect_sound(audio::read_sound(take.flac, "before.flac"), "before.flac")));
    take.analysis->fitness = {.usable = false, .reasons = {"As nobody would find it."}, .cautions = {}};
    const int entry = clinic.desk.keep_take(clinic.id, before, take);
    CHECK(clinic.look("before")["takes"][0]["reasons"] == Json::array({"As nobody would find it."}));
    CHECK(clinic.desk.analysis(clinic.id, entry)->fitness.reasons.size() == 1);
    CHECK(clinic.desk.take_content(clinic.id, entry).analysis.find("As nobody would find it.") != std::string::npos);
    clinic.desk.take_back(clinic.id, entry);
    clinic.desk.undo(clinic.id);
    CHECK(clinic.look("before")["takes"][0]["reasons"] == Json::array({"As nobody would find it."}));
}

TEST_CASE("A take that nobody has analysed yet is, when it is kept") {
    Clinic clinic;
    const std::string bytes = test::bytes_of(test::source_dir() + "/recordings/before.flac");
    chairside::NewTake take = chairside::uploaded_take("before.flac", bytes);
    take.analysis.reset();
    const int entry = clinic.desk.keep_take(clinic.id, before, take);
    CHECK(clinic.desk.analysis(clinic.id, entry)->taps.size() == 8);
    CHECK(clinic.desk.analysis(clinic.id, entry)->file == "before.flac");
}

TEST_CASE("A take is looked at again and again without its sound being copied, and stays for whoever holds it") {
    Clinic clinic;
    const int entry = clinic.keep(before, "before.flac");
    clinic.keep(after, "after-unchanged.flac");
    const auto first = clinic.desk.analysis(clinic.id, entry);
    CHECK(clinic.desk.analysis(clinic.id, entry) == first);
    CHECK(clinic.desk.comparison(clinic.id, after) == clinic.desk.comparison(clinic.id, after));
    const compare::Comparison compared = *clinic.desk.comparison(clinic.id, after);
    REQUIRE(first->taps.size() == 8);
    REQUIRE_FALSE(first->taps[0].excerpt.samples.empty());
    CHECK(compared.before.taps[0].excerpt.samples.data() == first->taps[0].excerpt.samples.data());
    clinic.desk.take_back(clinic.id, entry);
    CHECK(first->taps.size() == 8);
}

TEST_CASE("The day after goes on from the day before, and undo leaves what came from there") {
    Clinic clinic;
    clinic.keep(before, "before.flac");
    clinic.keep(after, "after-unchanged.flac");
    clinic.desk.set_patient(clinic.id, {.numb = true, .feel = chart::Feel::high});
    clinic.desk.decide(clinic.id, visit::Action::wait, "");
    const Json first = clinic.desk.visit(clinic.id);
    CHECK(first["stillOpen"]["action"] == "wait");
    CHECK(first["stillOpen"]["numb"] == true);
    const visit::VisitId next = clinic.desk.open_following(clinic.id);
    const Json second = clinic.desk.visit(next);
    CHECK(second["label"] == first["label"]);
    CHECK(second["earlier"][0]["id"] == std::to_string(clinic.id));
    CHECK(second["baselineOfEarlier"] == true);
    CHECK(second["looks"][0]["takes"].size() == 1);
    CHECK(second["undo"].is_null());
    CHECK(second["discardable"] == true);
    CHECK(clinic.desk.visit(clinic.id)["later"][0]["id"] == std::to_string(next));
    const std::string bytes = test::bytes_of(test::source_dir() + "/recordings/after-high-100um.flac");
    clinic.desk.keep_take(next, {visit::LookKind::recheck, 1}, chairside::uploaded_take("recheck.flac", bytes));
    CHECK(clinic.desk.visit(next)["answer"]["verdict"] == "different"); // compared at once
    CHECK(clinic.desk.visit(next)["stillOpen"].is_null());
    CHECK(clinic.desk.visit(next)["discardable"] == false);
    CHECK_THROWS_AS(clinic.desk.discard(next), InputError);
}

TEST_CASE("A visit opened by mistake is discarded, and the pages are told") {
    Clinic clinic;
    const std::size_t told = clinic.changed.size();
    clinic.desk.begin_look(clinic.id, visit::LookKind::after);
    clinic.desk.discard(clinic.id);
    CHECK(clinic.changed.size() == told + 2);
    CHECK(clinic.desk.visits()["visits"].empty());
    CHECK_THROWS_AS((void)clinic.desk.visit(clinic.id), InputError);
}

TEST_CASE("A new visit is filled in as this machine has it") {
    Clinic clinic;
    CHECK(clinic.desk.usual_numbering() == chart::Numbering::iso); // of the newest visit
    clinic.desk.set_defaults(
        {.worker = "A. Student", .supervisor = "B. Teacher", .numbering = chart::Numbering::universal});
    CHECK(clinic.desk.usual_numbering() == chart::Numbering::universal);
    const Json visit =
        clinic.desk.visit(clinic.desk.open(chart::read_teeth("16", chart::Numbering::iso), chart::Numbering::iso));
    CHECK(visit["clinician"] == "A. Student");
    CHECK(visit["supervisor"] == "B. Teacher");
}

TEST_CASE("The page is told the first step, open questions and what each rule holds back, and can answer") {
    Clinic clinic;
    Json visit = clinic.desk.visit(clinic.id);
    CHECK(visit["firstStep"]["step"] == "chart_holds");
    CHECK(visit["firstStep"]["look"] == "before");
    CHECK(visit["firstStep"]["how_to"].size() > 1);
    CHECK(visit["next"][0]["blocks"] == "work");
    CHECK(visit["crossbite"].is_null());
    clinic.desk.set_marks(clinic.id, before, "16 MB");
    visit = clinic.desk.visit(clinic.id);
    REQUIRE(visit["questions"].size() == 1);
    CHECK(visit["questions"][0]["question"] == "crossbite");
    CHECK(visit["questions"][0]["teeth"] == Json::array({"16"}));
    clinic.desk.set_crossbite(clinic.id, "16");
    visit = clinic.desk.visit(clinic.id);
    CHECK(visit["crossbite"] == Json::array({16}));
    CHECK(visit["questions"].empty());
    clinic.desk.set_marks(clinic.id, after, "16 MB");
    visit = clinic.desk.visit(clinic.id);
    CHECK(visit["firstStep"]["step"] == "ask_mark_place");
    CHECK(visit["questions"][0]["marks"][0]["where"] == "not said");
    clinic.desk.set_marks(clinic.id, after, "16 MB~");
    CHECK(clinic.look("after")["marks"]["marks"][0]["where"] == "beside");
    CHECK_THROWS_AS(clinic.desk.set_crossbite(clinic.id, "sideways"), InputError);
}

TEST_CASE("A warning sign is kept, what is said of it later is added, and it can be taken back") {
    Clinic clinic;
    clinic.desk.warn(clinic.id, {"loose", "", ""});
    clinic.desk.warn(clinic.id, {"loose", "Dr Example", ""});
    clinic.desk.warn(clinic.id, {"loose", "", "leave it out of the taps"});
    Json visit = clinic.desk.visit(clinic.id);
    REQUIRE(visit["warnings"].size() == 1);
    CHECK(visit["warnings"][0]["raisedWith"] == "Dr Example");
    CHECK(visit["warnings"][0]["decided"] == "leave it out of the taps");
    CHECK(visit["undo"] == "warning sign");
    clinic.desk.undo(clinic.id);
    CHECK(clinic.desk.visit(clinic.id)["warnings"][0]["decided"] == "");
    CHECK_THROWS_AS(clinic.desk.warn(clinic.id, {"", "Dr Example", ""}), InputError);
}

TEST_CASE("A small file that would become a great deal of sound is refused by what its head says") {
    // Silence of five and a half minutes at 192 kHz: 0.3 MB of FLAC, a quarter of a gigabyte of samples.
    const test::TempFolder folder;
    {
        audio::SoundWriter writer(folder / "bomb.flac", 192000.0, 1, audio::SoundFormat::flac_24);
        const std::vector<float> second(192000);
        for (int i = 0; i < 330; ++i) {
            writer.write(second);
        }
        writer.commit();
    }
    const std::string bytes = test::bytes_of(folder / "bomb.flac");
    CHECK(bytes.size() < 1'000'000);
    CHECK_THROWS_WITH_AS((void)chairside::uploaded_take("bomb.flac", bytes),
                         doctest::Contains("longer than ten minutes"), InputError);
    const auto raw = std::as_bytes(std::span(bytes.data(), bytes.size()));
    CHECK_THROWS_WITH_AS((void)audio::read_sound(raw, "bomb.flac"), doctest::Contains("more than ten minutes"),
                         InputError);
}
