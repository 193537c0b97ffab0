// Takes as a phone leaves them, through the commands a student would give.
#include "child_process.hpp"
#include "paths.hpp"
#include "report/json.hpp"
#include "run_program.hpp"
#include "visit_program.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

using namespace retap::test;
using json = retap::report::Json;

namespace {

/// The demo take `name` as ffmpeg of Debian makes it with `options`, as `to` in `folder`.
void save_as_phone(const TempFolder& folder, const std::string& name, const std::string& to,
                   const std::vector<std::string>& options) {
    std::vector<std::string> command{"ffmpeg", "-v", "error", "-i", source_dir() + "/recordings/" + name};
    command.insert(command.end(), options.begin(), options.end());
    command.push_back((folder / to).string());
    REQUIRE(ChildProcess(command).wait() == 0);
}

Outcome done(Outcome outcome) {
    CAPTURE(outcome.err);
    REQUIRE(outcome.status == 0);
    return outcome;
}

} // namespace

TEST_CASE("takes from a phone go through inspect, compare, batch and a visit like a WAV, and say their codec") {
    struct Kind {
        std::string ending;
        std::vector<std::string> options;
        std::string codec;
    };
    for (const Kind& kind : {Kind{"m4a", {"-c:a", "aac", "-b:a", "128k"}, "AAC"},
                             Kind{"webm", {"-c:a", "libopus", "-b:a", "96k"}, "Opus"}}) {
        CAPTURE(kind.ending);
        const TempFolder folder;
        const std::string before = "before." + kind.ending;
        const std::string high = "high." + kind.ending;
        save_as_phone(folder, "before.flac", before, kind.options);
        save_as_phone(folder, "after-high-100um.flac", high, kind.options);

        const json take = json::parse(done(run_retap(folder.path(), {"inspect", before, "--json"})).out);
        CHECK(take.at("fitness").at("cautions").dump().find("made smaller with " + kind.codec) != std::string::npos);
        CHECK(take.at("fitness").at("usable") == true);
        const json flac =
            json::parse(run_retap(folder.path(), {"inspect", source_dir() + "/recordings/before.flac", "--json"}).out);
        CHECK(flac.at("fitness").at("cautions").empty());
        CHECK(take.at("taps").size() == flac.at("taps").size());

        const json pair = json::parse(done(run_retap(folder.path(), {"compare", before, high, "--json"})).out);
        CHECK(pair.at("verdict") != "alike"); // the tooth is 100 um high

        const json many = json::parse(done(run_retap(folder.path(), {"batch", ".", "--json"})).out);
        CHECK(many.at("takes").size() == 2);
        CHECK(many.at("failed").empty());

        done(visit(folder, {"new", "C-1", "--teeth", "26", "--numbering", "iso", "--worker", "A. Student"}));
        done(visit(folder, {"attach", "1", "before", before}));
        done(visit(folder, {"attach", "1", "after", high}));
        const Outcome compared = done(visit(folder, {"compare", "1", "after"}));
        CHECK(compared.out.find("ALIKE") == std::string::npos);
        const json again = json::parse(done(visit(folder, {"compare", "1", "after", "--json"})).out);
        for (const char* side : {"before", "after"}) { // the kept sound remembers what it went through
            CHECK(again.at(side).at("fitness").at("cautions").dump().find("made smaller with " + kind.codec) !=
                  std::string::npos);
        }
        const json kept = json::parse(done(visit(folder, {"show", "1", "--json"})).out);
        CHECK(kept.at("looks").size() == 2);
    }
}
