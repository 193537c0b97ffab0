#include "audio/hints.hpp"

#include <string_view>

namespace retap::audio {

std::string_view word(Hint hint) {
    switch (hint) {
    case Hint::none:
        break;
    case Hint::too_soft:
        return "too soft";
    case Hint::too_loud:
        return "too loud";
    case Hint::too_noisy:
        return "too noisy";
    case Hint::talk_after_taps:
        return "talk after the taps";
    }
    return "";
}

std::string_view advice(Hint hint) {
    switch (hint) {
    case Hint::none:
        break;
    case Hint::too_soft:
        return "Too soft: seat the pick-up more firmly or turn its level up.";
    case Hint::too_loud:
        return "Too loud: turn the level of the pick-up down.";
    case Hint::too_noisy:
        return "Too noisy: stop suction and talk, or move away from the noise.";
    case Hint::talk_after_taps:
        return "Talk after the taps: be still for half a second, then the take ends by itself.";
    }
    return "";
}

} // namespace retap::audio
