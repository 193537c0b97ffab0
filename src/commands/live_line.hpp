// A running recording in one line.
#pragma once

#include "audio/take_session.hpp"

#include <string>

namespace retap::commands {

/// "Listening   0 of 8   [####------]  12 s" and so on; no line end. At most 79 characters.
[[nodiscard]] std::string live_line(const audio::SessionProgress& progress);

/// Shows the line on stderr when that is a terminal, writing over itself; otherwise nothing.
class LiveLine {
public:
    LiveLine();
    /// Clears the line.
    ~LiveLine();
    LiveLine(const LiveLine&) = delete;
    LiveLine& operator=(const LiveLine&) = delete;

    void show(const audio::SessionProgress& progress) const;
    [[nodiscard]] bool shown() const { return shown_; }

private:
    bool shown_;
};

} // namespace retap::commands
