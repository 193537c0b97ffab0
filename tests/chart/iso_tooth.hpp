#pragma once

#include "chart/tooth.hpp"

namespace retap::test {

/// The tooth that two digits name; one that does not exist fails the test.
[[nodiscard]] inline chart::Tooth iso(int number) {
    return chart::Tooth::from_number(number, chart::Numbering::iso).value();
}

} // namespace retap::test
