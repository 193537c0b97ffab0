#include "made_takes.hpp"
#include "paths.hpp"
#include "report/json.hpp"
#include "run_program.hpp"

#include <array>
#include <cmath>
#include <csignal>
#include <doctest/doctest.h>
#include <utility>

using namespace retap;
using namespace retap::test;

TEST_CASE("inspect finds every tap of a clean take where it was put, as JSON on stdout and nothing on stderr") {
    const TempFolder folder;
    const MadeTake made{.taps = 10};
    write_take(folder / "take.wav", made);
    const Outcome outcome = run_retap(folder.path(), {"inspect", "take.wav", "--json"});
    REQUIRE(outcome.status == 0);
    CHECK(outcome.err.empty());
    const auto json = report::Json::parse(outcome.out);
    CHECK(json["format"] == "retap.take/1");
    CHECK(json.begin().key() == "format");
    CHECK(json["file"] == "take.wav");
    CHECK(json["sample_rate_hz"] == 48000.0);
    CHECK(json["channels"] == 1);
    REQUIRE(json["taps"].size() == 10);
    for (int n = 0; n < 10; ++n) {
        // What the sound stage promises: a bias of 0.05 ms, and twice a scatter of 0.03.
        CHECK(std::abs(json["taps"][static_cast<std::size_t>(n)]["onset_s"].get<double>() - tap_time_s(made, n)) <
              5e-5);
    }
}

TEST_CASE("inspect says the same as text, with a line for each tap") {
    const TempFolder folder;
    write_take(folder / "take.wav", {.taps = 10});
    const Outcome outcome = run_retap(folder.path(), {"inspect", "take.wav"});
    REQUIRE(outcome.status == 0);
    CHECK(outcome.err.empty());
    CHECK(outcome.out.starts_with("take.wav: 5.0 s, 48000 Hz, one channel\n"));
    CHECK(outcome.out.find("of 10 taps can be used.") != std::string::npos);
    CHECK(outcome.out.find("\n   10  4.200  ") != std::string::npos);
}

TEST_CASE("a take without taps is inspected, found not fit, and that is no failure") {
    const TempFolder folder;
    write_take(folder / "quiet.wav", {.taps = 0});
    const Outcome outcome = run_retap(folder.path(), {"inspect", "quiet.wav", "--json"});
    REQUIRE(outcome.status == 0);
    const auto json = report::Json::parse(outcome.out);
    CHECK(json["fitness"]["usable"] == false);
    CHECK_FALSE(json["fitness"]["reasons"].empty());
    CHECK(json["taps"].empty());
}

TEST_CASE("two channels are left and right; of four the chosen ones are read") {
    const TempFolder folder;
    write_take(folder / "two.wav", {.channels = 2});
    write_take(folder / "four.wav", {.channels = 4});
    const auto two = report::Json::parse(run_retap(folder.path(), {"inspect", "two.wav", "--json"}).out);
    CHECK(two["channels"] == 2);
    CHECK(two["taps"][0]["left_lead_ms"].is_number());
    const auto chosen =
        report::Json::parse(run_retap(folder.path(), {"inspect", "four.wav", "--channels", "4,1", "--json"}).out);
    CHECK(chosen["channels"] == 2);
    const Outcome refused = run_retap(folder.path(), {"inspect", "four.wav"});
    CHECK(refused.status == 3);
    CHECK(refused.err == "retap: Cannot use 'four.wav': it has 4 channels, and which of them are the pick-ups is not "
                         "known. Choose one, or two as left and right (--channels 1 or --channels 1,2).\n");
}

TEST_CASE("input that cannot be used ends with status 3, one sentence on stderr and nothing on stdout") {
    const TempFolder folder;
    write_take(folder / "whole.wav");
    const std::string whole = bytes_of(folder / "whole.wav");
    put_bytes(folder / "empty.wav", "");
    put_bytes(folder / "text.wav", "hello");
    put_bytes(folder / "truncated.wav", whole.substr(0, whole.size() - 3000));
    std::filesystem::create_directory(folder / "folder.wav");
    const std::array<std::pair<const char*, const char*>, 5> faults{{
        {"missing.wav", "retap: Cannot read 'missing.wav': there is no such file. Check the name and the folder.\n"},
        {"empty.wav", "retap: Cannot read 'empty.wav': the file is empty. Record or copy it again.\n"},
        {"text.wav",
         "retap: Cannot use 'text.wav': it is not a sound file that can be read (WAV, FLAC, AIFF, OGG and MP3 are). "
         "Save it as WAV or FLAC.\n"},
        {"truncated.wav",
         "retap: Cannot use 'truncated.wav': its header promises 720000 bytes of sound but only 717000 "
         "are there; it was cut short or never finished. Copy or record it again.\n"},
        {"folder.wav", "retap: Cannot read 'folder.wav': it is a folder. Name one sound file in it.\n"},
    }};
    for (const auto& [file, err] : faults) {
        for (const bool json : {false, true}) {
            const Outcome outcome = run_retap(folder.path(), json ? std::vector<std::string>{"inspect", file, "--json"}
                                                                  : std::vector<std::string>{"inspect", file});
            CHECK(outcome.status == 3);
            CHECK(outcome.out.empty());
            CHECK(outcome.err == err);
        }
    }
}

TEST_CASE("a result that cannot be written is a failure, not silence") {
    const TempFolder folder;
    write_take(folder / "take.wav");
    const Outcome full = run_retap(folder.path(), {"inspect", "take.wav"}, {.out_path = "/dev/full"});
    CHECK(full.status == 3);
    CHECK(full.err ==
          "retap: Cannot write the result: No space left on device. Send it somewhere else or make room.\n");
    const Outcome closed = run_retap(folder.path(), {"inspect", "take.wav"}, {.close_out = true});
    CHECK(closed.status == 3);
    CHECK(closed.err.starts_with("retap: Cannot write the result: "));
}

TEST_CASE("a reader that goes away ends the program quietly, as it does any filter") {
    const TempFolder folder;
    write_take(folder / "take.wav");
    const Outcome outcome = run_retap(folder.path(), {"inspect", "take.wav"}, {.broken_pipe = true});
    CHECK(outcome.status == 128 + SIGPIPE);
    CHECK(outcome.err.empty());
}

#ifdef __SANITIZE_ADDRESS__
constexpr bool memory_means_something = false; // freed memory is kept for a while, to catch its use
#else
constexpr bool memory_means_something = true;
#endif

TEST_CASE("ten times the length takes no more memory" * doctest::skip(!memory_means_something)) {
    const TempFolder folder;
    write_take(folder / "short.wav", {.taps = 0, .first_s = 20.0});
    write_take(folder / "long.wav", {.taps = 0, .first_s = 200.0});
    const Outcome short_one = run_retap(folder.path(), {"inspect", "short.wav"});
    const Outcome long_one = run_retap(folder.path(), {"inspect", "long.wav"});
    REQUIRE(long_one.status == 0);
    // The long file holds 29 MB of samples, 38 MB as float; a tenth of that is room for the allocator's moods.
    CHECK(long_one.peak_kb < short_one.peak_kb + 4000);
}

TEST_CASE("a take that is not fit though its taps can be used does not read as if that were the reason") {
    const TempFolder folder;
    write_take(folder / "dull.wav", {.rate_hz = 8000.0});
    const Outcome dull = run_retap(folder.path(), {"inspect", "dull.wav"});
    CHECK(dull.out.find("NOT FIT to compare (10 of 10 taps can be used).\n  The recording holds nothing above") !=
          std::string::npos);
    const Outcome none =
        run_retap(folder.path(), {"inspect", test::source_dir() + "/recordings/clipped.flac", "--json"});
    const report::Json json = report::Json::parse(none.out);
    REQUIRE(!json["taps"].empty());
    for (const auto& tap : json["taps"]) {
        CHECK(tap["contacts"].empty());
        CHECK(tap["onset_spread_ms"].is_null()); // not measured, which is not the same as together
    }
}
