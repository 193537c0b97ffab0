#include "chart/marks.hpp"

#include "chart/words.hpp"

#include <algorithm>
#include <iterator>

namespace retap::chart {

std::string_view word(Stage stage) {
    switch (stage) {
    case Stage::centric:
        return "centric";
    case Stage::working:
        return "working";
    case Stage::non_working:
        return "non-working";
    case Stage::protrusive:
        break;
    }
    return "protrusive";
}

std::string_view word(Weight weight) {
    switch (weight) {
    case Weight::light:
        return "light";
    case Weight::even:
        return "even";
    case Weight::heavy:
        break;
    }
    return "heavy";
}

std::string_view word(Where where) {
    switch (where) {
    case Where::not_said:
        return "not said";
    case Where::restoration:
        return "restoration";
    case Where::beside:
        break;
    }
    return "beside";
}

bool is_stop(const Mark& mark, const Crossbite& crossbite) {
    return mark.stage == Stage::centric && !mark.place.incline &&
           role(mark.tooth, mark.place.spot, crossbite) != CuspRole::guiding;
}

std::string plain_name(const Mark& mark, Numbering numbering) {
    return plain_name(mark.tooth, mark.place) + " of " + name(mark.tooth, numbering);
}

std::string list(const std::vector<Mark>& marks, Numbering numbering) {
    std::vector<std::string> names;
    names.reserve(marks.size());
    for (const Mark& mark : marks) {
        names.push_back(plain_name(mark, numbering));
    }
    return names.empty() ? "no mark" : join_with_and(names);
}

bool MarkChart::has_eccentric() const {
    return std::any_of(stages.begin(), stages.end(), [](Stage stage) { return stage != Stage::centric; });
}

std::vector<Mark> MarkChart::of(Stage stage) const {
    std::vector<Mark> found;
    std::copy_if(marks.begin(), marks.end(), std::back_inserter(found),
                 [stage](const Mark& mark) { return mark.stage == stage; });
    return found;
}

namespace {

bool same_place(const Mark& a, const Mark& b) {
    return a.tooth == b.tooth && a.place == b.place;
}

bool any_at(const std::vector<Mark>& marks, const Mark& there, bool centric) {
    return std::any_of(marks.begin(), marks.end(), [&](const Mark& mark) {
        return same_place(mark, there) && (mark.stage == Stage::centric) == centric;
    });
}

} // namespace

std::vector<Mark> both_stages(const MarkChart& chart) {
    std::vector<Mark> both = chart.of(Stage::centric);
    std::erase_if(both, [&](const Mark& mark) { return !any_at(chart.marks, mark, false); });
    return both;
}

std::vector<Mark> eccentric_only(const MarkChart& chart, Stage stage) {
    std::vector<Mark> only = chart.of(stage);
    std::erase_if(only, [&](const Mark& mark) { return mark.tooth.front() || any_at(chart.marks, mark, true); });
    return only;
}

std::vector<Mark> heavier_than_the_rest(const MarkChart& chart) {
    const std::vector<Mark> centric = chart.of(Stage::centric);
    std::vector<Mark> heavier;
    for (std::size_t i = 0; i < centric.size(); ++i) {
        std::vector<Weight> others;
        for (std::size_t j = 0; j < centric.size(); ++j) {
            if (j != i) {
                others.push_back(centric[j].weight);
            }
        }
        std::sort(others.begin(), others.end());
        // with an even number of others the heavier of the middle two: the claim has to clear both
        const bool stands_out =
            others.empty() ? centric[i].weight == Weight::heavy : centric[i].weight > others[others.size() / 2];
        if (stands_out) {
            heavier.push_back(centric[i]);
        }
    }
    return heavier;
}

} // namespace retap::chart
