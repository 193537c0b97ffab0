// How often a test with random input tries.
#pragma once

#include <cstdlib>

namespace retap::test {

/// `full` times; an eighth of that under the sanitizers, where each takes ten times as long, unless RETAP_FULL_TRIALS
/// is set as by tools/slow.sh. For tests that look for an input that breaks something, not for those whose bounds
/// follow from the number.
inline int trials(int full) {
#ifdef __SANITIZE_ADDRESS__
    if (std::getenv("RETAP_FULL_TRIALS") == nullptr) {
        return full / 8;
    }
#endif
    return full;
}

} // namespace retap::test
