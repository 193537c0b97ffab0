// Listening tests taken on the page.
#pragma once

#include "lesson/listening_test.hpp"
#include "report/json.hpp"

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <list>
#include <map>
#include <mutex>
#include <optional>
#include <string>
#include <variant>

namespace retap::chairside {

struct HearingSettings {
    bool pairs = false;       ///< same or different; else which of three is odd
    std::string learner{};    ///< a label; empty: the result is not kept
    double height_um = 100.0; ///< of the different pairs
    double speed_mm_s = 50.0;
    std::size_t pair_count = 20;
    std::uint64_t seed = 0; ///< the same seed and answers give the same test
};

/// Every function throws InputError for what cannot be. For several threads at once. A test that was left is forgotten
/// once several newer ones were begun; nothing of it is kept.
class HearingDesk {
public:
    /// Results of learners with a label are added to this file.
    explicit HearingDesk(std::filesystem::path results) : results_(std::move(results)) {}

    /// Where a test stands: {"id", "way", "finished", "number", "pairs", "starts" (s), "result"}. Tells nothing about
    /// what was right until it has ended.
    [[nodiscard]] report::Json begin(const HearingSettings& settings);
    [[nodiscard]] report::Json state(const std::string& id);
    /// An answer to trial `number`: the index of the odd sound, or 1 for different. One that was given before, as by a
    /// second touch, changes nothing.
    [[nodiscard]] report::Json answer(const std::string& id, std::size_t number, std::size_t choice);
    /// The sounds of trial `number` in a row, as the bytes of a FLAC file.
    [[nodiscard]] std::string sound(const std::string& id, std::size_t number);
    /// The same of a trial that was answered wrongly, after the end of its test.
    [[nodiscard]] std::string missed(const std::string& id, std::size_t number);
    /// All kept results as a table.
    [[nodiscard]] std::string results() const;

private:
    struct Test {
        std::string id;
        HearingSettings settings;
        std::variant<lesson::OddOneTest, lesson::PairsTest> test;
        std::optional<report::Json> result;
        std::map<std::size_t, lesson::Trial> missed{}; ///< by number: the latest that were answered wrongly
    };
    [[nodiscard]] Test& test_of(const std::string& id);
    void finish(Test& test) const;
    [[nodiscard]] static report::Json state_json(const Test& test);

    std::filesystem::path results_;
    std::list<Test> tests_; ///< the newest first
    std::size_t begun_ = 0;
    std::mutex mutex_;
};

} // namespace retap::chairside
