#include "work_folder.hpp"

#include <cstdlib>
#include <stdexcept>
#include <string>
#include <system_error>

namespace retap::tools {

WorkFolder::WorkFolder() {
    std::string name = (std::filesystem::temp_directory_path() / "retap-work-XXXXXX").string();
    if (mkdtemp(name.data()) == nullptr) {
        throw std::runtime_error("Cannot make a folder in " + std::filesystem::path(name).parent_path().string() + ".");
    }
    path_ = name;
}

WorkFolder::~WorkFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
}

} // namespace retap::tools
