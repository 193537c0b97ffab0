// retap lesson test: how small a difference a learner hears, beside what Retap tells of the same sounds.
#include "bite/random.hpp"
#include "compare/listening_sensitivity.hpp"
#include "compare/listening_threshold.hpp"
#include "device_options.hpp"
#include "error.hpp"
#include "lesson/listening_test.hpp"
#include "lesson/result_text.hpp"
#include "lesson/results.hpp"
#include "lesson/trials.hpp"
#include "lesson_answer.hpp"
#include "lesson_commands.hpp"
#include "lesson_play.hpp"
#include "report/json.hpp"
#include "terminal.hpp"

#include <filesystem>
#include <memory>
#include <optional>
#include <random>
#include <string>

namespace retap::commands {
namespace {

struct LessonTestOptions {
    std::string way = "odd";
    std::string learner;
    std::string results;
    std::string out;
    double height_um = 100.0;
    double speed_mm_s = 50.0;
    int down_after = 2;
    int pairs = 24;
    int taps = 4;
    std::optional<unsigned> seed;
    std::optional<double> listener_um;
    bool play = false;
    bool json = false;
    std::optional<std::string> device;

    [[nodiscard]] lesson::TrialSettings trials() const { return {.speed_m_per_s = 1e-3 * speed_mm_s, .taps = taps}; }
};

// Gives the sounds of a trial and takes the learner's answer, or lets a made listener answer.
class Learner {
public:
    explicit Learner(const LessonTestOptions& options) : options_(options), random_(*options.seed, "made listener") {}

    /// Index of the sound that is said to be odd.
    std::size_t pick_odd(const lesson::OddOneTest& test) {
        const lesson::Trial& trial = test.trial();
        if (options_.listener_um) {
            constexpr double steepness = 2.0;
            const bool right = random_.uniform(0.0, 1.0) <
                               compare::chance_right(trial.height_um, *options_.listener_um, steepness, test.model());
            return right ? *trial.odd : (*trial.odd + 1) % trial.sounds.size();
        }
        give(trial, test.number());
        return ask("Trial " + std::to_string(test.number() + 1) + ": which is the odd one, 1, 2 or 3?",
                   {"1", "2", "3"});
    }

    bool says_different(const lesson::PairsTest& test) {
        const lesson::Trial& trial = test.trial();
        if (options_.listener_um) {
            // d' of 1 at the made listener's threshold, growing in proportion; a limit in between.
            const double d = trial.height_um / *options_.listener_um;
            const auto rates = compare::same_different_rates(d, 0.5 * d + 0.5);
            return random_.uniform(0.0, 1.0) < (trial.odd ? rates.hits : rates.false_alarms);
        }
        give(trial, test.number());
        return ask("Trial " + std::to_string(test.number() + 1) + ": same (s) or different (d)?", {"s", "d"}) == 1;
    }

private:
    void give(const lesson::Trial& trial, std::size_t number) const {
        const audio::Sound row = lesson::in_a_row(trial);
        if (!options_.out.empty()) {
            const auto file = std::filesystem::path(options_.out) / ("trial-" + std::to_string(number + 1) + ".wav");
            write_lesson_sound(file, row);
            warn("listen to " + file.string());
        }
        if (options_.play) {
            play_sounds({row}, options_.device);
        }
    }

    const LessonTestOptions& options_;
    bite::Random random_;
};

lesson::OddOneResult run_odd_one(const LessonTestOptions& options) {
    Learner learner(options);
    lesson::OddOneTest test(options.trials(), options.down_after, *options.seed);
    while (!test.finished()) {
        test.answer(learner.pick_odd(test));
    }
    return test.result();
}

lesson::PairsResult run_pairs(const LessonTestOptions& options) {
    Learner learner(options);
    lesson::PairsTest test(options.trials(), options.height_um, static_cast<std::size_t>(options.pairs), *options.seed);
    while (!test.finished()) {
        test.answer(learner.says_different(test));
    }
    return test.result();
}

void keep(const LessonTestOptions& options, lesson::ListeningResult result) {
    if (options.learner.empty()) {
        return;
    }
    result.when = lesson::now_in_digits();
    result.learner = options.learner;
    result.speed_mm_s = options.speed_mm_s;
    lesson::append_result(lesson::results_file(options.results), result);
}

void check(const LessonTestOptions& options) {
    if (!options.learner.empty()) {
        lesson::check_label(options.learner);
        (void)lesson::results_file(options.results);
    }
    if (!options.play && options.out.empty() && !options.listener_um) {
        throw UsageError("A listening test needs sounds: add --play, or --out FOLDER to get them as files.");
    }
    if (!options.out.empty()) {
        std::error_code ignored; // writing says what is wrong with the folder
        std::filesystem::create_directories(options.out, ignored);
    }
}

void run(LessonTestOptions options) {
    check(options);
    options.seed = options.seed.value_or(std::random_device()());
    if (options.way == "odd") {
        const lesson::OddOneResult result = run_odd_one(options);
        keep(options, lesson::kept(result));
        print(options.json ? report::json_text(lesson::odd_one_json(result, options.speed_mm_s))
                           : with_plain_signs(lesson::odd_one_text(result, options.speed_mm_s)));
    } else {
        const lesson::PairsResult result = run_pairs(options);
        keep(options, lesson::kept(result));
        print(options.json ? report::json_text(lesson::pairs_json(result, options.height_um, options.speed_mm_s))
                           : with_plain_signs(lesson::pairs_text(result, options.height_um, options.speed_mm_s)));
    }
}

} // namespace

void add_lesson_test(Command lesson) {
    auto options = std::make_shared<LessonTestOptions>();
    Command command = lesson.subcommand("test", "Find out how small a difference you hear");
    command.option("--way", options->way, "odd: which of three is odd; same: are two the same or different")
        .one_of({"odd", "same"})
        .show_default();
    command.option("--learner", options->learner, "Keep the result under this label (no names)").type_name("LABEL");
    command.option("--results", options->results, "The file that results are kept in").type_name("FILE");
    command.option("--height", options->height_um, "same: how high the tooth is in different pairs, in um")
        .within(1.0, 200.0)
        .show_default();
    command.option("--pairs", options->pairs, "same: how many pairs").within(2, 200).show_default();
    command.option("--down-after", options->down_after, "odd: right answers in a row that make it harder")
        .within(2, 3)
        .show_default();
    command.option("--speed", options->speed_mm_s, "Closing speed")
        .within(20.0, 200.0)
        .type_name("MM/S")
        .show_default();
    command.option("--taps", options->taps, "Taps in each sound").within(3, 12).show_default();
    command.option("--seed", options->seed, "Fixes the sounds and their order");
    command
        .option("--listener", options->listener_um,
                "Let a made listener of this threshold answer, to see how well the test finds it")
        .within(1.0, 1000.0)
        .type_name("UM");
    command.option("--out", options->out, "Write the sounds of each trial into this folder").type_name("FOLDER");
    command.flag("--play", options->play, "Play the sounds");
    add_device_option(command, options->device);
    command.json_flag(options->json);
    command.footer("Answers are read line by line from the terminal or from a script. Nothing says whether an answer\n"
                   "was right until the test is over.");
    command.when_run([options] { run(*options); });
}

} // namespace retap::commands
