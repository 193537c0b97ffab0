#include "validate/take_files.hpp"

#include "audio/sound_file.hpp"
#include "temp_folder.hpp"
#include "validate/simulated.hpp"

#include <doctest/doctest.h>

namespace {

using namespace retap::validate;

TEST_CASE("a take is written as it is, with its truth beside it") {
    const retap::test::TempFolder folder;
    const Family family{.mechanics = retap::bite::Mechanics::chance, .sound = Sound::modal};
    auto scenario = take_after(family, 5, {}, 6);
    scenario.taps = 2;
    const auto take = retap::bite::make_take(scenario);
    write_take_files(folder / "takes", family, "6-200", scenario, take);
    const auto sound = retap::audio::read_sound(folder / "takes/chance-modal/5-6-200.wav");
    CHECK(sound.interleaved == take.channels.front());
    const std::string truth = retap::test::bytes_of(folder / "takes/chance-modal/5-6-200.json");
    for (const char* words : {R"("family":"chance-modal")", R"("patient":5)", R"("height_um":200)", R"("peak":[)",
                              R"("point":)", R"("usual_peak_dbfs":-)"}) {
        CAPTURE(words);
        CHECK(truth.find(words) != std::string::npos);
    }
}

} // namespace
