#include "dsp/filters/fft.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <new>

#include <kissfft/kiss_fftr.h>

namespace retap::dsp {

namespace {

struct FreePlan {
    void operator()(kiss_fftr_cfg plan) const { kiss_fftr_free(plan); }
};
using Plan = std::unique_ptr<kiss_fftr_state, FreePlan>;

Plan make_plan(std::size_t size, bool inverse) {
    Plan plan(kiss_fftr_alloc(static_cast<int>(size), inverse ? 1 : 0, nullptr, nullptr));
    if (!plan) {
        throw std::bad_alloc();
    }
    return plan;
}

// The library's complex number and the standard's are both a real and an imaginary float, one after the other.
static_assert(sizeof(kiss_fft_cpx) == sizeof(std::complex<float>));

} // namespace

struct RealFft::Plans {
    Plan forward;
    Plan inverse;
    std::vector<float> padded;
};

std::size_t fast_fft_size(std::size_t n) {
    assert(n >= 1);
    const auto is_fast = [](std::size_t m) {
        for (const std::size_t factor : std::array<std::size_t, 3>{2, 3, 5}) {
            while (m % factor == 0) {
                m /= factor;
            }
        }
        return m == 1;
    };
    std::size_t half = (n + 1) / 2;
    while (!is_fast(half)) {
        ++half;
    }
    return 2 * half;
}

RealFft::RealFft(std::size_t size) : size_(size) {
    assert(size >= 2 && size % 2 == 0);
    plans_ = std::make_unique<Plans>(Plans{make_plan(size, false), make_plan(size, true), std::vector<float>(size)});
}

RealFft::~RealFft() = default;
RealFft::RealFft(const RealFft& other) : RealFft(other.size_) {}
RealFft& RealFft::operator=(const RealFft& other) {
    return *this = RealFft(other);
}
RealFft::RealFft(RealFft&&) noexcept = default;
RealFft& RealFft::operator=(RealFft&&) noexcept = default;

std::vector<std::complex<float>> RealFft::forward(std::span<const float> signal) {
    assert(signal.size() <= size_);
    const float* input = signal.data();
    if (signal.size() < size_) {
        const auto rest = std::ranges::copy(signal, plans_->padded.begin()).out;
        std::fill(rest, plans_->padded.end(), 0.0F);
        input = plans_->padded.data();
    }
    std::vector<std::complex<float>> spectrum(bins());
    kiss_fftr(plans_->forward.get(), input, reinterpret_cast<kiss_fft_cpx*>(spectrum.data()));
    return spectrum;
}

std::vector<float> RealFft::inverse(std::span<const std::complex<float>> spectrum) {
    assert(spectrum.size() == bins());
    std::vector<float> signal(size_);
    kiss_fftri(plans_->inverse.get(), reinterpret_cast<const kiss_fft_cpx*>(spectrum.data()), signal.data());
    const float scale = 1.0F / static_cast<float>(size_);
    std::ranges::transform(signal, signal.begin(), [scale](float v) { return v * scale; });
    return signal;
}

} // namespace retap::dsp
