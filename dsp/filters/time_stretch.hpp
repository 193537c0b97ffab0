// Slow motion that keeps the pitch.
#pragma once

#include <span>
#include <vector>

namespace retap::dsp {

/// `signal` made `factor` times as long (1 to 64, asserted) at the same pitch; for listening, not for measuring. Phase
/// vocoder (Flanagan and Golden 1966, Bell Syst Tech J 45:1493; from memory) with short frames of 256 samples, the
/// phases of spectral peaks carried on by what they gained over one synthesis hop with the bins around locked to them
/// (Laroche and Dolson 1999, IEEE Trans SAP 7:323; from memory), and taken afresh where the level jumps, so that
/// impacts keep their attack. A steady sine keeps its frequency and its level within 1 dB (tested). Events nearer than
/// half a frame (2.7 ms at 48 kHz) stay merged however slow it plays. Returns round(factor x size) samples.
[[nodiscard]] std::vector<float> stretch(std::span<const float> signal, double factor);

} // namespace retap::dsp
