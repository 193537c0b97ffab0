#include "validate/study.hpp"

#include "strike_library.hpp"
#include "validate/aubio.hpp"
#include "validate/on_all_cores.hpp"
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

bool wanted(const Options& options, Family family, std::size_t condition) {
    return options.table || (options.contacts && family == Family::modal && conditions.at(condition).height_um >= 50.0);
}

HeardTake hear_taps(bite::Scenario scenario, int taps) {
    scenario.taps = taps;
    return hear(scenario);
}

void judge_visits(const Options& options, Family family, std::uint64_t patient,
                  const std::vector<bite::Stretch>& strikes, Results& results) {
    const HeardTake before = hear_taps(take_before(patient, strikes), options.taps_a_take);
    for (std::size_t c = 0; c < conditions.size(); ++c) {
        if (!wanted(options, family, c)) {
            continue;
        }
        const HeardTake after = hear_taps(take_after(patient, strikes, c), options.taps_a_take);
        if (options.table) {
            results.pairs.push_back(judge(family, c, before, after));
        }
        if (options.contacts && family == Family::modal && conditions.at(c).height_um >= 50.0) {
            append(results.contacts, high_spot(after));
        }
    }
}

Results study(const Options& options, Family family, std::uint64_t patient, const std::vector<bite::Stretch>& recorded,
              const std::filesystem::path& workshop) {
    const std::vector<bite::Stretch> strikes = family == Family::strikes ? recorded : std::vector<bite::Stretch>{};
    Results results;
    if (options.table || (options.contacts && family == Family::modal)) {
        judge_visits(options, family, patient, strikes, results);
    }
    if (options.contacts && family == Family::strikes) {
        append(results.contacts, double_strikes(patient, recorded));
    }
    if (options.taps) {
        append(results.taps, find_taps(family, patient, strikes, workshop));
    }
    return results;
}

} // namespace

Results study_all(const Options& options) {
    const std::vector<bite::Stretch> recorded = tools::sounds_of(tools::load_strikes());
    const tools::WorkFolder workshop;
    const std::filesystem::path for_aubio = aubio_is_here() ? workshop.path() : std::filesystem::path{};
    std::vector<Results> each(families.size() * options.patients);
    on_all_cores(each.size(), options.cores, "simulated patients", [&](std::size_t item) {
        each[item] = study(options, families.at(item % families.size()), options.seed + item / families.size(),
                           recorded, for_aubio);
    });
    Results all;
    for (Results& part : each) {
        append(all.pairs, std::move(part.pairs));
        append(all.contacts, std::move(part.contacts));
        append(all.taps, std::move(part.taps));
    }
    return all;
}

} // namespace retap::validate
