// retap lesson run: one guided lesson, with its sounds and its task.
#include "bite/course.hpp"
#include "device_options.hpp"
#include "error.hpp"
#include "lesson_answer.hpp"
#include "lesson_commands.hpp"
#include "lesson_play.hpp"
#include "lesson_text.hpp"
#include "report/json.hpp"
#include "report/lesson_json.hpp"
#include "report/wording.hpp"
#include "terminal.hpp"

#include <filesystem>
#include <memory>
#include <optional>
#include <random>
#include <string>

namespace retap::commands {
namespace {

struct LessonRunOptions {
    int number = 1;
    std::optional<unsigned> seed;
    std::string out;
    std::string answer;
    bool play = false;
    bool json = false;
    std::optional<std::string> device;
};

class Run {
public:
    Run(const LessonRunOptions& options, bite::Lesson lesson) : options_(options), lesson_(std::move(lesson)) {}

    void go() {
        const auto given = answer_given(); // before anything is said: it may be wrong usage
        say("Lesson " + std::to_string(lesson_.number) + ": " + lesson_.title + "\n\n");
        for (const std::string& paragraph : lesson_.words) {
            say(wrapped(paragraph) + "\n");
        }
        for (const bite::LessonSound& sound : lesson_.sounds) {
            sounds_.push_back(show(sound));
        }
        say("The task\n");
        for (const bite::LessonSound& sound : lesson_.task.sounds) {
            hear_only(sound);
        }
        say(wrapped(lesson_.task.question));
        const auto& choices = lesson_.task.choices;
        for (std::size_t i = 0; i < choices.size(); ++i) {
            say("  " + choice_letter(i) + "  " + choices[i] + "\n");
        }
        finish(given ? given : asked());
    }

private:
    void say(const std::string& text) const {
        if (!options_.json) {
            print_text(text);
        }
    }

    void give(const bite::LessonSound& sound, const audio::Sound& samples) {
        if (!options_.out.empty()) {
            const auto file = std::filesystem::path(options_.out) /
                              ("lesson-" + std::to_string(lesson_.number) + "-" + sound.name + ".wav");
            write_lesson_sound(file, samples);
            say("  sound: " + file.string() + "\n");
        }
        if (options_.play) {
            play_sounds({samples}, options_.device);
        }
    }

    report::Json show(const bite::LessonSound& sound) {
        say(sound.name + ": " + sound.caption + "\n");
        const lesson::LessonTake made = lesson::make_and_hear(sound.bite, sound.name);
        give(sound, made.sound);
        say(wrapped("what happened: contacts spread over " + spread(made) + "; what Retap measured:", "  ") +
            heard_text(made.heard) + "\n");
        return {{"name", sound.name},
                {"caption", sound.caption},
                {"truth", report::truth_json(made.truth)},
                {"heard", report::heard_json(made.heard)}};
    }

    static std::string spread(const lesson::LessonTake& made) { return report::quantity(made.truth.spread_ms, "ms"); }

    void hear_only(const bite::LessonSound& sound) {
        say(sound.name + ": " + sound.caption + "\n");
        give(sound, lesson::sound_of(bite::make_lesson_take(sound.bite)));
    }

    [[nodiscard]] std::optional<std::size_t> answer_given() const {
        if (options_.answer.empty()) {
            return std::nullopt;
        }
        const auto& choices = lesson_.task.choices;
        const auto meant = choice_meant(options_.answer, choices);
        if (!meant) {
            throw UsageError("--answer '" + options_.answer + "' is none of the choices. Give a to " +
                             choice_letter(choices.size() - 1) + ".");
        }
        return meant;
    }

    [[nodiscard]] std::optional<std::size_t> asked() const {
        const bool can_ask = at_terminal() && !options_.json;
        return can_ask ? std::optional(ask("Your answer:", lesson_.task.choices)) : std::nullopt;
    }

    void finish(const std::optional<std::size_t>& given) {
        if (options_.json) {
            report::Json result = nullptr;
            if (given) {
                result = {{"given", choice_letter(*given)}, {"right", *given == lesson_.task.right}};
            }
            print(report::json_text({{"format", "retap.lesson/1"},
                                     {"number", lesson_.number},
                                     {"title", lesson_.title},
                                     {"sounds", std::move(sounds_)},
                                     {"question", lesson_.task.question},
                                     {"choices", lesson_.task.choices},
                                     {"answer", std::move(result)}}));
            return;
        }
        if (!given) {
            say("Answer with --answer and the same --seed " + std::to_string(*options_.seed) + ".\n");
            return;
        }
        say(std::string(*given == lesson_.task.right ? "Right. " : "Not so: it was '" + right_choice() + "'. ") + "\n" +
            wrapped(lesson_.task.because));
    }

    [[nodiscard]] const std::string& right_choice() const { return lesson_.task.choices[lesson_.task.right]; }

    const LessonRunOptions& options_;
    bite::Lesson lesson_;
    report::Json sounds_ = report::Json::array();
};

void run(LessonRunOptions options) {
    if (!options.out.empty()) {
        std::error_code ignored; // writing says what is wrong with the folder
        std::filesystem::create_directories(options.out, ignored);
    }
    options.seed = options.seed.value_or(std::random_device()() % 1000);
    Run(options, bite::lesson(options.number, *options.seed)).go();
}

} // namespace

void add_lesson_run(Command lesson) {
    auto options = std::make_shared<LessonRunOptions>();
    Command command = lesson.subcommand("run", "Take one guided lesson");
    command.option("NUMBER", options->number, "Which lesson, as listed").required().within(1, bite::lesson_count);
    command.option("--seed", options->seed, "Fixes what the task leaves to chance");
    command.option("--answer", options->answer, "Your answer to the task, as a letter").type_name("LETTER");
    command.option("--out", options->out, "Write the sounds into this folder").type_name("FOLDER");
    command.flag("--play", options->play, "Play the sounds");
    add_device_option(command, options->device);
    command.json_flag(options->json);
    command.when_run([options] { run(*options); });
}

} // namespace retap::commands
