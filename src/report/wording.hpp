// Numbers and names as a person reads them.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace retap::report {

/// A number with this many decimals, a true minus sign, and never "-0"; an en dash when it is not finite.
[[nodiscard]] std::string number(double value, int decimals);

/// A number with its unit and as many digits as mean something: milliseconds to 0.01 below 10 ms, levels to 0.1 dB,
/// frequencies from 1000 Hz up in kHz. The unit is joined by a no-break space.
[[nodiscard]] std::string quantity(double value, std::string_view unit);

/// As quantity(), with the sign always shown.
[[nodiscard]] std::string signed_quantity(double value, std::string_view unit);

/// The unit of differences and scatters of something measured in `unit`: levels in dBFS differ by dB.
[[nodiscard]] std::string_view difference_unit(std::string_view unit);

/// How far something stands above the noise, in whole dB. Beyond 96 dB, the range of 16 bits, which no room and no
/// pick-up offer, it reads "more than 96 dB": the noise was taken away, or is digital silence.
[[nodiscard]] std::string margin_over_noise(double margin_db);

/// A level of noise; below -96 dBFS it reads "under −96 dBFS".
[[nodiscard]] std::string noise_level(double level_dbfs);

/// "1 tap", "8 taps".
[[nodiscard]] std::string count(std::size_t n, std::string_view one, std::string_view many);

/// What a measure is called on screen, for its name in JSON; unknown names come back with spaces for underscores.
[[nodiscard]] std::string measure_label(std::string_view name);

/// What a measure counts, as a sentence, for those whose label does not say it; else empty.
[[nodiscard]] std::string_view measure_meaning(std::string_view name);

/// The last part of a path: folders may say more about a person than a report should.
[[nodiscard]] std::string file_label(std::string_view path);

} // namespace retap::report
