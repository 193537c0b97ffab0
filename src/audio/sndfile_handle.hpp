// The one place that includes libsndfile.
#pragma once

#include "audio/byte_source.hpp"

#include <memory>
#include <sndfile.h>

namespace retap::audio {

struct SndfileCloser {
    void operator()(SNDFILE* file) const { sf_close(file); }
};
using SndfileHandle = std::unique_ptr<SNDFILE, SndfileCloser>;

} // namespace retap::audio
