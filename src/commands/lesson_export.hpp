// Makes the sounds of all lessons and puts them into one page.
#pragma once

#include <filesystem>

namespace retap::commands {

/// Writes the handout, whole or not at all. The same page every time, save for the program's version.
void export_lessons(const std::filesystem::path& file);

} // namespace retap::commands
