// What the validation program was asked to do.
#pragma once

#include "validate/families.hpp"

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace retap::validate {

/// Seeds below this were seen by whoever tuned the program; published runs use patients from here on.
inline constexpr std::uint64_t first_unseen_seed = 900000;

struct Options {
    std::size_t patients = 60;
    std::uint64_t seed = first_unseen_seed; ///< of the first patient; the others follow it
    std::filesystem::path out{};            ///< folder for page, plots and numbers; empty: print only
    bool table = true;
    bool contacts = true;
    bool taps = true;
    bool echoes = true;
    std::vector<Family> families = usual_families();
    int taps_a_take = 8;               ///< of the pairs that are compared and of the high spots
    std::size_t takes_before = 1;      ///< of each pair; more are repeats
    std::size_t takes_after = 1;       ///<
    bool two_pick_ups = false;         ///< left and right, in place of the patient's one
    bool repeats_keep_seat = false;    ///< otherwise the pick-up is put back for each
    std::filesystem::path pairs_csv{}; ///< file for pairs_csv(); empty: none
    std::filesystem::path takes{};     ///< folder for the takes of the pairs as files; empty: none
    std::string date{};                ///< of the run, YYYY-MM-DD
    std::size_t cores = 0;             ///< 0: all of the machine
    std::string command{};             ///< as it was typed, for the page
};

[[nodiscard]] std::string_view usage();

/// Throws std::invalid_argument with a sentence on anything it does not understand.
[[nodiscard]] Options read_options(const std::vector<std::string>& arguments);

} // namespace retap::validate
