// The takes of a run as files, so that they can be listened to and worked on elsewhere.
#pragma once

#include "bite/make_take.hpp"
#include "validate/families.hpp"

#include <cstdint>
#include <filesystem>
#include <string>

namespace retap::validate {

/// Writes FOLDER/FAMILY/PATIENT-WHAT.wav (32-bit float) and beside it .json with family, patient, what, take, seat,
/// the peak of the usual tap and the noise, and what truth_members() has of the change and every tap. Makes the
/// folders. Throws InputError when it cannot write.
void write_take_files(const std::filesystem::path& folder, const Family& family, const std::string& what,
                      const bite::Scenario& scenario, const bite::Take& take);

} // namespace retap::validate
