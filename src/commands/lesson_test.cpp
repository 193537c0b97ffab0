// retap lesson test: how small a difference a learner hears, beside what Retap tells of the same sounds.
#include "bite/random.hpp"
#include "compare/listening_sensitivity.hpp"
#include "compare/listening_staircase.hpp"
#include "compare/listening_threshold.hpp"
#include "compare/roc.hpp"
#include "device_options.hpp"
#include "error.hpp"
#include "lesson_answer.hpp"
#include "lesson_commands.hpp"
#include "lesson_results.hpp"
#include "lesson_sounds.hpp"
#include "lesson_test_text.hpp"
#include "lesson_trials.hpp"
#include "report/json.hpp"
#include "terminal.hpp"

#include <cmath>
#include <ctime>
#include <filesystem>
#include <future>
#include <memory>
#include <optional>
#include <random>
#include <string>
#include <vector>

namespace retap::commands {
namespace {

struct Options {
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

    [[nodiscard]] TrialSettings trials() const { return {.speed_m_per_s = 1e-3 * speed_mm_s, .taps = taps}; }
    [[nodiscard]] compare::ThresholdModel model() const { return {.target = std::pow(0.5, 1.0 / down_after)}; }
};

std::string now_in_digits() {
    const std::time_t now = std::time(nullptr);
    std::tm local{};
    localtime_r(&now, &local);
    char text[32];
    return {text, std::strftime(text, sizeof text, "%Y-%m-%d %H:%M", &local)};
}

// Gives the sounds of a trial and takes the learner's answer, or lets a made listener answer.
class Learner {
public:
    explicit Learner(const Options& options) : options_(options), random_(*options.seed, "made listener") {}

    /// Index of the sound that is said to be odd.
    std::size_t pick_odd(const Trial& trial, std::size_t number) {
        if (options_.listener_um) {
            constexpr double steepness = 2.0;
            const bool right = random_.uniform(0.0, 1.0) < compare::chance_right(trial.height_um, *options_.listener_um,
                                                                                 steepness, options_.model());
            return right ? *trial.odd : (*trial.odd + 1) % trial.sounds.size();
        }
        give(trial, number);
        return ask("Trial " + std::to_string(number + 1) + ": which is the odd one, 1, 2 or 3?", {"1", "2", "3"});
    }

    bool says_different(const Trial& trial, std::size_t number) {
        if (options_.listener_um) {
            // d' of 1 at the made listener's threshold, growing in proportion; a limit in between.
            const double d = trial.height_um / *options_.listener_um;
            const auto rates = compare::same_different_rates(d, 0.5 * d + 0.5);
            return random_.uniform(0.0, 1.0) < (trial.odd ? rates.hits : rates.false_alarms);
        }
        give(trial, number);
        return ask("Trial " + std::to_string(number + 1) + ": same (s) or different (d)?", {"s", "d"}) == 1;
    }

private:
    void give(const Trial& trial, std::size_t number) const {
        const audio::Sound row = in_a_row(trial);
        if (!options_.out.empty()) {
            const auto file = std::filesystem::path(options_.out) / ("trial-" + std::to_string(number + 1) + ".wav");
            write_lesson_sound(file, row);
            warn("listen to " + file.string());
        }
        if (options_.play) {
            play_sounds({row}, options_.device);
        }
    }

    const Options& options_;
    bite::Random random_;
};

OddOneResult run_odd_one(const Options& options) {
    Learner learner(options);
    compare::Staircase stairs({.down_after = options.down_after});
    std::vector<std::future<RetapAnswer>> retap;
    while (!stairs.finished()) {
        const std::size_t number = stairs.trials().size();
        const auto trial =
            std::make_shared<const Trial>(odd_one_trial(stairs.level(), options.trials(), *options.seed, number));
        retap.push_back(std::async(std::launch::async, [trial] { return ask_retap(*trial); }));
        stairs.answer(learner.pick_odd(*trial, number) == *trial->odd);
    }
    OddOneResult result{.stairs = stairs, .threshold = compare::fit_threshold(stairs.trials(), options.model())};
    for (std::size_t i = 0; i < retap.size(); ++i) {
        result.retap.push_back({.level = stairs.trials()[i].level, .right = retap[i].get().right});
    }
    result.retap_threshold = compare::fit_threshold(result.retap, options.model());
    return result;
}

PairsResult run_pairs(const Options& options) {
    Learner learner(options);
    std::vector<std::future<RetapAnswer>> pending;
    std::vector<bool> differed;
    PairsResult result;
    for (std::size_t number = 0; number < static_cast<std::size_t>(options.pairs); ++number) {
        const auto trial = std::make_shared<const Trial>(
            same_or_different_trial(options.height_um, options.trials(), *options.seed, number));
        pending.push_back(std::async(std::launch::async, [trial] { return ask_retap(*trial); }));
        differed.push_back(trial->odd.has_value());
        count_answer(result.learner, trial->odd.has_value(), learner.says_different(*trial, number));
    }
    std::vector<double> same;
    std::vector<double> different;
    for (std::size_t i = 0; i < pending.size(); ++i) {
        const RetapAnswer answer = pending[i].get();
        count_answer(result.retap, differed[i], answer.says_different);
        (differed[i] ? different : same).push_back(answer.likeness);
    }
    constexpr double confidence = 0.95;
    result.sensitivity = compare::same_different_sensitivity(result.learner, confidence);
    result.retap_area = compare::roc_area(different, same).area; // unchanged pairs should score higher
    return result;
}

void keep(const Options& options, ListeningResult result) {
    if (options.learner.empty()) {
        return;
    }
    result.when = now_in_digits();
    result.learner = options.learner;
    result.speed_mm_s = options.speed_mm_s;
    append_result(results_file(options.results), result);
}

void check(const Options& options) {
    if (!options.learner.empty()) {
        check_label(options.learner);
        (void)results_file(options.results);
    }
    if (!options.play && options.out.empty() && !options.listener_um) {
        throw UsageError("A listening test needs sounds: add --play, or --out FOLDER to get them as files");
    }
    if (!options.out.empty()) {
        std::error_code ignored; // writing says what is wrong with the folder
        std::filesystem::create_directories(options.out, ignored);
    }
}

void run(Options options) {
    check(options);
    options.seed = options.seed.value_or(std::random_device()());
    if (options.way == "odd") {
        const OddOneResult result = run_odd_one(options);
        keep(options, kept(result));
        print(options.json ? report::json_text(odd_one_json(result, options.speed_mm_s))
                           : with_plain_signs(odd_one_text(result, options.speed_mm_s)));
    } else {
        const PairsResult result = run_pairs(options);
        keep(options, kept(result));
        print(options.json ? report::json_text(pairs_json(result, options.height_um, options.speed_mm_s))
                           : with_plain_signs(pairs_text(result, options.height_um, options.speed_mm_s)));
    }
}

} // namespace

void add_lesson_test(CLI::App& lesson) {
    auto options = std::make_shared<Options>();
    CLI::App& command = *lesson.add_subcommand("test", "Find out how small a difference you hear");
    command.add_option("--way", options->way, "odd: which of three is odd; same: are two the same or different")
        ->check(CLI::IsMember({"odd", "same"}))
        ->capture_default_str();
    command.add_option("--learner", options->learner, "Keep the result under this label (no names)")
        ->type_name("LABEL");
    command.add_option("--results", options->results, "The file that results are kept in")->type_name("FILE");
    command.add_option("--height", options->height_um, "same: how high the tooth is in different pairs, in um")
        ->check(CLI::Range(1.0, 200.0))
        ->capture_default_str();
    command.add_option("--pairs", options->pairs, "same: how many pairs")
        ->check(CLI::Range(2, 200))
        ->capture_default_str();
    command.add_option("--down-after", options->down_after, "odd: right answers in a row that make it harder")
        ->check(CLI::Range(2, 3))
        ->capture_default_str();
    command.add_option("--speed", options->speed_mm_s, "Closing speed")
        ->check(CLI::Range(20.0, 200.0))
        ->type_name("MM/S")
        ->capture_default_str();
    command.add_option("--taps", options->taps, "Taps in each sound")->check(CLI::Range(3, 12))->capture_default_str();
    command.add_option("--seed", options->seed, "Fixes the sounds and their order");
    command
        .add_option("--listener", options->listener_um,
                    "Let a made listener of this threshold answer, to see how well the test finds it")
        ->check(CLI::Range(1.0, 1000.0))
        ->type_name("UM");
    command.add_option("--out", options->out, "Write the sounds of each trial into this folder")->type_name("FOLDER");
    command.add_flag("--play", options->play, "Play the sounds");
    add_device_option(command, options->device);
    add_json_option(command, options->json);
    command.footer("Answers are read line by line from the terminal or from a script. Nothing says whether an answer\n"
                   "was right until the test is over.");
    command.callback([options] { run(*options); });
}

} // namespace retap::commands
