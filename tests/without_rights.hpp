// A folder that nothing can be written to, also when the tests are run by root.
#pragma once

#include <filesystem>
#include <sys/stat.h>
#include <unistd.h>

namespace retap::test {

/// While it lives the folder and the files in it can be read and not written. Root, whom permissions do not stop,
/// works as nobody meanwhile, by real and effective user alike: a program started with two different ones could not be
/// traced, and the leak check of a sanitized one fails there.
class ReadOnly {
public:
    explicit ReadOnly(const std::filesystem::path& folder) : folder_(folder), root_(geteuid() == 0) {
        for (const auto& file : std::filesystem::directory_iterator(folder)) {
            chmod(file.path().c_str(), S_IRUSR | S_IRGRP | S_IROTH);
        }
        chmod(folder.c_str(), S_IRUSR | S_IXUSR | S_IRGRP | S_IXGRP | S_IROTH | S_IXOTH);
        constexpr uid_t nobody = 65534;
        works_ = !root_ || setresuid(nobody, nobody, 0) == 0;
    }
    ~ReadOnly() {
        if (root_ && works_) {
            works_ = setresuid(0, 0, 0) == 0;
        }
        chmod(folder_.c_str(), S_IRWXU);
    }
    ReadOnly(const ReadOnly&) = delete;
    ReadOnly& operator=(const ReadOnly&) = delete;
    ReadOnly(ReadOnly&&) = delete;
    ReadOnly& operator=(ReadOnly&&) = delete;

    [[nodiscard]] bool works() const { return works_; }

private:
    std::filesystem::path folder_;
    bool root_;
    bool works_ = true;
};

} // namespace retap::test
