#include "chairside/hearing_desk.hpp"

#include "error.hpp"
#include "lesson/bite_words.hpp"
#include "lesson/handout.hpp"
#include "lesson/results.hpp"
#include "report/listening_plot.hpp"
#include "report/wording.hpp"

namespace retap::chairside {

using report::Json;

namespace {

constexpr std::size_t max_tests = 4;
constexpr int down_after = 2;
constexpr std::size_t max_missed = 8; // each holds the sound of several takes

bool inside(double value, lesson::BenchRange range) {
    return value >= range.lowest && value <= range.highest;
}

void check(const HearingSettings& settings) {
    if (!settings.learner.empty()) {
        lesson::check_label(settings.learner);
    }
    constexpr std::size_t max_pairs = 200;
    if (!inside(settings.speed_mm_s, lesson::bench_speed_mm_s) ||
        !inside(settings.height_um, lesson::bench_height_um) || settings.height_um < 1.0 || settings.pair_count < 2 ||
        settings.pair_count > max_pairs) {
        throw InputError("A listening test cannot be set so.");
    }
}

std::variant<lesson::OddOneTest, lesson::PairsTest> made(const HearingSettings& settings) {
    const lesson::TrialSettings trials{.speed_m_per_s = 1e-3 * settings.speed_mm_s};
    if (settings.pairs) {
        return lesson::PairsTest(trials, settings.height_um, settings.pair_count, settings.seed);
    }
    return lesson::OddOneTest(trials, down_after, settings.seed);
}

bool finished(const std::variant<lesson::OddOneTest, lesson::PairsTest>& test) {
    return std::visit([](const auto& one) { return one.finished(); }, test);
}

std::size_t number_of(const std::variant<lesson::OddOneTest, lesson::PairsTest>& test) {
    return std::visit([](const auto& one) { return one.number(); }, test);
}

Json numbers(const std::vector<double>& values) {
    Json out = Json::array();
    for (const double value : values) {
        out.push_back(report::rounded(value, 3));
    }
    return out;
}

Json words_json(const lesson::ResultWords& words) {
    return {{"question", words.question}, {"ear", words.ear}, {"retap", words.retap},
            {"notes", words.notes},       {"plot", ""},       {"retapPlot", ""}};
}

/// What a learner can hear again after the end: which trial, how high, and what would have been right.
Json missed_json(const std::map<std::size_t, lesson::Trial>& missed, bool pairs) {
    Json list = Json::array();
    for (const auto& [number, trial] : missed) {
        const std::string height = report::number(trial.height_um, 0) + " \u00B5m";
        const std::string was = !trial.odd ? "the same bite twice"
                                : pairs    ? "different, by " + height
                                           : "number " + std::to_string(*trial.odd + 1) + " was odd, by " + height;
        list.push_back({{"number", number}, {"was", was}});
    }
    return list;
}

} // namespace

HearingDesk::Test& HearingDesk::test_of(const std::string& id) {
    for (Test& test : tests_) {
        if (test.id == id) {
            return test;
        }
    }
    throw InputError("This listening test is no longer there. Begin a new one.");
}

void HearingDesk::finish(Test& test) const {
    lesson::ListeningResult line;
    if (auto* odd = std::get_if<lesson::OddOneTest>(&test.test)) {
        const lesson::OddOneResult result = odd->result();
        line = lesson::kept(result);
        test.result = words_json(lesson::odd_one_words(result, test.settings.speed_mm_s));
        (*test.result)["plot"] = report::listening_plot(
            result.stairs.trials(), lesson::as_far_as_played(result.threshold, result.stairs.trials()));
        (*test.result)["retapPlot"] =
            report::listening_plot(result.retap, lesson::as_far_as_played(result.retap_threshold, result.retap));
    } else {
        const lesson::PairsResult result = std::get<lesson::PairsTest>(test.test).result();
        line = lesson::kept(result);
        test.result = words_json(lesson::pairs_words(result, test.settings.height_um, test.settings.speed_mm_s));
    }
    (*test.result)["missed"] = missed_json(test.missed, test.settings.pairs);
    (*test.result)["keptAs"] = nullptr;
    if (!test.settings.learner.empty()) {
        line.when = lesson::now_in_digits();
        line.learner = test.settings.learner;
        line.speed_mm_s = test.settings.speed_mm_s;
        try {
            lesson::append_result(results_, line);
            (*test.result)["keptAs"] = test.settings.learner;
        } catch (const InputError& error) {
            (*test.result)["notes"].push_back(error.what()); // the result is shown all the same
        }
    }
}

Json HearingDesk::begin(const HearingSettings& settings) {
    check(settings);
    const std::lock_guard lock(mutex_);
    begun_ += 1;
    const std::string id = std::to_string(begun_) + "-" + std::to_string(settings.seed);
    tests_.push_front({.id = id, .settings = settings, .test = made(settings), .result = std::nullopt});
    if (tests_.size() > max_tests) {
        tests_.pop_back();
    }
    return state_json(tests_.front());
}

Json HearingDesk::state_json(const Test& test) {
    Json json = {{"id", test.id},
                 {"way", test.settings.pairs ? "same" : "odd"},
                 {"finished", finished(test.test)},
                 {"number", number_of(test.test)},
                 {"pairs", test.settings.pairs ? Json(test.settings.pair_count) : Json(nullptr)},
                 {"starts", Json::array()},
                 {"result", test.result.value_or(nullptr)}};
    if (!finished(test.test)) {
        json["starts"] =
            numbers(std::visit([](const auto& one) { return lesson::row_starts_s(one.trial()); }, test.test));
    }
    return json;
}

Json HearingDesk::state(const std::string& id) {
    const std::lock_guard lock(mutex_);
    return state_json(test_of(id));
}

Json HearingDesk::answer(const std::string& id, std::size_t number, std::size_t choice) {
    const std::lock_guard lock(mutex_);
    Test& test = test_of(id);
    if (finished(test.test) || number != number_of(test.test)) {
        return state_json(test);
    }
    const std::size_t choices = test.settings.pairs ? 2 : 3;
    if (choice >= choices) {
        throw InputError("There is no such answer.");
    }
    const lesson::Trial& trial =
        std::visit([](const auto& one) -> const lesson::Trial& { return one.trial(); }, test.test);
    const bool right = test.settings.pairs ? trial.odd.has_value() == (choice == 1) : trial.odd == choice;
    if (!right) {
        test.missed.emplace(number, trial);
        if (test.missed.size() > max_missed) {
            test.missed.erase(test.missed.begin());
        }
    }
    if (auto* odd = std::get_if<lesson::OddOneTest>(&test.test)) {
        odd->answer(choice);
    } else {
        std::get<lesson::PairsTest>(test.test).answer(choice == 1);
    }
    if (finished(test.test)) {
        finish(test);
    }
    return state_json(test);
}

std::string HearingDesk::sound(const std::string& id, std::size_t number) {
    const std::lock_guard lock(mutex_);
    const Test& test = test_of(id);
    if (finished(test.test) || number != number_of(test.test)) {
        throw InputError("This trial is over.");
    }
    return lesson::flac_of(
        lesson::in_a_row(std::visit([](const auto& one) -> const lesson::Trial& { return one.trial(); }, test.test)));
}

std::string HearingDesk::missed(const std::string& id, std::size_t number) {
    const std::lock_guard lock(mutex_);
    const Test& test = test_of(id);
    const auto found = test.missed.find(number);
    if (!finished(test.test) || found == test.missed.end()) {
        throw InputError("There is no such trial to hear again.");
    }
    return lesson::flac_of(lesson::in_a_row(found->second));
}

std::string HearingDesk::results() const {
    return lesson::results_csv(lesson::read_results(results_, ""));
}

} // namespace retap::chairside
