// Signs seen at a visit that are talked over with the supervisor before anything else is done.
#pragma once

#include <array>
#include <string>
#include <string_view>
#include <vector>

namespace retap::chart {

/// One sign that was seen: to whom it was taken, and what was decided. Empty: not yet.
struct Warning {
    std::string
        about; ///< the id of a rule that is a flag ("few-holds"), a word of warning_signs(), or the person's own
    std::string raised_with{};
    std::string decided{};

    [[nodiscard]] bool settled() const { return !raised_with.empty() && !decided.empty(); }
};

struct WarningSign {
    std::string_view word;
    std::string_view plain;
};
/// Common practice, no source: what is usually looked for before a bite is changed. Own words are as good.
inline constexpr std::array<WarningSign, 8> warning_signs = {{
    {"few-holds", "none or few of the tested pairs hold film"},
    {"one-sided-holds", "one side does not hold film at all"},
    {"tender", "a tooth that hurts when it is tapped or bitten on"},
    {"loose", "a tooth that is loose, or moves when the teeth close"},
    {"wear", "flat or shiny worn places, chipped edges, cracks"},
    {"broken", "fillings or crowns that broke or came off again and again"},
    {"joint", "pain or noise at the jaw joints, or a jaw that does not open wide or straight"},
    {"unsteady", "a bite that closes differently from one time to the next"},
}};

/// The word with what it stands for, as it is shown; own words as they are.
[[nodiscard]] std::string plain_warning(std::string_view about);
/// Whether a flag was taken to somebody and decided.
[[nodiscard]] bool settled(const std::vector<Warning>& warnings, std::string_view about);

} // namespace retap::chart
