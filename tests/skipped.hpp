// What a test says that cannot be run here, so that it does not count as passed.
#pragma once

#include <string_view>

namespace retap::test {

/// Status of a test program whose tests passed but for some that were skipped; CTest is told of it in
/// tests/CMakeLists.txt.
inline constexpr int skip_status = 77;

/// Says why the test that runs is skipped (as in "install python3-scipy") and has the program end with skip_status
/// unless something fails. The test returns by itself.
void skipped(std::string_view why);

} // namespace retap::test
