// `retap record` running beside the test, in folders of its own.
#pragma once

#include "child_process.hpp"
#include "paths.hpp"
#include "temp_folder.hpp"

#include <filesystem>
#include <memory>
#include <string>
#include <vector>

namespace retap::test {

/// Where a recording goes, and where it is kept until it is finished.
struct RecordingPlace {
    explicit RecordingPlace(const std::filesystem::path& folder)
        : takes(folder / "takes"), take(takes / "take.wav"), state(folder / "state"), out(folder / "out"),
          err(folder / "err") {
        std::filesystem::create_directories(takes);
    }
    [[nodiscard]] std::filesystem::path journals() const { return state / "retap" / "unfinished"; }

    std::filesystem::path takes; ///< a folder with nothing else in it
    std::filesystem::path take;
    std::filesystem::path state; ///< XDG_STATE_HOME
    std::filesystem::path out;   ///< what it prints
    std::filesystem::path err;
};

inline std::size_t entries_in(const std::filesystem::path& folder) {
    std::error_code none;
    return static_cast<std::size_t>(
        std::distance(std::filesystem::directory_iterator(folder, none), std::filesystem::directory_iterator{}));
}

/// `retap record ARGUMENTS...`
inline std::unique_ptr<ChildProcess> run_record(const RecordingPlace& place, std::vector<std::string> arguments) {
    arguments.insert(arguments.begin(), {retap::test::binary_dir() + "/retap", "record"});
    return std::make_unique<ChildProcess>(std::move(arguments), ChildOutput{.out = place.out, .err = place.err},
                                          std::vector{"XDG_STATE_HOME=" + place.state.string()});
}

[[nodiscard]] inline bool says(const std::filesystem::path& file, const std::string& words) {
    return bytes_of(file).find(words) != std::string::npos;
}

} // namespace retap::test
