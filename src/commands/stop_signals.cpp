#include "stop_signals.hpp"

#include <array>
#include <csignal>
#include <cstddef>

namespace retap::commands {
namespace {

constexpr std::array signals = {SIGINT, SIGTERM, SIGHUP};

volatile std::sig_atomic_t stop_asked = 0;
std::array<struct sigaction, signals.size()> handled_before{};

void note_signal(int /*signal*/) {
    stop_asked = 1;
}

} // namespace

StopSignals::StopSignals() {
    stop_asked = 0;
    struct sigaction action {};
    action.sa_handler = note_signal;
    sigemptyset(&action.sa_mask);
    for (std::size_t i = 0; i < signals.size(); ++i) {
        sigaction(signals[i], &action, &handled_before[i]);
    }
}

StopSignals::~StopSignals() {
    for (std::size_t i = 0; i < signals.size(); ++i) {
        sigaction(signals[i], &handled_before[i], nullptr);
    }
}

bool StopSignals::asked() {
    return stop_asked != 0;
}

} // namespace retap::commands
