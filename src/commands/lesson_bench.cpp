// retap lesson bench: any bite, heard, and what really happened beside what was measured.
#include "device_options.hpp"
#include "lesson/bite_words.hpp"
#include "lesson_bite_options.hpp"
#include "lesson_commands.hpp"
#include "lesson_play.hpp"
#include "lesson_text.hpp"
#include "report/json.hpp"
#include "report/lesson_heard.hpp"
#include "report/lesson_json.hpp"
#include "terminal.hpp"

#include <memory>
#include <optional>
#include <string>

namespace retap::commands {
namespace {

struct LessonBenchOptions {
    BiteOptions bite;
    lesson::SlowMotion slow;
    std::string out;
    bool play = false;
    bool json = false;
    std::optional<std::string> device;
};

std::string bench_text(const LessonBenchOptions& options, const bite::LessonBite& bite,
                       const lesson::LessonTake& balanced, const lesson::LessonTake& made) {
    const chart::Numbering numbering = options.bite.teeth();
    std::string text =
        "The bite: " + lesson::bite_in_words(bite, numbering) + ".\n" + lesson::physics_in_words(bite, numbering);
    text += "\nWhat really happened (medians over the taps):\n" + truth_text(made.truth, bite.taps, numbering);
    text += "\nWhat Retap measured from the sound alone (" + std::to_string(made.heard.taps.size()) +
            " taps heard of " + std::to_string(bite.taps) + "):\n" + heard_text(balanced.heard, made.heard);
    if (made.heard.taps.empty() || !report::has_spread(made.heard)) {
        text += "  The contacts inside a tap were not told apart; how it rises and lasts shows the change.\n";
    }
    if (!options.out.empty()) {
        text += "\nSound: " + options.out + "\n";
    }
    return text;
}

void run(const LessonBenchOptions& options) {
    const bite::LessonBite bite = options.bite.to_bite();
    const lesson::LessonTake made = lesson::make_and_hear(bite, options.out);
    const lesson::LessonTake balanced = lesson::make_and_hear(bite::balanced(bite), "");
    const audio::Sound sound = lesson::slowed(made.sound, options.slow);
    if (!options.out.empty()) {
        write_lesson_sound(options.out, sound);
    }
    if (options.json) {
        print(report::json_text(
            report::lesson_bench_json(bite, {balanced.truth, balanced.heard}, {made.truth, made.heard})));
    } else {
        print_text(bench_text(options, bite, balanced, made));
    }
    if (options.play) {
        play_sounds({sound}, options.device);
    }
}

} // namespace

void add_lesson_bench(Command lesson) {
    auto options = std::make_shared<LessonBenchOptions>();
    Command command = lesson.subcommand("bench", "Set a bite, hear it, see what happened and what was measured");
    add_bite_options(command, options->bite);
    const Option slow = command.option("--slow", options->slow.factor, "Slow motion: so many times as long")
                            .within(1.0, 64.0)
                            .type_name("FACTOR");
    command.flag("--keep-pitch", options->slow.keep_pitch, "Slow motion at the same pitch").needs(slow);
    command.option("--out", options->out, "Write the sound").type_name("OUT.wav");
    command.flag("--play", options->play, "Play the sound");
    add_device_option(command, options->device);
    command.json_flag(options->json);
    command.when_run([options] { run(*options); });
}

} // namespace retap::commands
