// Kinds of number that must not be mixed up. Each is built explicitly; a sample rate is needed to go from samples to
// seconds. A position minus a position is a length; adding two positions does not compile.
#pragma once

#include <compare>

namespace retap::dsp {

/// Samples per second of one channel. Positive and finite (asserted).
class SampleRate {
public:
    explicit SampleRate(double hz);
    [[nodiscard]] double hz() const { return hz_; }
    auto operator<=>(const SampleRate&) const = default;

private:
    double hz_;
};

/// A signed stretch of time, in samples; may be a fraction of one.
class Length {
public:
    explicit constexpr Length(double samples) : samples_(samples) {}
    [[nodiscard]] static Length from_seconds(double seconds, SampleRate rate) { return Length(seconds * rate.hz()); }
    [[nodiscard]] static Length from_ms(double ms, SampleRate rate) { return Length(ms * 1e-3 * rate.hz()); }
    [[nodiscard]] constexpr double samples() const { return samples_; }
    [[nodiscard]] double seconds(SampleRate rate) const { return samples_ / rate.hz(); }
    [[nodiscard]] double ms(SampleRate rate) const { return 1e3 * seconds(rate); }
    auto operator<=>(const Length&) const = default;

private:
    double samples_;
};

/// A point in a recording, counted in samples from its first one; may fall between two samples.
class Position {
public:
    explicit constexpr Position(double samples) : samples_(samples) {}
    [[nodiscard]] static Position from_seconds(double seconds, SampleRate rate) {
        return Position(seconds * rate.hz());
    }
    [[nodiscard]] constexpr double samples() const { return samples_; }
    [[nodiscard]] double seconds(SampleRate rate) const { return samples_ / rate.hz(); }
    auto operator<=>(const Position&) const = default;

private:
    double samples_;
};

constexpr Length operator-(Position a, Position b) {
    return Length(a.samples() - b.samples());
}
constexpr Position operator+(Position a, Length b) {
    return Position(a.samples() + b.samples());
}
constexpr Position operator-(Position a, Length b) {
    return Position(a.samples() - b.samples());
}
constexpr Length operator+(Length a, Length b) {
    return Length(a.samples() + b.samples());
}
constexpr Length operator-(Length a, Length b) {
    return Length(a.samples() - b.samples());
}
constexpr Length operator*(Length a, double k) {
    return Length(a.samples() * k);
}

/// A frequency in hertz.
class Frequency {
public:
    explicit constexpr Frequency(double hz) : hz_(hz) {}
    [[nodiscard]] constexpr double hz() const { return hz_; }
    auto operator<=>(const Frequency&) const = default;

private:
    double hz_;
};

/// A level in decibels; what it is relative to is said by the name that holds it (peak_dbfs: a full-scale sample).
class Level {
public:
    explicit constexpr Level(double db) : db_(db) {}
    /// 20 log10 of an amplitude ratio; amplitudes at or below 1e-15 give -300 dB, so that silence has a level.
    [[nodiscard]] static Level from_amplitude(double ratio);
    /// 10 log10 of a power or energy ratio; powers at or below 1e-30 give -300 dB.
    [[nodiscard]] static Level from_power(double ratio);
    [[nodiscard]] constexpr double db() const { return db_; }
    [[nodiscard]] double amplitude() const;
    [[nodiscard]] double power() const;
    auto operator<=>(const Level&) const = default;

private:
    double db_;
};

constexpr Level operator+(Level a, Level gain) {
    return Level(a.db() + gain.db());
}
constexpr Level operator-(Level a, Level b) {
    return Level(a.db() - b.db());
}

} // namespace retap::dsp
