#include "outputs.hpp"

#include "error.hpp"
#include "terminal.hpp"

#include <algorithm>
#include <sys/stat.h>
#include <utility>

namespace retap::commands {

void refuse_to_overwrite(const std::filesystem::path& output, const std::vector<std::filesystem::path>& inputs,
                         const std::string& what) {
    for (const auto& input : inputs) {
        std::error_code not_there; // what is not there cannot be destroyed
        if (std::filesystem::equivalent(output, input, not_there)) {
            throw UsageError("Writing '" + output.string() + "' would destroy the " + what + " '" + input.string() +
                             "'. Give another name.");
        }
    }
}

std::vector<std::filesystem::path> each_once(std::vector<std::filesystem::path> takes) {
    std::vector<std::filesystem::path> once;
    for (std::filesystem::path& take : takes) {
        std::error_code not_there; // reading it says so
        const bool again = std::ranges::any_of(once, [&](const std::filesystem::path& other) {
            return std::filesystem::equivalent(take, other, not_there);
        });
        if (again) {
            warn("'" + take.string() +
                 "' is named twice for one side and counts once: a repeat has to be a recording "
                 "of its own.");
        } else {
            once.push_back(std::move(take));
        }
    }
    return once;
}

void write_privately() {
    umask(S_IRWXG | S_IRWXO);
}

} // namespace retap::commands
