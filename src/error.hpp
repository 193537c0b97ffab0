// The errors the program ends with. One base, one class per cause, each with its exit code (design: 2 wrong usage,
// 3 input cannot be used, 4 device trouble, 5 store trouble, 1 a fault of ours).
#pragma once

#include <stdexcept>
#include <string>

namespace retap {

class Error : public std::runtime_error {
public:
    [[nodiscard]] int exit_code() const { return exit_code_; }

protected:
    /// `what` says what was being done, on which file or device, what was wrong and what to try.
    Error(const std::string& what, int exit_code) : std::runtime_error(what), exit_code_(exit_code) {}

private:
    int exit_code_;
};

/// The command was called wrongly: an option, an argument or their combination.
class UsageError : public Error {
public:
    explicit UsageError(const std::string& what) : Error(what, 2) {}
};

/// A file or text that was given cannot be used.
class InputError : public Error {
public:
    explicit InputError(const std::string& what) : Error(what, 3) {}
};

/// A sound device is missing, refused, lost or stalled.
class DeviceError : public Error {
public:
    explicit DeviceError(const std::string& what) : Error(what, 4) {}
};

/// The visit store cannot be opened, read or written.
class StoreError : public Error {
public:
    explicit StoreError(const std::string& what) : Error(what, 5) {}
};

} // namespace retap
