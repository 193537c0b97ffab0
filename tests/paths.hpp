// Where the sources and the built programs are. Asked of one object file, so that no other has to be compiled anew in
// another folder.
#pragma once

#include <string>

namespace retap::test {

[[nodiscard]] std::string source_dir();
/// Of the build: the program is at binary_dir() + "/retap".
[[nodiscard]] std::string binary_dir();

} // namespace retap::test
