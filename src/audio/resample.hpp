// Changes the sample rate of a stream. libsamplerate does the filtering.
#pragma once

#include <memory>
#include <span>
#include <vector>

namespace retap::audio {

/// Band-limited interpolation with a windowed sinc (libsamplerate, medium quality: signal to noise 121 dB, flat to 90 %
/// of the lower of the two half rates). The result starts where the input starts: no delay to be corrected, 0 samples
/// for any pair of rates. Does not depend on block sizes. Equal rates: the samples pass unchanged. Memory is the filter
/// and one block. Rates may differ by a factor of up to 256 (asserted).
class Resampler {
public:
    Resampler(int channels, double from_hz, double to_hz);
    ~Resampler();
    Resampler(Resampler&&) noexcept;
    Resampler& operator=(Resampler&&) noexcept;

    /// Takes whole interleaved frames; returns what can be given so far, valid until the next call.
    [[nodiscard]] std::span<const float> process(std::span<const float> interleaved);
    /// The rest, once, at the end of the input.
    [[nodiscard]] std::span<const float> finish();

private:
    struct State;
    std::unique_ptr<State> state_;
};

} // namespace retap::audio
