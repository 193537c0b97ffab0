#include "chairside/bench_query.hpp"

#include "error.hpp"

#include <doctest/doctest.h>
#include <string>
#include <utility>
#include <vector>

using namespace retap;
using namespace retap::chairside;

namespace {

HttpRequest asked(std::map<std::string, std::string, std::less<>> query) {
    HttpRequest request;
    request.query = std::move(query);
    return request;
}

} // namespace

TEST_CASE("nothing asked for is the balanced bite") {
    const bite::LessonBite bite = bite_of_query(asked({}));
    CHECK(bite.heights.empty());
    CHECK_FALSE(bite.slide.has_value());
    CHECK_FALSE(bite.side.has_value());
    CHECK(bite.speed_m_per_s == doctest::Approx(0.05));
    CHECK(bite.room == bite::LessonRoom::quiet);
}

TEST_CASE("a bite is read as it was set, a lower tooth as the pair it belongs to") {
    const bite::LessonBite bite = bite_of_query(asked({{"tooth", "46"},
                                                       {"height", "-100"},
                                                       {"slide", "400"},
                                                       {"side", "left"},
                                                       {"side_height", "80"},
                                                       {"speed", "120"},
                                                       {"pickup", "both"},
                                                       {"room", "busy"},
                                                       {"take", "7"}}));
    REQUIRE(bite.heights.size() == 1);
    CHECK(bite.heights[0].pair == *bite::pair_of_tooth(16));
    CHECK(bite.heights[0].height_um == doctest::Approx(-100.0));
    CHECK(bite.slide.value().distance_um == doctest::Approx(400.0));
    CHECK(bite.side.value().side == bite::ArchSide::left);
    CHECK(bite.side.value().height_um == doctest::Approx(80.0));
    CHECK(bite.speed_m_per_s == doctest::Approx(0.12));
    CHECK(bite.pickups == bite::Pickups::left_and_right);
    CHECK(bite.room == bite::LessonRoom::busy);
    CHECK(bite.take == 7);
}

TEST_CASE("what the bench cannot set is refused in words") {
    const std::vector<std::pair<std::string, std::string>> wrong{
        {"speed", "1000"}, {"speed", "fast"}, {"room", "bathroom"}, {"pickup", "chin"},
        {"take", "0"},     {"slide", "5"},    {"side_height", "-1"}};
    for (const auto& setting : wrong) {
        CAPTURE(setting.first);
        CHECK_THROWS_AS((void)bite_of_query(asked({setting, {"tooth", "16"}})), InputError);
    }
    CHECK_THROWS_AS((void)bite_of_query(asked({{"height", "50"}})), InputError);                  // of which tooth?
    CHECK_THROWS_AS((void)bite_of_query(asked({{"height", "50"}, {"tooth", "18"}})), InputError); // the model has none
    CHECK_THROWS_AS((void)bite_of_query(asked({{"height", "nan"}, {"tooth", "16"}})), InputError);
    CHECK_THROWS_AS((void)slow_motion_of_query(asked({{"slow", "65"}})), InputError);
}

TEST_CASE("slow motion keeps the pitch only when asked") {
    CHECK(slow_motion_of_query(asked({})).factor == doctest::Approx(1.0));
    const lesson::SlowMotion slow = slow_motion_of_query(asked({{"slow", "16"}, {"keep_pitch", "1"}}));
    CHECK(slow.factor == doctest::Approx(16.0));
    CHECK(slow.keep_pitch);
}
