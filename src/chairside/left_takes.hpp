// The folder where takes lie between the pick-up and their visit, and what a killed program left there.
#pragma once

#include "chairside/clock_words.hpp"
#include "visit/visit.hpp"

#include <cstddef>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace retap::chairside {

/// Of the store that is kept in this file.
[[nodiscard]] std::filesystem::path take_folder(const std::filesystem::path& store);

/// "visit-12-after2-20310514T083207Z.flac": says where a take belongs if the program is killed.
[[nodiscard]] std::string take_file_name(visit::VisitId visit, const visit::LookName& look, Moment now);

struct Belongs {
    visit::VisitId visit;
    visit::LookName look;
};
/// What the name says; nothing for files that are none of ours.
[[nodiscard]] std::optional<Belongs> belongs(const std::filesystem::path& file);

/// Whole takes in the folder, by name. They have left the recorder and did not reach their visit.
[[nodiscard]] std::vector<std::filesystem::path> left_takes(const std::filesystem::path& folder);

/// Notes that nobody wants the take that is being recorded to `file`, so that a kill does not bring it back.
void mark_unwanted(const std::filesystem::path& file);
/// Removes takes that were marked so, whole or unfinished, and their marks.
void remove_unwanted(const std::filesystem::path& folder);

/// Removes whatever the folder holds of a visit: takes, marks, half-written files and the journals of recordings that
/// no longer run. Returns how many files those were. Throws StoreError when one cannot be removed.
std::size_t remove_takes_of(const std::filesystem::path& folder, visit::VisitId visit);

} // namespace retap::chairside
