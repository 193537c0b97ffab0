// make_demo_visit OUT.json       makes the demo visit: an invented procedure with takes from the bite model
//
// Charts, names and times are made up. The takes are those of the demo patient (make_recordings), sixteen taps each
// with the pick-up left in place; of the seeds that were tried, one was taken for which the sound gives a clear answer.
#include "aside_file.hpp"
#include "audio/inspect_file.hpp"
#include "audio/sound_writer.hpp"
#include "bite/make_take.hpp"
#include "chart/notation.hpp"
#include "report/visit_json.hpp"
#include "visit/chain.hpp"
#include "visit/sha256.hpp"
#include "visit/sqlite_store.hpp"
#include "visit/take_sounds.hpp"
#include "work_folder.hpp"

#include <exception>
#include <filesystem>
#include <iostream>
#include <string>

namespace {

namespace bite = retap::bite;
namespace visit = retap::visit;
namespace chart = retap::chart;

constexpr auto iso = chart::Numbering::iso;
constexpr std::uint64_t demo_patient = 134;
constexpr std::size_t restored_pair = 12; // 26 and what it meets
constexpr double left_high_um = 60.0;
constexpr const char* program = "Retap " RETAP_VERSION;

const visit::LookName before{visit::LookKind::before, 1};
const visit::LookName after{visit::LookKind::after, 1};
const visit::LookName after2{visit::LookKind::after, 2};

visit::Stamp at(const std::string& time, const std::string& by = "A. Student") {
    return {"2031-05-14T" + time + ":00Z", by};
}

retap::audio::Sound sound(std::uint64_t take, double height_um) {
    bite::Scenario s;
    s.patient = demo_patient;
    s.take = take;
    s.taps = 16;
    s.room = bite::Room{.level_db = -32.0, .reverberation_s = 0.4, .seed = 7};
    if (height_um > 0.0) {
        s.change = {.heights = {{.pair = restored_pair, .height_um = height_um}}, .slide = {}};
    }
    const bite::Take made = bite::make_take(s);
    return {.sample_rate_hz = made.sample_rate_hz, .channels = 1, .interleaved = made.channels.front()};
}

/// Writes the visit into a store of its own, as the program would.
class Demo {
public:
    explicit Demo(std::filesystem::path folder) : folder_(std::move(folder)), store_(folder_ / "visits.db") {
        visit::Opened opened;
        opened.label = "C-2207";
        opened.procedure = "composite, occlusal";
        opened.treated = chart::read_teeth("26", iso);
        opened.worker = "A. Student";
        opened.supervisor = "B. Teacher";
        id_ = store_.open_visit(at("08:30"), opened);
    }

    visit::Parcel tell() {
        holds(before, "08:33", "hold 17..14 24..27; slide 13; open 12..22");
        correct_holds("08:35", "hold 17..14 24..27; slide 13 23; open 12..22", "23 was left out");
        marks(before, "08:38", "centric 17 MP 16 MP 14 P 24 P 26 CF MP 27 MP 36 MB 37 MB 46 MB 47 MB");
        take(before, "08:42", "before.flac", 21, 0.0);

        holds(after, "09:20", "hold 17..14 25 26; slide 24 27 13 23; open 12..22");
        marks(after, "09:23", "centric 17 MP- 16 MP- 14 P- 26 CF+* MP* 37 MB- 46 MB- 47 MB-");
        take(after, "09:26", "after.flac", 83, left_high_um);
        compare(after, "09:26");
        feel(after, "09:28", chart::Feel::high, "I meet there first.");
        decide(after, "09:31", visit::Action::adjust, "A touch in the central fossa, on the supervisor's word.");

        holds(after2, "09:40", "hold 17..14 24..27; slide 13 23; open 12..22");
        marks(after2, "09:44",
              "centric 17 MP 16 MP 14 P 24 P 26 CF* MP* 27 MP 36 MB 37 MB 46 MB 47 MB; working none; non-working none; "
              "protrusive 13 C/dis 43 C/mes");
        take(after2, "09:48", "after2.flac", 23, 0.0);
        compare(after2, "09:48");
        feel(after2, "09:50", chart::Feel::comfortable, "As before.");
        decide(after2, "09:52", visit::Action::finish, "Nothing more to do today.");
        add({at("09:58", "B. Teacher"), {}, {}, visit::Signed{"supervising dentist", "Seen and agreed."}});
        return with_fixed_uid();
    }

private:
    void add(const visit::NewEntry& entry) { store_.add(id_, entry); }
    void holds(visit::LookName look, const std::string& time, const std::string& text) {
        add({at(time), look, {}, visit::HoldsCharted{chart::read_holds(text, iso)}});
    }
    void correct_holds(const std::string& time, const std::string& text, const std::string& reason) {
        const int wrong = store_.load(id_).baseline()->holds->entry;
        add({at(time), before, visit::Correction{wrong, reason}, visit::HoldsCharted{chart::read_holds(text, iso)}});
    }
    void marks(visit::LookName look, const std::string& time, const std::string& text) {
        add({at(time), look, {}, visit::MarksCharted{chart::read_marks(text, iso)}});
    }
    void feel(visit::LookName look, const std::string& time, chart::Feel feel, const std::string& words) {
        add({at(time), look, {}, visit::FeelNoted{false, feel, words}});
    }
    void decide(visit::LookName look, const std::string& time, visit::Action action, const std::string& words) {
        add({at(time), look, {}, visit::Decided{action, words}});
    }
    void take(visit::LookName look, const std::string& time, const std::string& name, std::uint64_t seed, double um) {
        const auto file = folder_ / name;
        retap::audio::write_sound(file, sound(seed, um), retap::audio::SoundFormat::flac_24);
        const visit::PreparedTake prepared = visit::prepare_take(file);
        using retap::report::json_text;
        constexpr auto one_line = retap::report::JsonLayout::one_line;
        visit::TakeKept kept;
        kept.name = name;
        kept.program = program;
        store_.add_take(id_, look, at(time), kept,
                        {prepared.flac, json_text(retap::report::take_json(prepared.analysis), one_line),
                         json_text(retap::report::settings_json(prepared.analysis), one_line)});
    }
    void compare(visit::LookName name, const std::string& time) {
        const visit::Visit visit = store_.load(id_);
        const visit::Look& look = *visit.look(name);
        const auto comparison = compare_look(store_, visit, look);
        std::cout << text(name) << ": " << retap::compare::word(comparison.verdict) << ", likeness "
                  << comparison.likeness.score << "\n";
        add({at(time), name, {}, to_keep(comparison, visit, look, program)});
    }
    /// The same uid every time, so that a new demo visit differs from the old one only where something changed.
    visit::Parcel with_fixed_uid() {
        visit::Parcel parcel = store_.pack(id_);
        parcel.uid = visit::sha256("retap demo visit").substr(0, 32);
        std::string digest;
        for (visit::Entry& entry : parcel.entries) {
            digest = chained_digest(digest, parcel.uid, entry.number, entry);
            entry.digest = digest;
        }
        return parcel;
    }

    std::filesystem::path folder_;
    visit::SqliteStore store_;
    visit::VisitId id_ = 0;
};

void make(const std::filesystem::path& out) {
    const retap::tools::WorkFolder folder;
    const visit::Parcel parcel = Demo(folder.path()).tell();
    const visit::Visit demo = visit::fold(1, parcel.uid, parcel.entries);
    retap::write_file_whole(out, retap::report::json_text(retap::report::export_json(demo, parcel)));
}

} // namespace

int main(int argc, char** argv) {
    try {
        if (argc != 2) {
            std::cerr << "usage: make_demo_visit OUT.json\n";
            return 2;
        }
        make(argv[1]);
        return 0;
    } catch (const std::exception& error) {
        std::cerr << "make_demo_visit: " << error.what() << "\n";
        return 1;
    }
}
