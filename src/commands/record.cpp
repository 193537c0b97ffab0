// retap record: a take from a device, hands-free; and what an interrupted one left.
#include "audio/enhanced_device.hpp"
#include "audio/inspect_file.hpp"
#include "audio/recorder.hpp"
#include "audio/tapping_cautions.hpp"
#include "audio/unfinished.hpp"
#include "command_line.hpp"
#include "device_options.hpp"
#include "error.hpp"
#include "live_line.hpp"
#include "outputs.hpp"
#include "recording_text.hpp"
#include "report/json.hpp"
#include "stop_signals.hpp"
#include "terminal.hpp"

#include <chrono>
#include <cmath>
#include <cstdio>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace retap::commands {
namespace {

constexpr std::chrono::milliseconds show_every{50};

struct RecordOptions {
    std::string out;
    std::optional<std::string> device;
    std::size_t taps = audio::SessionSettings{}.good_taps;
    double seconds = audio::SessionSettings{}.longest_s;
    int channels = 1;
    std::optional<double> rate_hz;
    bool keep_all = false;
    bool recover = false;
    bool json = false;
};

std::string seconds_text(double seconds) {
    char text[32];
    std::snprintf(text, sizeof text, "%.1f s", seconds);
    return text;
}

/// Said at every start: what was interrupted must not be forgotten.
void offer_unfinished() {
    for (const audio::UnfinishedTake& take : audio::find_unfinished(audio::unfinished_folder()).takes) {
        warn("An interrupted take of " + seconds_text(take.duration_s) + ", started " + take.head.started + " for '" +
             take.head.destination.string() + "', waits to be saved: retap record --recover");
    }
}

void print_recovered(const std::vector<audio::Recording>& saved, const audio::UnfinishedTakes& found, bool json) {
    if (json) {
        report::Json recordings = report::Json::array();
        for (const audio::Recording& recording : saved) {
            recordings.push_back(recording_json(recording));
        }
        print(report::json_text({{"format", "retap.recovered/1"}, {"recordings", std::move(recordings)}}));
        return;
    }
    for (const audio::Recording& recording : saved) {
        print(recording_text(recording));
    }
    if (found.takes.empty()) {
        print("No interrupted take is waiting.\n");
    }
}

void recover(const RecordOptions& options) {
    const audio::UnfinishedTakes found = audio::find_unfinished(audio::unfinished_folder());
    for (const auto& journal : found.unreadable) {
        warn("The interrupted take '" + journal.string() + "' is damaged and cannot be read; it is left where it is.");
    }
    if (!options.out.empty() && found.takes.size() > 1) {
        throw UsageError(
            "There are " + std::to_string(found.takes.size()) +
            " interrupted takes, and one name for them. Leave the name out to save each where it was to go.");
    }
    const auto destination = options.out.empty() ? std::nullopt : std::optional<std::filesystem::path>(options.out);
    std::optional<InputError> trouble;
    std::vector<audio::Recording> saved;
    for (const audio::UnfinishedTake& take : found.takes) {
        try {
            audio::Recording recording{.take = audio::recover(take, destination)};
            if (!recording.take) {
                warn("The interrupted recording of " + take.head.started + " held no tap, so nothing is kept of it.");
            } else {
                if (!recording.take->damaged_journal.empty()) {
                    warn("The recording of " + take.head.started +
                         " was damaged on the disk. What could be read of it is in the take; it is kept itself as '" +
                         recording.take->damaged_journal.string() + "'.");
                }
                recording.analysis = audio::inspect_file(recording.take->file);
                saved.push_back(std::move(recording));
            }
        } catch (const InputError& fault) { // one that cannot be saved must not hold up the others
            if (trouble) {
                warn(trouble->what());
            }
            trouble = fault;
        }
    }
    print_recovered(saved, found, options.json);
    if (trouble) {
        throw InputError(std::string(trouble->what()) + " To save it elsewhere: retap record --recover OUT.wav");
    }
}

/// Watches a recording until it is over; says on the way what the clinician should know.
const audio::Recording& watch(audio::Recorder& recorder, bool json) {
    const StopSignals signals;
    LiveLine line;
    audio::SessionProgress said;
    while (!recorder.wait_for(show_every)) {
        const audio::SessionProgress now = recorder.progress();
        line.show(now);
        if (!json && !line.shown()) {
            if (now.started && !said.started) {
                print("The first tap was heard.\n");
            }
            if (now.hint != said.hint && now.hint != audio::Hint::none) {
                print(std::string(audio::advice(now.hint)) + "\n");
            }
        }
        said = now;
        if (StopSignals::asked()) {
            recorder.stop();
        }
    }
    return recorder.result();
}

/// The exit status says what went wrong, after what could be kept was told.
void raise_trouble(const audio::Recording& recording, const RecordOptions& options, const audio::Device& device) {
    const std::string kept = recording.take
                                 ? " The take up to there is kept in '" + recording.take->file.string() + "'."
                             : recording.journal.empty() ? " No tap was heard until then, so there is nothing to keep."
                                                         : "";
    if (recording.ended_by == audio::EndedBy::device_lost) {
        throw DeviceError(recording.trouble + kept);
    }
    if (!recording.trouble.empty()) {
        throw InputError(recording.trouble + kept);
    }
    if (!recording.take) {
        throw InputError("No tap was heard on '" + device.name + "' in " + seconds_text(options.seconds) +
                         " or until it was stopped, so nothing is saved. Seat the pick-up, see that it hears something "
                         "with: retap devices --level");
    }
}

void record(const RecordOptions& options) {
    offer_unfinished();
    const auto system = std::make_shared<audio::SoundSystem>();
    const audio::Device device = chosen_device(*system, audio::Direction::input, options.device);
    const double rate_hz = audio::choose_rate(*system, device, options.channels, options.rate_hz);
    audio::Recorder recorder(
        system, {.device = device,
                 .format = {.sample_rate_hz = rate_hz, .channels = options.channels},
                 .destination = options.out,
                 .journal_folder = audio::unfinished_folder(),
                 .session = {.good_taps = options.taps, .longest_s = options.seconds, .keep_all = options.keep_all}});
    remember_choice(audio::Direction::input, options.device, device);
    if (!options.json) {
        print(std::string(audio::tapping_caution) + "\n");
        print("Listening to '" + device.name + "' at " + std::to_string(std::lround(rate_hz)) +
              " Hz. It starts at the first tap and ends by itself after " + std::to_string(options.taps) +
              " good taps; Ctrl-C ends it sooner and keeps the take.\n");
    }
    if (const auto warning = audio::enhancement_warning(device.name); !warning.empty()) {
        warn(std::string(warning));
    }
    const audio::Recording& recording = watch(recorder, options.json);
    if (recording.take) {
        if (options.json) {
            print(report::json_text(recording_json(recording)));
        } else {
            print(recording_text(recording));
        }
    }
    raise_trouble(recording, options, device);
}

void run(const RecordOptions& options) {
    write_privately();
    if (options.recover) {
        recover(options);
    } else if (options.out.empty()) {
        throw UsageError("Say where the take shall go, as in: retap record OUT.wav");
    } else {
        record(options);
    }
}

std::string cautions() {
    std::string text = "When the patient taps:\n";
    for (const std::string_view caution : audio::tapping_cautions) {
        text += "  - " + std::string(caution) + "\n";
    }
    text.pop_back();
    return text;
}

} // namespace

void add_record(Command program) {
    constexpr double min_seconds = 2.0;
    constexpr double max_seconds = 600.0;
    auto options = std::make_shared<RecordOptions>();
    Command command = program.subcommand(
        "record", "Record a take, hands-free: starts at the first tap, stops after enough good ones");
    command.option("OUT", options->out, "Where the take goes (.wav or .flac); must not exist");
    add_device_option(command, options->device);
    command.option("--taps", options->taps, "Good taps after which it ends by itself").within(3, 100).show_default();
    command.option("--seconds", options->seconds, "Listen no longer than this")
        .within(min_seconds, max_seconds)
        .show_default();
    command.option("--channels", options->channels, "1, or 2 for a left and a right pick-up")
        .within(1, 2)
        .show_default();
    command.option("--rate", options->rate_hz, "48000 (preferred), 96000 or 44100 Hz")
        .one_of({48000.0, 96000.0, 44100.0});
    command.flag("--keep-all", options->keep_all,
                 "Store everything that is heard, talk too, and not only half a second around the taps; the take "
                 "says so");
    command.flag("--recover", options->recover, "Save what interrupted recordings left, where it was to go or to OUT");
    command.json_flag(options->json);
    command.footer(cautions());
    command.when_run([options] { run(*options); });
}

} // namespace retap::commands
