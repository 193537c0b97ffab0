// Writes the pages that tests and people look at: html_pages DIR
#include "invented_takes.hpp"
#include "report/html_report.hpp"

#include <cmath>
#include <fstream>
#include <iostream>
#include <string>

namespace {

using namespace retap;

std::string little_endian(std::uint32_t value, int bytes) {
    std::string out;
    for (int i = 0; i < bytes; ++i) {
        out += static_cast<char>(value >> (8 * i) & 0xFFU);
    }
    return out;
}

/// A short 16-bit WAV with a few clicks, so that players have something to play.
report::Sound clicks(double hz) {
    std::string samples;
    for (int i = 0; i < 24000; ++i) {
        const double t = (i % 8000) / 48000.0;
        const double value = 20000.0 * std::exp(-t / 0.003) * std::sin(6.283185307179586 * hz * t);
        samples += little_endian(static_cast<std::uint32_t>(static_cast<std::int32_t>(value)), 2);
    }
    const auto size = static_cast<std::uint32_t>(samples.size());
    return {"audio/wav", "RIFF" + little_endian(36 + size, 4) + "WAVEfmt " + little_endian(16, 4) +
                             little_endian(1, 2) + little_endian(1, 2) + little_endian(48000, 4) +
                             little_endian(96000, 4) + little_endian(2, 2) + little_endian(16, 2) + "data" +
                             little_endian(size, 4) + samples};
}

void write(const std::string& path, const std::string& html) {
    std::ofstream file(path, std::ios::binary);
    file << html;
    if (!file.flush()) {
        throw std::runtime_error("writing " + path + " failed");
    }
}

} // namespace

int main(int argc, char** argv) {
    if (argc != 2) {
        std::cerr << "usage: html_pages DIR\n";
        return 2;
    }
    const std::string dir = std::string(argv[1]) + "/";
    const report::ReportSounds sounds{clicks(2600), clicks(2200)};
    const report::ReportHeading heading{"Bite sound, before and after", "14 May 2031, 10:32", "Retap"};
    for (const auto verdict : {compare::Verdict::alike, compare::Verdict::different, compare::Verdict::unclear}) {
        write(dir + std::string(compare::word(verdict)) + ".html",
              report::comparison_report(test::invented_comparison(verdict), sounds, heading));
    }

    compare::Comparison unfit = test::invented_comparison(compare::Verdict::unclear);
    unfit.sentence = "The takes cannot be compared: the second one is not fit.";
    unfit.after = test::invented_take({.file = std::string(180, 'x') + "-after.wav", .taps = 0});
    unfit.after.fitness.usable = false;
    unfit.after.fitness.reasons = {"No tap was heard. Check that the pick-up is plugged in and touches the skin."};
    unfit.after.turned_down = {{1.2, dsp::NoTap::among_talk}, {2.5, dsp::NoTap::lasts}};
    unfit.before.taps[2].usable = false;
    unfit.before.taps[2].reasons = {dsp::Unusable::clipped};
    unfit.reasons = {"After: no tap was heard."};
    unfit.measures.clear();
    write(dir + "unfit.html", report::comparison_report(unfit, {clicks(2600), std::nullopt}, heading));

    dsp::TakeAnalysis take = test::invented_take({.taps = 9, .channels = 2});
    take.taps[0].usable = false;
    take.taps[0].reasons = {dsp::Unusable::followed_too_soon};
    take.fitness.cautions = {"A hum at 50 Hz was heard."};
    write(dir + "take.html", report::take_report(take, clicks(2600), {"One take", "14 May 2031, 10:32", "Retap"}));
    return 0;
}
