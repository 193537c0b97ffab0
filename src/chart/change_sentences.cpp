#include "chart/changes.hpp"
#include "chart/words.hpp"

namespace retap::chart {

namespace {

void say_holds(const Changes& changes, Numbering numbering, std::vector<std::string>& said) {
    const auto say = [&](const std::vector<TeethPair>& pairs, const char* one, const char* many) {
        if (!pairs.empty()) {
            said.push_back((pairs.size() == 1 ? one : many) + list(pairs, numbering) + ".");
        }
    };
    say(changes.holds_lost, "A hold was lost at ", "Holds were lost at ");
    say(changes.holds_gained, "A hold was gained at ", "Holds were gained at ");
    say(changes.holds_untested,
        "A pair tested before was not tested now: ", "Pairs tested before were not tested now: ");
    say(changes.holds_first,
        "A pair was tested now that was not tested before: ", "Pairs were tested now that were not tested before: ");
    if (changes.holds_equal()) {
        said.emplace_back("Every pair that held before holds now, and no other does.");
    }
}

void say_marks(const Changes& changes, Numbering numbering, std::vector<std::string>& said) {
    const auto say = [&](const std::vector<Mark>& marks, const char* one, const char* many) {
        if (!marks.empty()) {
            said.push_back((marks.size() == 1 ? one : many) + list(marks, numbering) + ".");
        }
    };
    say(changes.marks_new, "A centric mark is new: ", "Centric marks are new: ");
    say(changes.marks_gone, "A centric mark is gone: ", "Centric marks are gone: ");
    say(changes.treated_marks_gone,
        "A centric mark that the treated tooth had is gone: ", "Centric marks that treated teeth had are gone: ");
    say(changes.marks_heavier,
        "A centric mark is now heavier than the rest: ", "Centric marks are now heavier than the rest: ");
}

void say_treated(const Changes& changes, Numbering numbering, std::vector<std::string>& said) {
    if (!changes.place_not_said.empty()) {
        said.push_back("It is not said whether this lies on the restoration or beside it: " +
                       list(changes.place_not_said, numbering) + ".");
    }
    for (const TreatedTooth& treated : changes.treated) {
        const std::string tooth = name(treated.tooth, numbering);
        if (treated.after == Support::none && treated.stop_beside) {
            said.push_back("There is no stop on the restoration of " + tooth + "; the tooth keeps one beside it.");
        } else if (treated.after == Support::none) {
            said.push_back("There is no stop on the restoration of " + tooth +
                           (treated.before == Support::none ? "; there was none on this tooth before." : "."));
        } else if (treated.after == Support::guiding_only) {
            said.push_back("The restoration of " + tooth + " is touched on a guiding cusp and has no stop" +
                           (treated.before == Support::guiding_only ? ", as before." : "."));
        } else if (treated.after == Support::incline_only) {
            said.push_back("The restoration of " + tooth + " has contact on an incline only" +
                           (treated.before == Support::incline_only ? ", as before." : "."));
        }
    }
}

} // namespace

std::vector<std::string> sentences(const Changes& changes, Numbering numbering) {
    std::vector<std::string> said;
    say_holds(changes, numbering, said);
    say_marks(changes, numbering, said);
    say_treated(changes, numbering, said);
    if (changes.centric_equal()) {
        said.emplace_back("The centric marks are as before.");
    }
    if (changes.other_side_changed) {
        said.push_back("The " + std::string(word(*changes.other_side_changed)) +
                       " side, opposite the treated one, changed as well.");
    }
    if (!changes.holds_compared) {
        said.emplace_back("The film holds cannot be compared: they were not charted at both looks.");
    }
    if (!changes.centric_compared) {
        said.emplace_back("The centric marks cannot be compared: they were not charted at both looks.");
    }
    return said;
}

} // namespace retap::chart
