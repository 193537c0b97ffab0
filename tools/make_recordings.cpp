// make_recordings OUT_DIR           makes the demo takes of one invented patient, with their manifest
// make_recordings --check DIR       remakes them in memory and says whether those in DIR are still the same
#include "audio/sound_file.hpp"
#include "bite/make_take.hpp"
#include "take_file.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <exception>
#include <filesystem>
#include <fstream>
#include <functional>
#include <iostream>
#include <sstream>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace {

namespace bite = retap::bite;
namespace tools = retap::tools;

constexpr std::uint64_t demo_patient = 134; // closes at about 70 mm/s; 11 pairs meet in a light tap
constexpr std::size_t restored_pair = 12;   // upper left first molar (26) and what it meets
constexpr double clipping_db = 17.0;        // how much too loud the clipped take was recorded

struct Recording {
    std::string file;
    std::string says; ///< one sentence for the manifest
    bite::Scenario scenario;
    bool clipped = false;
};

bite::Scenario demo_take(std::uint64_t number, bite::BiteChange change) {
    bite::Scenario s;
    s.patient = demo_patient;
    s.take = number;
    s.seat = number - 1; // the first take has the first seat, every other one is re-seated
    s.change = std::move(change);
    s.room = bite::Room{.level_db = -32.0, .reverberation_s = 0.4, .seed = 7};
    return s;
}

bite::BiteChange height(double um) {
    return {.heights = {{.pair = restored_pair, .height_um = um}}, .slide = {}};
}

std::vector<Recording> recordings() {
    std::vector<Recording> all{
        {"before.flac", "Before the restoration: a balanced bite.", demo_take(1, {})},
        {"before-again.flac", "The same bite, with the pick-up taken off and put back.", demo_take(2, {})},
        {"after-unchanged.flac", "After, and nothing changed in the bite.", demo_take(3, {})},
        {"after-high-25um.flac", "After, with the restoration on 26 left 25 \u00b5m high.", demo_take(4, height(25.0))},
        {"after-high-50um.flac", "After, with the restoration on 26 left 50 \u00b5m high.", demo_take(5, height(50.0))},
        {"after-high-100um.flac", "After, with the restoration on 26 left 100 \u00b5m high.",
         demo_take(6, height(100.0))},
        {"after-out-of-contact.flac", "After, with the restoration on 26 60 \u00b5m too low to meet in a light tap.",
         demo_take(7, height(-60.0))},
        {"after-slide.flac", "After, with an incline on 26 that leads the jaw 0.3 mm sideways into its place.",
         demo_take(8, {.heights = {}, .slide = bite::Slide{.pair = restored_pair, .distance_um = 300.0}})},
        {"noisy.flac", "The balanced bite under suction, a handpiece, hum, talk before and a clunk after.",
         demo_take(9, {})},
        {"clipped.flac", "The balanced bite, recorded far too loud.", demo_take(10, {}), true},
    };
    auto& noisy = all.at(8).scenario;
    using Kind = bite::ClinicSoundKind;
    noisy.lead_s = 0.9;
    noisy.tail_s = 0.9;
    noisy.clinic = {{.kind = Kind::suction, .level_db = -27.0, .seed = 1},
                    {.kind = Kind::handpiece, .level_db = -33.0, .seed = 2},
                    {.kind = Kind::hum, .level_db = -36.0, .seed = 3},
                    {.kind = Kind::speech, .level_db = -16.0, .to_s = 0.7, .seed = 4},
                    {.kind = Kind::clunks, .level_db = -8.0, .from_s = 3.8, .seed = 5}};
    return all;
}

bite::Take make(const Recording& r) {
    bite::Take take = bite::make_take(r.scenario);
    if (r.clipped) {
        const auto gain = static_cast<float>(std::pow(10.0, clipping_db / 20.0));
        for (auto& channel : take.channels) {
            std::transform(channel.begin(), channel.end(), channel.begin(),
                           [gain](float s) { return std::clamp(gain * s, -1.0F, 1.0F); });
        }
    }
    return take;
}

std::string manifest_row(const Recording& r, const bite::Take& take) {
    std::ostringstream out;
    out << R"({"file":")" << r.file << R"(","says":")" << r.says << R"(","sample_rate_hz":)" << take.sample_rate_hz
        << R"(,"channels":)" << take.channels.size() << R"(,"patient":)" << r.scenario.patient << R"(,"take":)"
        << r.scenario.take << R"(,"seat":)" << r.scenario.seat << ",\n    " << tools::truth_members(r.scenario, take)
        << "}";
    return out.str();
}

void write_all(const std::filesystem::path& dir) {
    std::filesystem::create_directories(dir);
    std::string manifest = "{ \"format\": \"retap.recordings/1\", \"licence\": \"MIT\", \"invented\": true,\n"
                           "  \"made_by\": \"tools/make_recordings.cpp\", \"recordings\": [\n  ";
    bool first = true;
    for (const Recording& r : recordings()) {
        const bite::Take take = make(r);
        tools::write_take(dir / r.file, take, retap::audio::SoundFormat::flac_24);
        manifest += (first ? "" : ",\n  ") + manifest_row(r, take);
        first = false;
    }
    std::ofstream file(dir / "manifest.json");
    file << manifest << "\n] }\n";
    if (!file.flush()) {
        throw std::runtime_error("Cannot write " + (dir / "manifest.json").string());
    }
}

// Largest difference between a stored recording and the one made now, in decibels below full scale.
double difference_db(const std::filesystem::path& file, const bite::Take& take) {
    const auto sound = retap::audio::read_sound(file);
    const auto& made = take.channels.front();
    if (sound.interleaved.size() != made.size()) {
        return 0.0;
    }
    double most = 1e-15;
    for (std::size_t n = 0; n < made.size(); ++n) {
        most = std::max(most, std::abs(static_cast<double>(sound.interleaved[n]) - static_cast<double>(made[n])));
    }
    return 20.0 * std::log10(most);
}

// Another compiler may round differently; what must not change is what can be heard or measured.
bool check_all(const std::filesystem::path& dir) {
    constexpr double same_db = -60.0;
    bool good = true;
    for (const Recording& r : recordings()) {
        const double db = difference_db(dir / r.file, make(r));
        std::cout << r.file << ": differs by at most " << db << " dBFS\n";
        good = good && db < same_db;
    }
    return good;
}

} // namespace

int main(int argc, char** argv) {
    const std::vector<std::string_view> args(argv + 1, argv + argc);
    try {
        if (args.size() == 1 && !args[0].starts_with("-")) {
            write_all(args[0]);
            return 0;
        }
        if (args.size() == 2 && args[0] == "--check") {
            return check_all(args[1]) ? 0 : 1;
        }
    } catch (const std::exception& e) {
        std::cerr << "make_recordings: " << e.what() << "\n";
        return 1;
    }
    std::cerr << "usage: make_recordings OUT_DIR | make_recordings --check DIR\n";
    return 2;
}
