// retap compare: does the bite still sound the way it did?
#include "aside_file.hpp"
#include "audio/around_taps.hpp"
#include "audio/inspect_file.hpp"
#include "audio/sound_writer.hpp"
#include "command_line.hpp"
#include "compare/compare_takes.hpp"
#include "comparison_text.hpp"
#include "error.hpp"
#include "outputs.hpp"
#include "report/html_report.hpp"
#include "report/json.hpp"
#include "terminal.hpp"

#include <ctime>
#include <future>
#include <memory>
#include <string>
#include <vector>

namespace retap::commands {
namespace {

struct CompareTakesOptions {
    std::string before;
    std::string after;
    std::vector<std::string> also_before;
    std::vector<std::string> also_after;
    std::string report;
    audio::ChannelChoice channels;
    bool same_setting = false;
    bool json = false;
};

std::vector<std::filesystem::path> side(const std::string& first, const std::vector<std::string>& others) {
    std::vector<std::filesystem::path> files{first};
    files.insert(files.end(), others.begin(), others.end());
    return files;
}

/// Each take on a core of its own.
std::vector<dsp::TakeAnalysis> inspect_each(const std::vector<std::filesystem::path>& files,
                                            const audio::ChannelChoice& channels) {
    std::vector<std::future<dsp::TakeAnalysis>> pending;
    pending.reserve(files.size());
    for (const auto& file : files) {
        pending.push_back(
            std::async(std::launch::async, [&file, &channels] { return audio::inspect_file(file, channels); }));
    }
    std::vector<dsp::TakeAnalysis> takes;
    takes.reserve(files.size());
    for (auto& take : pending) {
        takes.push_back(take.get());
    }
    return takes;
}

std::optional<report::Sound> playable(const dsp::TakeAnalysis& take, const audio::ChannelChoice& channels) {
    std::vector<double> onsets_s;
    for (const dsp::Tap& tap : take.taps) {
        onsets_s.push_back(tap.onset_s);
    }
    const auto sound = audio::read_around_taps(take.file, onsets_s, channels);
    if (!sound) {
        return std::nullopt;
    }
    const auto bytes = audio::encode_sound(*sound, audio::SoundFormat::flac_24);
    report::Sound out{.media_type = "audio/flac", .bytes = {}};
    out.bytes.reserve(bytes.size());
    for (const std::byte byte : bytes) {
        out.bytes.push_back(static_cast<char>(byte));
    }
    return out;
}

std::string now_in_words() {
    const std::time_t now = std::time(nullptr);
    std::tm local{};
    localtime_r(&now, &local);
    char text[64];
    const std::size_t size = std::strftime(text, sizeof text, "%d %B %Y, %H:%M", &local);
    return {text, size};
}

void write_report(const CompareTakesOptions& options, const compare::Comparison& comparison) {
    write_privately();
    const report::ReportSounds sounds{.before = playable(comparison.before, options.channels),
                                      .after = playable(comparison.after, options.channels)};
    const report::ReportHeading heading{
        .title = "Bite sound before and after", .when = now_in_words(), .program = "Retap " RETAP_VERSION};
    write_file_whole(options.report, report::comparison_report(comparison, sounds, heading));
}

void run(const CompareTakesOptions& options) {
    const auto before = each_once(side(options.before, options.also_before));
    const auto after = each_once(side(options.after, options.also_after));
    if (!options.report.empty()) {
        refuse_to_overwrite(options.report, before);
        refuse_to_overwrite(options.report, after);
    }
    const auto comparison =
        compare::compare_takes(inspect_each(before, options.channels), inspect_each(after, options.channels),
                               options.same_setting ? compare::Setting::same : compare::Setting::unknown);
    if (comparison.same_sound) {
        throw InputError(comparison.reasons.front());
    }
    if (!options.report.empty()) {
        write_report(options, comparison);
    }
    if (options.json) {
        print(report::json_text(report::comparison_json(comparison)));
    } else {
        print_text(comparison_text(comparison) + (options.report.empty() ? "" : "Report: " + options.report + "\n"));
    }
}

} // namespace

void add_compare(Command program) {
    auto options = std::make_shared<CompareTakesOptions>();
    Command command = program.subcommand("compare", "Say how alike two takes of one bite sound, and how sure it is");
    command.option("BEFORE", options->before, "The take from before the restoration").required();
    command.option("AFTER", options->after, "The take from after it").required();
    const auto repeat = [&command](const std::string& name, std::vector<std::string>& files, const std::string& which) {
        command.option(name, files, "One more take from " + which + ", with the pick-up taken off and put back")
            .one_value_each()
            .type_name("TAKE");
    };
    repeat("--also-before", options->also_before, "before");
    repeat("--also-after", options->also_after, "after");
    command.flag("--same-setting", options->same_setting,
                 "Both sides come from one device, gain and pick-up: levels may be held against each other");
    command.option("--report", options->report, "Write a report to look at and listen to").type_name("OUT.html");
    command.channels_option(options->channels);
    command.json_flag(options->json);
    command.when_run([options] { run(*options); });
}

} // namespace retap::commands
