// A folder for intermediate files, gone with everything in it.
#pragma once

#include <filesystem>

namespace retap::tools {

/// Made in the folder for temporary files; throws std::runtime_error where that cannot be. Removed without complaint.
class WorkFolder {
public:
    WorkFolder();
    ~WorkFolder();
    WorkFolder(const WorkFolder&) = delete;
    WorkFolder& operator=(const WorkFolder&) = delete;
    WorkFolder(WorkFolder&&) = delete;
    WorkFolder& operator=(WorkFolder&&) = delete;

    [[nodiscard]] const std::filesystem::path& path() const { return path_; }

private:
    std::filesystem::path path_;
};

} // namespace retap::tools
