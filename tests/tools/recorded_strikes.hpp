// The recorded strikes that the validation simulates takes with, as far as this machine has them.
#pragma once

#include "skipped.hpp"

#include <doctest/doctest.h>
#include <filesystem>

namespace retap::test {

/// False, with a message, without hydrogen-drumkits, hydrogen-data and sonic-pi-samples of Debian 12.
inline bool strikes_are_here() {
    const bool here = std::filesystem::exists("/usr/share/hydrogen/data/drumkits/ForzeeStereo") &&
                      std::filesystem::exists("/usr/share/sonic-pi/samples");
    if (!here) {
        retap::test::skipped("install hydrogen-drumkits, hydrogen-data and sonic-pi-samples");
    }
    return here;
}

} // namespace retap::test
