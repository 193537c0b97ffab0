// make_takes OUT_DIR [--family modal] [--patients N] [--first-seed S] [--conditions LIST] [--taps N] [--stereo]
// Makes takes of invented patients with the bite model, and their truth as one JSON line a take.
#include "bite/make_take.hpp"
#include "bite/random.hpp"
#include "wav_writer.hpp"

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

constexpr std::string_view usage =
    "usage: make_takes OUT_DIR [--family modal] [--patients N] [--first-seed S] [--taps N] [--stereo]\n"
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
    if (o.family != "modal") {
        throw std::invalid_argument("family '" + o.family + "' is not known; there is modal.");
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

// Every pair once, when it first met; later meetings after a rebound under "again".
void write_truth(std::ostream& out, const std::string& file, const std::string& condition, std::size_t pair,
                 const bite::Scenario& s, const bite::Take& take) {
    std::ostringstream line;
    line.precision(9);
    line << R"({"file":")" << file << R"(","patient":)" << s.patient << R"(,"condition":")" << condition
         << R"(","take":)" << s.take << R"(,"seat":)" << s.seat;
    if (!s.change.heights.empty() || s.change.slide) {
        line << R"(,"pair":)" << pair << R"(,"upper_tooth":)" << bite::upper_tooth_iso(pair);
    }
    line << R"(,"taps":[)";
    for (std::size_t t = 0; t < take.taps.size(); ++t) {
        const auto& tap = take.taps[t];
        line << (t ? "," : "") << R"({"onset_s":)" << tap.onset_s << R"(,"arrival_s":[)";
        for (std::size_t c = 0; c < tap.arrival_s.size(); ++c) {
            line << (c ? "," : "") << tap.arrival_s[c];
        }
        std::vector<bool> seen(bite::pair_count, false);
        std::ostringstream first;
        std::ostringstream again;
        first.precision(9);
        again.precision(9);
        for (const auto& c : tap.contacts) {
            std::ostringstream& to = seen[c.pair] ? again : first;
            to << (to.tellp() > 0 ? "," : "") << R"({"pair":)" << c.pair << R"(,"at_s":)" << c.at_s << R"(,"speed":)"
               << c.speed_m_per_s << R"(,"force":)" << c.peak_n << R"(,"impulse":)" << c.impulse_n_s << "}";
            seen[c.pair] = true;
        }
        line << R"(],"contacts":[)" << first.str() << R"(],"again":[)" << again.str() << "]}";
    }
    out << line.str() << "]}\n";
}

void run(const Options& o) {
    std::filesystem::create_directories(o.out);
    std::ofstream truth(o.out / "truth.jsonl");
    for (std::uint64_t p = 0; p < o.patients; ++p) {
        std::vector<std::string> names{"before", "before2"};
        names.insert(names.end(), o.conditions.begin(), o.conditions.end());
        for (std::size_t n = 0; n < names.size(); ++n) {
            const bool before = n < 2;
            bite::Scenario s{.patient = o.first_seed + p, .take = n + 1, .seat = n, .taps = o.taps};
            s.pickups = o.stereo ? bite::Pickups::left_and_right : bite::Pickups::forehead;
            const std::size_t pair = tooth_in_contact(s.patient, names[n]);
            s.change = before ? bite::BiteChange{} : change_for(names[n], pair);
            const bite::Take take = bite::make_take(s);
            const std::string file =
                std::string("p").append(std::to_string(s.patient)).append("-").append(names[n]).append(".wav");
            retap::tools::write_float_wav(o.out / file, take.sample_rate_hz, take.channels);
            write_truth(truth, file, names[n], pair, s, take);
        }
    }
    if (!truth) {
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
