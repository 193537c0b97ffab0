// Empty stores for the tests of store.cpp. Which kind says who links it: on_file.cpp here, ../school/on_server.cpp
// there.
#pragma once

#include "visit/store.hpp"

#include <memory>
#include <string>

namespace retap::test {

/// Those of one test, gone with it.
class Stores {
public:
    Stores();
    ~Stores();
    Stores(const Stores&) = delete;
    Stores& operator=(const Stores&) = delete;
    Stores(Stores&&) = delete;
    Stores& operator=(Stores&&) = delete;

    /// Whether there can be any here; if not, the test is told to be skipped and returns.
    [[nodiscard]] bool there() const;
    /// The same name is the same store.
    [[nodiscard]] std::unique_ptr<visit::VisitStore> open(const std::string& name);

private:
    struct Parts;
    std::unique_ptr<Parts> parts_;
};

} // namespace retap::test
