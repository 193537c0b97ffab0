#include "audio/enhanced_device.hpp"

#include <doctest/doctest.h>
#include <string>

using retap::audio::enhancement_warning;

TEST_CASE("devices that say they work on the sound are warned about, however they write it") {
    for (const char* name : {"Microphone (echo cancelled with Built-in)", "mic.echo-cancel", "Noise-Cancelling Source",
                             "USB Mic [Noise Suppression]", "Denoised input", "Input, automatic gain"}) {
        CAPTURE(name);
        CHECK(enhancement_warning(name).find("works on the sound") != std::string::npos);
    }
    for (const char* name : {"Headset (Hands-Free)", "bluez_input.headset-head-unit", "HFP input"}) {
        CAPTURE(name);
        CHECK(enhancement_warning(name).find("telephone link") != std::string::npos);
    }
}

TEST_CASE("plain devices are not warned about") {
    for (const char* name :
         {"", "default", "USB Audio: - (hw:1,0)", "mic48", "Contact pick-up", "Built-in Audio Analog Stereo"}) {
        CAPTURE(name);
        CHECK(enhancement_warning(name).empty());
    }
}
