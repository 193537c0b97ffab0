#include "audio/kept_spans.hpp"

#include <doctest/doctest.h>
#include <vector>

using namespace retap::audio;

TEST_CASE("spans around taps meet and join, and do not begin before the start") {
    CHECK(spans_around({}, 50).empty());
    CHECK(spans_around({300, 20, 100, 201, 203}, 50) ==
          std::vector<Span>{{.begin = 0, .end = 150}, {.begin = 151, .end = 350}});
    CHECK(spans_around({100, 200}, 50) == std::vector<Span>{{.begin = 50, .end = 250}});
}

TEST_CASE("what a piece has in common with spans is cut at their edges") {
    const std::vector<Span> spans = {{.begin = 10, .end = 20}, {.begin = 30, .end = 40}};
    CHECK(common({.begin = 0, .end = 10}, spans).empty());
    CHECK(common({.begin = 15, .end = 35}, spans) ==
          std::vector<Span>{{.begin = 15, .end = 20}, {.begin = 30, .end = 35}});
    CHECK(common({.begin = 12, .end = 13}, spans) == std::vector<Span>{{.begin = 12, .end = 13}});
}
