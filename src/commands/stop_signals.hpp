// Ctrl-C and its relatives end a recording, they do not throw it away.
#pragma once

namespace retap::commands {

/// While one lives, SIGINT, SIGTERM and SIGHUP only set asked().
class StopSignals {
public:
    StopSignals();
    ~StopSignals();
    StopSignals(const StopSignals&) = delete;
    StopSignals& operator=(const StopSignals&) = delete;

    [[nodiscard]] static bool asked();
};

} // namespace retap::commands
