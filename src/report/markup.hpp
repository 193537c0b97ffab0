// Writes HTML and SVG so that text from outside cannot become markup: text and attribute values are escaped, names of
// elements and attributes are literals of ours.
#pragma once

#include <initializer_list>
#include <string>
#include <string_view>
#include <utility>

namespace retap::report {

/// The text with & < > " ' replaced by references, safe inside elements and quoted attributes. Control characters that
/// HTML forbids are dropped; bytes that are not UTF-8 become U+FFFD.
[[nodiscard]] std::string escape(std::string_view text);

/// One attribute: a literal name and a value that is escaped when written.
struct Attribute {
    std::string_view name;
    std::string value;
};

/// Markup under construction. Elements are closed by the caller; a test checks that every report is well formed.
class Markup {
public:
    Markup& open(std::string_view element, std::initializer_list<Attribute> attributes = {});
    Markup& close(std::string_view element);
    /// An element without content, written as <name .../>.
    Markup& empty(std::string_view element, std::initializer_list<Attribute> attributes = {});
    Markup& text(std::string_view text);
    /// An element that holds only text.
    Markup& element(std::string_view element, std::initializer_list<Attribute> attributes, std::string_view text);
    Markup& element(std::string_view name, std::string_view text) { return element(name, {}, text); }
    /// Markup that was made by this class or is a literal of ours.
    Markup& add(std::string_view markup);

    [[nodiscard]] const std::string& str() const& { return markup_; }
    [[nodiscard]] std::string str() && { return std::move(markup_); }

private:
    void start(std::string_view element, std::initializer_list<Attribute> attributes);
    std::string markup_;
};

} // namespace retap::report
