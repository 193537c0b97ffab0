#include "outputs.hpp"

#include "error.hpp"

namespace retap::commands {

void refuse_to_overwrite(const std::filesystem::path& output, const std::vector<std::filesystem::path>& inputs) {
    for (const auto& input : inputs) {
        std::error_code not_there; // what is not there cannot be destroyed
        if (std::filesystem::equivalent(output, input, not_there)) {
            throw UsageError("Writing '" + output.string() + "' would destroy the take '" + input.string() +
                             "'. Give another name.");
        }
    }
}

} // namespace retap::commands
