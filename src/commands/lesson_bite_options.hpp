// The options that set a bite at the bench.
#pragma once

#include "bite/lesson_bite.hpp"
#include "chart/tooth.hpp"
#include "command_line.hpp"

#include <memory>
#include <string>
#include <vector>

namespace retap::commands {

/// As typed. to_bite() reads them and throws UsageError for what is no tooth, no number or out of range.
struct BiteOptions {
    std::vector<std::string> high{}; ///< "16=50"
    std::vector<std::string> low{};  ///< "16" or "16=80"
    std::string slide{};             ///< "16=400"
    std::string side{};              ///< "left=100"
    std::string pickup = "forehead";
    std::string room = "quiet";
    std::string numbering = "iso";
    double speed_mm_s = 50.0;
    double scatter = 1.0;
    int taps = 8;
    unsigned seed = 32;
    unsigned take = 1;

    [[nodiscard]] chart::Numbering teeth() const;
    [[nodiscard]] bite::LessonBite to_bite() const;
};

void add_bite_options(Command command, BiteOptions& options);

} // namespace retap::commands
