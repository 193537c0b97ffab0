#include "compare/shown_measures.hpp"

#include "compare/compare_takes.hpp"
#include "compare/plain_words.hpp"
#include "compare/statistics.hpp"
#include "dsp/base/statistics.hpp"

#include <algorithm>
#include <utility>

namespace retap::compare {
namespace {

using TakeSpan = std::span<const dsp::TakeAnalysis>;

std::vector<double> pooled(TakeSpan takes, std::size_t measure) {
    std::vector<double> values;
    for (const dsp::TakeAnalysis& take : takes) {
        const TapValues here = values_by_measure(take)[measure];
        values.insert(values.end(), here.values.begin(), here.values.end());
    }
    return values;
}

} // namespace

std::vector<MeasureComparison> shown_measures(TakeSpan before, TakeSpan after, double confidence) {
    std::vector<MeasureComparison> shown;
    const std::vector<TapValues> names = values_by_measure(before.front());
    for (std::size_t m = 0; m < names.size(); ++m) {
        const std::vector<double> old_values = pooled(before, m);
        const std::vector<double> new_values = pooled(after, m);
        if (old_values.size() < 2 || new_values.size() < 2) {
            continue;
        }
        MeasureComparison measure;
        measure.name = names[m].name;
        measure.unit = names[m].unit;
        measure.before = dsp::summarise(old_values);
        measure.after = dsp::summarise(new_values);
        const MeanDifference difference = mean_difference(moments(old_values), moments(new_values));
        const Interval interval = confidence_interval(difference, confidence);
        measure.difference = difference.difference;
        measure.low = interval.low;
        measure.high = interval.high;
        // What a measure moves by from tap to tap is its tolerance here: it is shown, it does not decide.
        measure.tolerance = 2.0 * std::max(measure.before.scatter, measure.after.scatter);
        if (measure.tolerance > 0.0 && test_equivalence(difference, measure.tolerance).p <= 0.5 * (1.0 - confidence)) {
            measure.finding = Finding::within;
        } else if (measure.low > measure.tolerance || measure.high < -measure.tolerance) {
            measure.finding = Finding::beyond;
        }
        measure.plain = plain_measure(measure);
        shown.push_back(std::move(measure));
    }
    return shown;
}

} // namespace retap::compare
