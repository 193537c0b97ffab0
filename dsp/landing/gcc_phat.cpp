#include "dsp/landing/gcc_phat.hpp"

#include "dsp/base/gaussian_kernel.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace retap::dsp {

GccPhat::GccPhat(std::size_t size, double peak_blur) : fft_(size), bell_(half_gaussian(peak_blur)) {}

void GccPhat::correlate(const WhiteSpectrum& a, const WhiteSpectrum& b) {
    assert(a.size() == bins() && b.size() == bins());
    product_.resize(a.size());
    for (std::size_t k = 0; k < a.size(); ++k) {
        // a times the conjugate of b, spelled out: the operator looks for infinities
        product_[k] = {a[k].real() * b[k].real() + a[k].imag() * b[k].imag(),
                       a[k].imag() * b[k].real() - a[k].real() * b[k].imag()};
    }
    correlation_ = fft_.inverse(product_);
    const auto middle = correlation_.begin() + static_cast<std::ptrdiff_t>(correlation_.size() / 2);
    std::rotate(correlation_.begin(), middle, correlation_.end());
}

/// The correlation's magnitude, smoothed.
float GccPhat::smooth(std::ptrdiff_t lag) const {
    float sum = bell_[0] * value(lag);
    for (std::size_t i = 1; i < bell_.size(); ++i) {
        const auto step = static_cast<std::ptrdiff_t>(i);
        sum += bell_[i] * (value(lag + step) + value(lag - step));
    }
    return std::abs(sum);
}

std::ptrdiff_t GccPhat::strongest(std::ptrdiff_t first, std::ptrdiff_t end) const {
    std::ptrdiff_t best = first;
    float highest = -1.0F;
    for (std::ptrdiff_t lag = first; lag < end; ++lag) {
        const float here = smooth(lag);
        if (here > highest) {
            highest = here;
            best = lag;
        }
    }
    return best;
}

double GccPhat::between_samples(std::ptrdiff_t lag) const {
    const auto left = static_cast<double>(smooth(lag - 1));
    const auto peak = static_cast<double>(smooth(lag));
    const auto right = static_cast<double>(smooth(lag + 1));
    const double bend = left - 2.0 * peak + right;
    return static_cast<double>(lag) + (bend < 0.0 ? std::clamp(0.5 * (left - right) / bend, -0.5, 0.5) : 0.0);
}

bool GccPhat::agrees(std::ptrdiff_t lag, double share) const {
    double most = 0.0; // if all phases agreed
    for (const std::complex<float>& p : product_) {
        most += 2.0 * std::sqrt(static_cast<double>(std::norm(p))) / static_cast<double>(fft_.size());
    }
    double highest = 0.0;
    for (std::ptrdiff_t near = lag - 2; near <= lag + 2; ++near) {
        highest = std::max(highest, std::abs(static_cast<double>(value(near))));
    }
    return highest >= share * most;
}

} // namespace retap::dsp
