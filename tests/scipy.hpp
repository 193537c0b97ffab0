// Reference values from SciPy (Debian python3-scipy), computed in the test run.
#pragma once

#include "paths.hpp"

#include <array>
#include <cstdio>
#include <fstream>
#include <string>
#include <vector>

namespace retap::test {

/// What a Python program prints, read as numbers; empty when Python or SciPy is missing. `name` names the temporary
/// program file beside the tests.
inline std::vector<double> scipy(const std::string& name, const std::string& program) {
    const std::string path = test::binary_dir() + "/scipy_" + name + ".py";
    std::ofstream(path) << program;
    std::FILE* pipe = popen(("/usr/bin/python3 '" + path + "' 2>&1").c_str(), "r");
    std::vector<double> values;
    double value = 0.0;
    while (pipe != nullptr && std::fscanf(pipe, "%lf", &value) == 1) {
        values.push_back(value);
    }
    if (pipe != nullptr) {
        pclose(pipe);
    }
    std::remove(path.c_str());
    return values;
}

/// The values as a Python list.
template <class Values>
std::string python_list(const Values& values) {
    std::string text = "[";
    for (const auto v : values) {
        std::array<char, 40> number{};
        std::snprintf(number.data(), number.size(), "%.17g,", static_cast<double>(v));
        text += number.data();
    }
    return text + "]";
}

} // namespace retap::test
