// A plot with its title and caption, and the key of its two sides.
#pragma once

#include "report/markup.hpp"

#include <string>
#include <string_view>

namespace retap::report {

/// Nothing when there is no plot.
void figure(Markup& out, std::string_view css_class, const std::string& plot, std::string_view title,
            std::string_view caption);
/// The line and the mark of a side ("before" or "after") with what they stand for.
void key_entry(Markup& out, std::string_view side, std::string_view words);

} // namespace retap::report
