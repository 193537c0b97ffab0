#include "validate/study.hpp"

#include "validate/aubio.hpp"
#include "validate/on_all_cores.hpp"
#include "validate/take_files.hpp"
#include "work_folder.hpp"

#include <filesystem>
#include <iterator>
#include <string>
#include <utility>

namespace retap::validate {

namespace {

template <class T>
void append(std::vector<T>& all, std::vector<T> part) {
    all.insert(all.end(), std::make_move_iterator(part.begin()), std::make_move_iterator(part.end()));
}

constexpr double clearly_high_um = 50.0; // whose contact times are looked at
constexpr std::size_t echoes_every = 3;  // patients to one pair of takes of each kit

// Finding and timing taps has little to do with the kind of jaw, and takes long.
bool of_first_mechanics(const Options& options, const Family& family) {
    return family.mechanics == options.families.front().mechanics;
}

bool contacts_wanted(const Options& options, const Family& family, std::size_t condition) {
    return options.contacts && of_first_mechanics(options, family) && family.sound == Sound::modal &&
           conditions.at(condition).height_um >= clearly_high_um;
}

// Makes the takes of one side of a pair, keeps them as files when asked, and listens to them when they are judged.
std::vector<HeardTake> hear_side(const Options& options, const Family& family, const std::string& what,
                                 std::size_t takes, bool listen, const auto& scenario_of_repeat) {
    std::vector<HeardTake> side;
    for (std::size_t number = 0; number < takes; ++number) {
        bite::Scenario scenario = scenario_of_repeat(Repeat{.number = number, .new_seat = !options.repeats_keep_seat});
        scenario.taps = options.taps_a_take;
        scenario.pickups = options.two_pick_ups ? bite::Pickups::left_and_right : scenario.pickups;
        bite::Take take = bite::make_take(scenario);
        if (!options.takes.empty()) {
            write_take_files(options.takes, family, what + (number > 0 ? "-again" + std::to_string(number) : ""),
                             scenario, take);
        }
        if (listen) {
            side.push_back(hear(scenario, std::move(take)));
        }
    }
    return side;
}

void judge_visits(const Options& options, const Family& family, std::uint64_t patient, const Recordings& recordings,
                  Results& results) {
    const bool keep = !options.takes.empty();
    const std::vector<HeardTake> before =
        hear_side(options, family, "before", options.takes_before, options.table,
                  [&](const Repeat& repeat) { return take_before(family, patient, recordings, repeat); });
    for (std::size_t c = 0; c < conditions.size(); ++c) {
        const bool contacts = contacts_wanted(options, family, c);
        if (!keep && !options.table && !contacts) {
            continue;
        }
        const std::string what = std::to_string(c) + "-" + std::string(conditions.at(c).name);
        const std::vector<HeardTake> after =
            hear_side(options, family, what, options.takes_after, options.table || contacts,
                      [&](const Repeat& repeat) { return take_after(family, patient, recordings, c, repeat); });
        if (options.table) {
            results.pairs.push_back(judge(family, c, before, after));
        }
        if (contacts) {
            append(results.contacts, high_spot(after.front()));
        }
    }
}

Results study(const Options& options, const Family& family, std::uint64_t patient, const Recordings& recordings,
              const std::filesystem::path& workshop) {
    Results results;
    judge_visits(options, family, patient, recordings, results);
    if (options.contacts && family.sound == Sound::strikes && of_first_mechanics(options, family)) {
        append(results.contacts, double_strikes(patient, recordings.strikes));
    }
    if (options.taps && of_first_mechanics(options, family)) {
        append(results.taps, find_taps(family, patient, recordings, workshop));
    }
    return results;
}

void study_echoes(const Options& options, const Recordings& recordings, Results& all) {
    const std::size_t kits = recordings.kits.size();
    const std::size_t seeds = (options.patients + echoes_every - 1) / echoes_every;
    std::vector<std::vector<EchoResult>> each(echo_kinds.size() * kits * seeds);
    on_all_cores(each.size(), options.cores, "kits with echoes", [&](std::size_t item) {
        each[item] =
            hear_echoes(options.seed + item / (echo_kinds.size() * kits),
                        recordings.kits.at(item / echo_kinds.size() % kits), echo_kinds.at(item % echo_kinds.size()));
    });
    for (auto& part : each) {
        append(all.echoes, std::move(part));
    }
}

} // namespace

Results study_all(const Options& options) {
    const Recordings recordings = load_recordings();
    const tools::WorkFolder workshop;
    const std::filesystem::path for_aubio = aubio_is_here() ? workshop.path() : std::filesystem::path{};
    const std::size_t families = options.families.size();
    const bool patients = options.table || options.contacts || options.taps || !options.takes.empty();
    std::vector<Results> each(patients ? families * options.patients : 0);
    on_all_cores(each.size(), options.cores, "simulated patients", [&](std::size_t item) {
        each[item] =
            study(options, options.families.at(item % families), options.seed + item / families, recordings, for_aubio);
    });
    Results all;
    for (Results& part : each) {
        append(all.pairs, std::move(part.pairs));
        append(all.contacts, std::move(part.contacts));
        append(all.taps, std::move(part.taps));
    }
    if (options.echoes) {
        study_echoes(options, recordings, all);
    }
    return all;
}

} // namespace retap::validate
