// A small run of the whole validation: complete, reproducible, and written as it says.
#include "validate/study.hpp"

#include "recorded_strikes.hpp"
#include "temp_folder.hpp"
#include "validate/page.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <regex>
#include <string>

namespace {

using namespace retap::validate;
using retap::test::strikes_are_here;

TEST_CASE("A run holds every comparison, contact and take that it should, and the page every table and plot") {
    if (!strikes_are_here()) {
        return;
    }
    const retap::test::TempFolder folder;
    const Options options =
        read_options({"--patients", "2", "--seed", "900", "--family", "light-strikes", "--family", "light-modal",
                      "--family", "stopping-turns", "--out", (folder / "page").string(), "--date", "2026-01-02"});
    const Results results = study_all(options);
    CHECK(results.pairs.size() == 2 * 3 * conditions.size());
    CHECK(results.taps.size() == 2 * 2 * clinic_snr_db.size());
    CHECK(results.echoes.size() == 9 * echo_kinds.size() * echo_pairs.size()); // of nine kits
    CHECK(std::ranges::count(results.contacts, "double strike", &ContactResult::source) == 2 * 6 * 8);
    CHECK(std::ranges::count(results.contacts, "single strike", &ContactResult::source) == 2 * 8);
    CHECK(std::ranges::count(results.contacts, "high spot", &ContactResult::source) > 8);

    const auto sections = sections_of(options, results);
    write_page(options, sections, 1.0);
    const std::string page = retap::test::bytes_of(folder / "page/README.md");
    for (const char* words :
         {"simulated", "2026-01-02", "patients 900 to 901", "Not a held-out run", "**Retap**", "distance of 13 MFCCs",
          "## In short", "what we aim for", "## Verdicts", "## What a likeness means", "## Contact times",
          "## Taps found", "aubio", "### Family: stopping-turns", "## Second knocks"}) {
        CAPTURE(words);
        CHECK(page.find(words) != std::string::npos);
    }
    const std::regex link(R"(\]\(([^)]+)\))");
    std::size_t links = 0;
    for (auto at = std::sregex_iterator(page.begin(), page.end(), link); at != std::sregex_iterator(); ++at, ++links) {
        CAPTURE((*at)[1].str());
        CHECK(std::filesystem::file_size(folder / ("page/" + (*at)[1].str())) > 100);
    }
    CHECK(links == 13); // nine plots, four lists of numbers
}

TEST_CASE("The number of cores does not change the results") {
    if (!strikes_are_here()) {
        return;
    }
    Options options = read_options({"--patients", "2", "--seed", "910", "--only", "contacts", "--family", "light"});
    options.cores = 1;
    const Results one = study_all(options);
    options.cores = 3;
    const Results three = study_all(options);
    CHECK(contacts_section(one.contacts).numbers.front().content ==
          contacts_section(three.contacts).numbers.front().content);
    CHECK(one.pairs.empty());
    CHECK(one.taps.empty());
}

TEST_CASE("Takes have as many taps as is asked for") {
    if (!strikes_are_here()) {
        return;
    }
    const Results results = study_all(read_options(
        {"--patients", "1", "--seed", "910", "--only", "table", "--family", "chance-modal", "--taps-a-take", "3"}));
    REQUIRE(!results.pairs.empty());
    for (const PairResult& pair : results.pairs) { // four are the fewest that are judged
        CHECK(pair.verdict == retap::compare::Verdict::unclear);
    }
}

TEST_CASE("Repeats, two pick-ups and files of the takes are what was asked for") {
    if (!strikes_are_here()) {
        return;
    }
    const retap::test::TempFolder folder;
    const std::vector<std::string> usual{"--patients", "1",     "--seed",   "920",
                                         "--only",     "table", "--family", "light-modal"};
    const auto likenesses_with = [&](const std::vector<std::string>& more) {
        std::vector<std::string> arguments = usual;
        arguments.insert(arguments.end(), more.begin(), more.end());
        std::vector<double> likenesses;
        for (const PairResult& pair : study_all(read_options(arguments)).pairs) {
            likenesses.push_back(pair.likeness);
        }
        return likenesses;
    };
    const auto once = likenesses_with({"--write-takes", (folder / "takes").string()});
    CHECK(once.size() == conditions.size());
    CHECK(likenesses_with({"--takes-after", "2"}) != once);
    CHECK(likenesses_with({"--two-pick-ups"}) != once);
    const auto written = std::filesystem::directory_iterator(folder / "takes/light-modal");
    CHECK(std::distance(begin(written), end(written)) == 2 * static_cast<std::ptrdiff_t>(conditions.size() + 1));
    CHECK(std::filesystem::exists(folder / "takes/light-modal/920-before.wav"));
    CHECK(std::filesystem::exists(folder / "takes/light-modal/920-6-200.json"));
}

TEST_CASE("Options that make no sense are refused") {
    for (const std::vector<std::string>& wrong : {std::vector<std::string>{"--nonsense"},
                                                  {"--patients"},
                                                  {"--patients", "0"},
                                                  {"--patients", "many"},
                                                  {"--only", "everything"},
                                                  {"--taps-a-take", "0"},
                                                  {"--taps-a-take", "49"},
                                                  {"--date", "yesterday"},
                                                  {"--family", "heavy"},
                                                  {"--takes-after", "0"},
                                                  {"--takes-before", "6"},
                                                  {"--only", "takes"}}) {
        CHECK_THROWS_AS((void)read_options(wrong), std::invalid_argument);
    }
}

} // namespace
