// The signs of the tooth chart, each a shape that reads in grey.
#pragma once

#include "chart/holds.hpp"
#include "chart/marks.hpp"
#include "report/markup.hpp"

#include <utility>

namespace retap::report {

/// Where a place lies on the biting surface: 0 is at the midline end and at the cheek, 1 at the back end and at the
/// tongue.
struct OnTooth {
    double distal = 0.5;
    double inward = 0.5;
};
[[nodiscard]] OnTooth place_on_tooth(const chart::Place& place);

/// Centric a filled disc; working a triangle upward, non-working downward, protrusive a diamond, all hollow. Heavier is
/// larger. On the restoration: a ring around it.
void mark_sign(Markup& out, const chart::Mark& mark, double x, double y);

/// Hold: a thick bar from tooth to tooth. Slide: a thin broken line. Open: two stubs that do not meet. Untestable: a
/// cross, since nothing could be tested.
void film_sign(Markup& out, chart::Film film, std::pair<double, double> from, std::pair<double, double> to);

/// What was there before the work: the same shape, empty and broken, just outside of what is there now. The page draws
/// the same (src/page/ts/signs.ts).
void mark_before(Markup& out, const chart::Mark& mark, double x, double y);
void film_before(Markup& out, chart::Film film, std::pair<double, double> from, std::pair<double, double> to);

} // namespace retap::report
