// Environment variables for the length of a test.
#pragma once

#include <cstdlib>
#include <optional>
#include <string>

namespace retap::test {

/// Sets an environment variable while it lives, or takes it away (null); as it was afterwards.
class With {
public:
    With(const char* name, const char* value) : name_(name) {
        if (const char* old = std::getenv(name)) {
            old_ = old;
        }
        set(value);
    }
    ~With() { set(old_ ? old_->c_str() : nullptr); }
    With(const With&) = delete;
    With& operator=(const With&) = delete;
    With(With&&) = delete;
    With& operator=(With&&) = delete;

private:
    void set(const char* value) const {
        if (value == nullptr) {
            unsetenv(name_);
        } else {
            setenv(name_, value, 1);
        }
    }
    const char* name_;
    std::optional<std::string> old_;
};

} // namespace retap::test
