#include "report/markup.hpp"

#include <doctest/doctest.h>

using retap::report::escape;
using retap::report::Markup;

TEST_CASE("Text cannot become markup, neither inside elements nor inside attributes") {
    CHECK(escape("<b a='1' c=\"2\">&amp;") == "&lt;b a=&#39;1&#39; c=&quot;2&quot;&gt;&amp;amp;");
    Markup out;
    out.element("p", {{"title", "\"><script>"}}, "</p><script>");
    CHECK(out.str() == "<p title=\"&quot;&gt;&lt;script&gt;\">&lt;/p&gt;&lt;script&gt;</p>");
}

TEST_CASE("Letters of any script pass unchanged, bytes that are not UTF-8 become the replacement character") {
    CHECK(escape("Zähne \u6b6f \U0001F9B7") == "Zähne \u6b6f \U0001F9B7");
    CHECK(escape("a\xFF"
                 "b") == "a\uFFFDb");
    CHECK(escape("\xC3") == "\uFFFD");                                   // cut short
    CHECK(escape("\xC0\xAF") == "\uFFFD\uFFFD");                         // overlong slash
    CHECK(escape("\xE0\x80\xAF") == "\uFFFD\uFFFD\uFFFD");               // overlong in three bytes
    CHECK(escape("\xED\xA0\x80") == "\uFFFD\uFFFD\uFFFD");               // a surrogate
    CHECK(escape("\xF4\x90\x80\x80").find('\x90') == std::string::npos); // above U+10FFFF
    CHECK(escape("\xC3(") == "\uFFFD(");
}

TEST_CASE("Control characters that HTML forbids are dropped, tab and newline stay") {
    using namespace std::string_view_literals;
    CHECK(escape("a\0b\x1B\x7F\tc\n"sv) == "ab\tc\n");
}
