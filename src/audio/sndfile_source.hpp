// Sound files that libsndfile reads.
#pragma once

#include "audio/byte_source.hpp"
#include "audio/frame_source.hpp"

#include <memory>
#include <string>

namespace retap::audio {

struct SndfileOpened {
    std::unique_ptr<FrameSource> frames; ///< none when it is nothing that libsndfile knows
    std::string fault;                   ///< then what libsndfile says of it
};

/// `source` must outlive what is returned. Throws InputError when the disk fails.
[[nodiscard]] SndfileOpened open_with_sndfile(const ByteSource& source);

} // namespace retap::audio
