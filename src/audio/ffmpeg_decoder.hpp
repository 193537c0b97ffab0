// Decodes the formats of phones with FFmpeg's libraries; the one place that includes them.
#pragma once

namespace retap::audio {

/// Reads the file open as `file_descriptor` (seekable) and writes it to `pipe_descriptor` as decoder_wire says: the
/// best sound stream and no other, at its own rate, with all channels, without the samples that encoders put ahead and
/// behind (priming, edit lists, discarded padding). Damage in the middle ends it with a fault. Returns the exit status.
/// To be run in a process that may not do anything else (helper_rights): what it reads may be hostile.
[[nodiscard]] int decode_to_pipe(int file_descriptor, int pipe_descriptor);

} // namespace retap::audio
