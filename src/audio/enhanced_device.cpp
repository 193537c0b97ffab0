#include "audio/enhanced_device.hpp"

#include <algorithm>
#include <array>
#include <string>
#include <string_view>

namespace retap::audio {
namespace {

constexpr std::array enhancers = {"echocancel", "noisecancel", "noisesuppress", "noisereduc",
                                  "denois",     "autogain",    "automaticgain"};
constexpr std::array telephone_links = {"handsfree", "headsetheadunit", "hfp", "hsp"};

/// Letters and digits only, small: names are written with spaces, dots, dashes and capitals.
std::string bare(const std::string& name) {
    std::string out;
    for (const char c : name) {
        if (c >= 'A' && c <= 'Z') {
            out += static_cast<char>(c - 'A' + 'a');
        } else if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9')) {
            out += c;
        }
    }
    return out;
}

} // namespace

std::string_view enhancement_warning(const std::string& device_name) {
    const std::string name = bare(device_name);
    const auto has = [&](const char* word) { return name.find(word) != std::string::npos; };
    if (std::ranges::any_of(enhancers, has)) {
        return "By its name, this device works on the sound (echo, noise or level), which changes the taps. Choose the "
               "microphone itself: retap devices";
    }
    if (std::ranges::any_of(telephone_links, has)) {
        return "By its name, this device goes over a telephone link, which keeps little of a tap. Choose a wired "
               "pick-up: retap devices";
    }
    return "";
}

} // namespace retap::audio
