// make_takes OUT_DIR [--family modal|strikes] [--patients N] [--first-seed S] [--conditions LIST] [--taps N] [--stereo]
// Makes takes of invented patients with the bite model, and their truth as one JSON line a take.
#include "bite/make_take.hpp"
#include "bite/random.hpp"
#include "strike_library.hpp"
#include "take_file.hpp"

#include <charconv>
#include <cmath>
#include <cstdint>
#include <exception>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <sstream>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace {

namespace bite = retap::bite;
namespace tools = retap::tools;

constexpr std::string_view usage =
    "usage: make_takes OUT_DIR [--family modal|strikes] [--patients N] [--first-seed S] [--taps N] [--stereo]\n"
    "                  [--conditions same,15,25,50,100,200,low60,slide]\n"
    "Writes, for each patient, the take before, the same bite with the pick-up re-seated (before2) and one re-seated\n"
    "take for each condition; a number is the height in micrometres of a random tooth in contact.\n"
    "Truth goes to OUT_DIR/truth.jsonl.\n";

struct Options {
    std::filesystem::path out;
    std::string family = "modal";
    std::uint64_t patients = 10;
    std::uint64_t first_seed = 1;
    int taps = 8;
    bool stereo = false;
    std::vector<std::string> conditions{"same", "15", "25", "50", "100", "200", "low60", "slide"};
};

template <class Number>
Number number(const std::string& text) {
    Number value{};
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc() || end != text.data() + text.size()) {
        throw std::invalid_argument("'" + text + "' is not a number that fits here.");
    }
    return value;
}

std::vector<std::string> split(const std::string& list) {
    std::vector<std::string> parts;
    std::stringstream in(list);
    for (std::string part; std::getline(in, part, ',');) {
        parts.push_back(part);
    }
    return parts;
}

Options read_options(const std::vector<std::string>& args) {
    Options o;
    for (std::size_t i = 0; i < args.size(); ++i) {
        const auto value = [&] {
            if (i + 1 >= args.size()) {
                throw std::invalid_argument(args[i] + " needs a value.");
            }
            return args[++i];
        };
        if (args[i] == "--family") {
            o.family = value();
        } else if (args[i] == "--patients") {
            o.patients = number<std::uint64_t>(value());
        } else if (args[i] == "--first-seed") {
            o.first_seed = number<std::uint64_t>(value());
        } else if (args[i] == "--taps") {
            o.taps = number<int>(value());
        } else if (args[i] == "--conditions") {
            o.conditions = split(value());
        } else if (args[i] == "--stereo") {
            o.stereo = true;
        } else if (o.out.empty() && !args[i].starts_with("-")) {
            o.out = args[i];
        } else {
            throw std::invalid_argument("'" + args[i] + "' is not an option here.");
        }
    }
    if (o.out.empty()) {
        throw std::invalid_argument("the folder to write to is missing.");
    }
    if (o.family != "modal" && o.family != "strikes") {
        throw std::invalid_argument("family '" + o.family + "' is not known; there are modal and strikes.");
    }
    return o;
}

bite::BiteChange change_for(const std::string& condition, std::size_t pair) {
    if (condition == "same") {
        return {};
    }
    if (condition == "low60") {
        return {.heights = {{.pair = pair, .height_um = -60.0}}};
    }
    if (condition == "slide") {
        return {.slide = bite::Slide{.pair = pair, .distance_um = 300.0}};
    }
    return {.heights = {{.pair = pair, .height_um = number<double>(condition)}}};
}

std::size_t tooth_in_contact(std::uint64_t patient_seed, const std::string& condition) {
    const bite::Patient patient = bite::draw_patient(patient_seed);
    std::vector<std::size_t> touching;
    for (std::size_t i = 0; i < bite::pair_count; ++i) {
        if (patient.pairs.at(i).in_contact) {
            touching.push_back(i);
        }
    }
    bite::Random random(patient_seed, "tooth " + condition);
    return touching[random.below(touching.size())];
}

void run(const Options& o) {
    std::filesystem::create_directories(o.out);
    const std::vector<bite::Stretch> strikes =
        o.family == "strikes" ? tools::sounds_of(tools::load_strikes()) : std::vector<bite::Stretch>{};
    std::ofstream truth(o.out / "truth.jsonl");
    for (std::uint64_t p = 0; p < o.patients; ++p) {
        std::vector<std::string> names{"before", "before2"};
        names.insert(names.end(), o.conditions.begin(), o.conditions.end());
        for (std::size_t n = 0; n < names.size(); ++n) {
            bite::Scenario s{.patient = o.first_seed + p, .take = n + 1, .seat = n, .taps = o.taps};
            s.strikes = strikes;
            s.pickups = o.stereo ? bite::Pickups::left_and_right : bite::Pickups::forehead;
            s.change = n < 2 ? bite::BiteChange{} : change_for(names[n], tooth_in_contact(s.patient, names[n]));
            const bite::Take take = bite::make_take(s);
            std::ostringstream file;
            file << "p" << s.patient << "-" << names[n] << ".wav";
            tools::write_take(o.out / file.str(), take, retap::audio::SoundFormat::wav_float);
            truth << R"({"file":")" << file.str() << R"(","family":")" << o.family << R"(","patient":)" << s.patient
                  << R"(,"condition":")" << names[n] << R"(","take":)" << s.take << R"(,"seat":)" << s.seat << ","
                  << tools::truth_members(s, take) << "}\n";
        }
    }
    if (!truth.flush()) {
        throw std::runtime_error("Cannot write " + (o.out / "truth.jsonl").string());
    }
}

} // namespace

int main(int argc, char** argv) {
    Options options;
    try {
        options = read_options({argv + 1, argv + argc});
    } catch (const std::exception& e) {
        std::cerr << "make_takes: " << e.what() << "\n" << usage;
        return 2;
    }
    try {
        run(options);
    } catch (const std::exception& e) {
        std::cerr << "make_takes: " << e.what() << "\n";
        return 1;
    }
    return 0;
}
