#include "paths.hpp"

namespace retap::test {

std::string source_dir() {
    return RETAP_SOURCE_DIR;
}

std::string binary_dir() {
    return RETAP_BINARY_DIR;
}

} // namespace retap::test
