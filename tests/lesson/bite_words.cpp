#include "lesson/bite_words.hpp"

#include <doctest/doctest.h>

using namespace retap;
using namespace retap::lesson;

TEST_CASE("a bite is told in words, in either numbering, and the delay is height over speed") {
    bite::LessonBite bite{.heights = {{.pair = *bite::pair_of_tooth(16), .height_um = 100.0}}};
    CHECK(bite_in_words(bite, chart::Numbering::iso) == "16 high by 100 \u00B5m, closing at 50 mm/s");
    // ISO 16 is 3 in the Universal system (ISO 3950 and its usual concordance, from memory).
    CHECK(bite_in_words(bite, chart::Numbering::universal) == "3 high by 100 \u00B5m, closing at 50 mm/s");
    CHECK(physics_in_words(bite, chart::Numbering::iso) ==
          "Tooth 16 meets early by height / closing speed = 100 \u00B5m / 50 mm/s = 2.00 ms.\n");
    bite.heights.front().height_um = -80.0;
    CHECK(bite_in_words(bite, chart::Numbering::iso).starts_with("16 out of contact by 80 \u00B5m"));
    CHECK(physics_in_words(bite, chart::Numbering::iso).empty());
    CHECK(bite_in_words({}, chart::Numbering::iso) == "a balanced bite, closing at 50 mm/s");
}

TEST_CASE("words that name nothing give nothing") {
    CHECK(pickups_named("both") == bite::Pickups::left_and_right);
    CHECK(room_named("busy") == bite::LessonRoom::busy);
    CHECK(side_named("right") == bite::ArchSide::right);
    CHECK_FALSE(pickups_named("chin").has_value());
    CHECK_FALSE(room_named("").has_value());
    CHECK_FALSE(side_named("both").has_value());
}

TEST_CASE("a lower tooth that was chosen is named as chosen, and another one's number does not stray") {
    const bite::LessonBite bite{.heights = {{.pair = *bite::pair_of_tooth(36), .height_um = 100.0}}};
    const auto lower = chart::Tooth::from_number(36, chart::Numbering::iso);
    CHECK(bite_in_words(bite, chart::Numbering::iso, lower).starts_with("36 high by 100"));
    CHECK(physics_in_words(bite, chart::Numbering::iso, lower).starts_with("Tooth 36 meets early"));
    CHECK(bite_in_words(bite, chart::Numbering::iso, chart::Tooth::from_number(46, chart::Numbering::iso))
              .starts_with("26 high by 100"));
}
