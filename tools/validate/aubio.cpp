#include "validate/aubio.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cstdio>
#include <cstdlib>
#include <stdexcept>
#include <string>

namespace retap::validate {

namespace {

// What a shell command writes to stdout; its status in `status`.
std::string output_of(const std::string& command, int& status) {
    std::FILE* pipe = popen(command.c_str(), "r");
    if (pipe == nullptr) {
        throw std::runtime_error("Cannot start " + command);
    }
    std::string text;
    std::array<char, 4096> part{};
    for (std::size_t got = 0; (got = std::fread(part.data(), 1, part.size(), pipe)) > 0;) {
        text.append(part.data(), got);
    }
    status = pclose(pipe);
    return text;
}

} // namespace

bool aubio_is_here() {
    int status = 0;
    return !output_of("command -v aubioonset", status).empty() && status == 0;
}

std::vector<double> aubio_onsets_s(const std::filesystem::path& file) {
    assert(file.string().find('\'') == std::string::npos);
    int status = 0;
    const std::string text = output_of("aubioonset -B 512 -H 64 -i '" + file.string() + "' 2>/dev/null", status);
    if (status != 0) {
        throw std::runtime_error("aubioonset failed on " + file.string() + ".");
    }
    std::vector<double> onsets;
    const char* at = text.c_str();
    char* after = nullptr;
    for (double value = std::strtod(at, &after); after != at; value = std::strtod(at, &after)) {
        if (value > 0.0) {
            onsets.push_back(value);
        }
        at = after;
    }
    std::ranges::sort(onsets);
    return onsets;
}

} // namespace retap::validate
