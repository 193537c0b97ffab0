// retap inspect: what is in one take.
#include "audio/inspect_file.hpp"
#include "command_line.hpp"
#include "report/json.hpp"
#include "take_text.hpp"
#include "terminal.hpp"

#include <memory>
#include <string>

namespace retap::commands {
namespace {

struct InspectOptions {
    std::string take;
    audio::ChannelChoice channels;
    bool json = false;
};

void run(const InspectOptions& options) {
    const dsp::TakeAnalysis take = audio::inspect_file(options.take, options.channels);
    if (options.json) {
        print(report::json_text(report::take_json(take)));
    } else {
        print_text(take_text(take));
    }
}

} // namespace

void add_inspect(Command program) {
    auto options = std::make_shared<InspectOptions>();
    Command command = program.subcommand("inspect", "Say what is in a take: taps, contacts, measures, fitness");
    command.option("TAKE", options->take, "A sound file (WAV, FLAC, AIFF, OGG or MP3)").required();
    command.channels_option(options->channels);
    command.json_flag(options->json);
    command.when_run([options] { run(*options); });
}

} // namespace retap::commands
