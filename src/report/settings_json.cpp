#include "compare/compare_takes.hpp"
#include "dsp/base/take.hpp"
#include "report/each_compare_setting.hpp"
#include "report/json.hpp"

#include <ranges>
#include <type_traits>
#include <utility>

// Each struct is taken apart whole: a setting that is added and not written here does not compile.
namespace retap::report {
namespace {

/// Writes down each setting it is shown.
struct Writer {
    Json& out;

    template <class T>
    void operator()(const char* name, const T& value) const {
        if constexpr (std::is_arithmetic_v<T> || std::ranges::range<T>) {
            out[name] = value;
        } else if constexpr (std::is_same_v<T, dsp::Level>) {
            out[name] = value.db();
        } else if constexpr (std::is_same_v<T, dsp::Frequency>) {
            out[name] = value.hz();
        } else {
            out[name] = Json::object();
            each_setting(value, Writer{out[name]});
        }
    }
};

} // namespace

Json settings_json(const dsp::TakeAnalysis& take) {
    Json settings{{"version", RETAP_VERSION}, {"analysis_rate_hz", dsp::analysis_rate_hz}};
    if (take.settings) {
        each_setting(*take.settings, Writer{settings});
        Json bands = Json::array();
        for (const auto& [from_hz, to_hz] : dsp::arrival_bands) {
            bands.push_back({from_hz, to_hz});
        }
        settings["arrival"]["bands_hz"] = std::move(bands);
        settings["arrival"]["shares"] = dsp::arrival_shares;
    }
    return settings;
}

Json settings_json(const compare::Comparison& comparison) {
    Json settings = settings_json(comparison.before);
    if (comparison.settings) {
        Writer{settings}("compare", *comparison.settings);
    }
    return settings;
}

} // namespace retap::report
