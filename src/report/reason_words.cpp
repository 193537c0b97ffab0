#include "report/reason_words.hpp"

namespace retap::report {

std::string_view word(dsp::NoTap reason) {
    switch (reason) {
    case dsp::NoTap::overshadowed:
        return "a stronger event follows too closely";
    case dsp::NoTap::too_soft:
        return "hardly louder than the noise";
    case dsp::NoTap::restless:
        return "no more sudden than what else is heard around it";
    case dsp::NoTap::swells:
        return "it swells up slowly: talk, suction or a handpiece rather than an impact";
    case dsp::NoTap::lasts:
        return "it lasts too long for a tap: talk, or something that rings";
    case dsp::NoTap::in_the_middle:
        return "other sound runs into it";
    case dsp::NoTap::among_talk:
        return "other sound goes on around it: talk or work";
    case dsp::NoTap::thud:
        return "a dull thud: a step, or a knock on the pick-up";
    case dsp::NoTap::tone:
        return "a tone, not an impact: it sounds in one octave only";
    case dsp::NoTap::level_apart:
        return "much louder or softer than the taps of the run";
    case dsp::NoTap::off_beat:
        return "it is off the beat of the run";
    case dsp::NoTap::unlike:
        return "it sounds unlike the taps of the run";
    case dsp::NoTap::stands_apart:
        return "it stands apart from the run of taps";
    case dsp::NoTap::strangers:
        break;
    }
    return "no three of these sounds are alike and keep a beat, as taps do";
}

std::string_view word(dsp::Unusable reason) {
    switch (reason) {
    case dsp::Unusable::clipped:
        return "clipped: its loudest part was cut off";
    case dsp::Unusable::broken:
        return "samples are missing in it, so it cannot be timed";
    case dsp::Unusable::followed_too_soon:
        return "the next tap follows too soon for it to be measured";
    case dsp::Unusable::too_soft:
        break;
    }
    return "too soft to stand clear of the noise";
}

std::vector<std::string> words(std::span<const dsp::Unusable> reasons) {
    std::vector<std::string> told;
    for (const dsp::Unusable reason : reasons) {
        told.emplace_back(word(reason));
    }
    return told;
}

} // namespace retap::report
