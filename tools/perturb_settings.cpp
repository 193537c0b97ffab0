// perturb_settings TAKE...: tries every setting of an analysis a fifth lower and a fifth higher, and says on how many
// of these takes anything that `retap inspect --json` tells comes out differently. A setting that acts on none of many
// different takes, and that no test fails without, is noise.
#include "audio/inspect_file.hpp"
#include "audio/sound_file.hpp"
#include "dsp/analysis_settings.hpp"
#include "dsp/take_analyser.hpp"
#include "error.hpp"
#include "report/each_setting.hpp"
#include "report/json.hpp"

#include <algorithm>
#include <cmath>
#include <concepts>
#include <cstddef>
#include <cstdio>
#include <exception>
#include <filesystem>
#include <string>
#include <type_traits>
#include <vector>

namespace {

using namespace retap;

void scale(double& value, double by) {
    value *= by;
}

void scale(dsp::Level& value, double by) {
    value = dsp::Level(value.db() * by);
}

void scale(dsp::Frequency& value, double by) {
    value = dsp::Frequency(value.hz() * by);
}

/// By at least one step.
void scale(std::integral auto& value, double by) {
    const double step =
        (by > 1.0 ? 1.0 : -1.0) * std::max(1.0, std::round(std::abs(by - 1.0) * std::abs(static_cast<double>(value))));
    value = static_cast<std::remove_reference_t<decltype(value)>>(static_cast<double>(value) + step);
}

/// Scales the setting of this number, and keeps what it is called.
struct Scale {
    std::size_t wanted;
    double by;
    std::size_t seen = 0;
    std::string room{};
    std::string name{};

    template <class T>
    void operator()(const char* called, T& value) {
        if constexpr (requires { scale(value, by); }) {
            if (seen++ == wanted) {
                name = room + called;
                scale(value, by);
            }
        } else {
            const std::string outside = room;
            room += std::string(called) + ".";
            report::each_setting(value, *this);
            room = outside;
        }
    }
};

std::string told(const audio::Sound& sound, const dsp::AnalysisSettings& settings) {
    dsp::TakeAnalyser analyser(sound.channels, dsp::analysis_rate_hz, settings);
    analyser.feed(sound.interleaved);
    return report::json_text(report::take_without_settings_json(analyser.finish()), report::JsonLayout::one_line);
}

void run(const std::vector<std::string>& files) {
    std::vector<audio::Sound> takes;
    std::vector<std::string> usual;
    for (const std::string& file : files) {
        takes.push_back(audio::read_sound(std::filesystem::path(file)));
        if (takes.back().sample_rate_hz != dsp::analysis_rate_hz) {
            throw InputError("'" + file + "' is not at 48 kHz, at which takes are analysed. Convert it first.");
        }
        usual.push_back(told(takes.back(), {}));
    }
    for (std::size_t number = 0;; ++number) {
        std::string line;
        for (const double by : {0.8, 1.2}) {
            dsp::AnalysisSettings settings;
            Scale one{.wanted = number, .by = by};
            report::each_setting(settings, one);
            if (one.name.empty()) {
                std::printf("%zu settings, %zu takes\n", number, takes.size());
                return;
            }
            std::size_t changed = 0;
            for (std::size_t i = 0; i < takes.size(); ++i) {
                changed += told(takes[i], settings) != usual[i] ? 1U : 0U;
            }
            line = (line.empty() ? one.name : line) + " " + std::to_string(changed);
        }
        std::printf("%s\n", line.c_str());
        std::fflush(stdout);
    }
}

} // namespace

int main(int count, char** arguments) {
    try {
        if (count < 2) {
            throw UsageError("usage: perturb_settings TAKE...");
        }
        run({arguments + 1, arguments + count});
        return 0;
    } catch (const std::exception& error) {
        std::fprintf(stderr, "perturb_settings: %s\n", error.what());
        return 1;
    }
}
