// retap lesson own: how well a learner's own takes repeat.
#include "audio/inspect_file.hpp"
#include "columns.hpp"
#include "compare/statistics.hpp"
#include "error.hpp"
#include "lesson/own.hpp"
#include "lesson_commands.hpp"
#include "lesson_text.hpp"
#include "report/json.hpp"
#include "report/wording.hpp"
#include "terminal.hpp"

#include <memory>
#include <string>
#include <vector>

namespace retap::commands {
namespace {

struct LessonOwnOptions {
    std::vector<std::string> takes;
    bool json = false;
};

std::string own_text(const std::vector<lesson::OwnMeasure>& measures, std::size_t takes) {
    using enum Columns::Align;
    Columns columns({left, right, right, right, left});
    columns.add({"measure", "tap to tap", "take to take", "two takes differ by up to", "unit"});
    for (const lesson::OwnMeasure& m : measures) {
        columns.add({m.label, report::number(m.between_taps.within_sd, 2), report::number(m.between_takes.within_sd, 2),
                     report::number(m.between_takes.coefficient(), 2), m.unit});
    }
    std::string text = "Your own bite, " + std::to_string(takes) + " takes with the pick-up taken off and put back.\n" +
                       columns.text("  ") + "\n";
    for (const std::string& sentence : lesson::own_words(takes)) {
        text += wrapped(sentence);
    }
    return text;
}

report::Json own_json(const std::vector<lesson::OwnMeasure>& measures, std::size_t takes) {
    report::Json list = report::Json::array();
    for (const lesson::OwnMeasure& m : measures) {
        list.push_back({{"name", m.name},
                        {"unit", m.unit},
                        {"tap_to_tap_sd", report::significant(m.between_taps.within_sd)},
                        {"take_to_take_sd", report::significant(m.between_takes.within_sd)},
                        {"repeatability", report::significant(m.between_takes.coefficient())}});
    }
    return {{"format", "retap.lesson-own/1"}, {"takes", takes}, {"measures", std::move(list)}};
}

void run(const LessonOwnOptions& options) {
    if (options.takes.size() < 2) {
        throw UsageError("One take cannot show how well takes repeat. Give two or more.");
    }
    std::vector<dsp::TakeAnalysis> takes;
    for (const std::string& file : options.takes) {
        takes.push_back(audio::inspect_file(file));
        if (!takes.back().fitness.usable) {
            std::string fault = "'";
            fault.append(file).append("' is not fit to be measured. See why with: retap inspect '").append(file);
            throw InputError(fault + "'");
        }
    }
    const auto measures = lesson::own_repeatability(takes);
    print(options.json ? report::json_text(own_json(measures, takes.size()))
                       : with_plain_signs(own_text(measures, takes.size())));
}

} // namespace

void add_lesson_own(Command lesson) {
    auto options = std::make_shared<LessonOwnOptions>();
    Command command = lesson.subcommand("own", "See how well your own takes repeat");
    command.option("TAKE", options->takes, "Takes of your own bite, the pick-up put back before each").required();
    command.json_flag(options->json);
    command.when_run([options] { run(*options); });
}

} // namespace retap::commands
