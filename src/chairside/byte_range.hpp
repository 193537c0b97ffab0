// The part of a reply that a player of sound asks for.
#pragma once

#include <cstddef>
#include <optional>
#include <string_view>

namespace retap::chairside {

struct ByteRange {
    std::size_t first = 0;
    std::size_t last = 0; ///< included
};

struct AskedRange {
    enum class Kind {
        whole, ///< none was asked for, more than one, or in a form that is not known: the reply is sent whole
        part,
        none ///< there is nothing of the reply in it
    };
    Kind kind = Kind::whole;
    ByteRange part{};
};

/// Reads "bytes=FIRST-LAST", "bytes=FIRST-" and "bytes=-COUNT" for a reply of `size` bytes (RFC 9110, 14.1.2). Several
/// ranges are not served, which a server may do: overlapping ones would make a reply many times the size of the whole.
[[nodiscard]] AskedRange asked_range(std::string_view header, std::size_t size);

} // namespace retap::chairside
