#include "audio/journal.hpp"

#include "audio/journal_format.hpp"
#include "error.hpp"
#include "temp_folder.hpp"

#include <cstddef>
#include <cstdint>
#include <doctest/doctest.h>
#include <filesystem>
#include <random>
#include <string>
#include <utility>
#include <vector>

using namespace retap;
using namespace retap::audio;
using retap::test::bytes_of;
using retap::test::put_bytes;

namespace {

JournalHead example_head(int channels = 1) {
    return {.take_id = "0123456789abcdef",
            .destination = "/takes/left\nright.wav",
            .format = {.sample_rate_hz = 44100.0, .channels = channels},
            .device = "Pick-up 2",
            .started = "2031-05-14 10:32:07",
            .keep_all = true};
}

struct Contents {
    std::vector<float> samples;
    std::vector<std::uint64_t> positions;
    std::vector<std::uint64_t> gaps;
    std::vector<std::uint64_t> taps;
    bool torn = false;
};

Contents read(const std::filesystem::path& path) {
    JournalReader reader(path);
    Contents contents;
    JournalReader::Record record;
    while (reader.next(record)) {
        if (record.kind == journal_format::RecordKind::gap) {
            contents.gaps.push_back(record.lost_frames);
        } else if (record.kind == journal_format::RecordKind::tap) {
            contents.taps.push_back(record.position);
        } else {
            contents.positions.push_back(record.position);
            contents.samples.insert(contents.samples.end(), record.samples.begin(), record.samples.end());
        }
    }
    contents.torn = reader.torn();
    return contents;
}

/// Three blocks of 10, 20 and 30 samples with a gap and a tap before the last one.
std::vector<float> write_example(const std::filesystem::path& path) {
    std::vector<float> samples(60);
    std::mt19937 random(5); // fixed seed
    for (float& sample : samples) {
        sample = static_cast<float>(random()) / 4.3e9F;
    }
    JournalWriter writer(path, example_head());
    const std::span<const float> all(samples);
    writer.samples(100, all.first(10));
    writer.samples(110, all.subspan(10, 20));
    writer.gap(130, 7);
    writer.tap(105);
    writer.samples(130, all.subspan(30));
    return samples;
}
constexpr std::size_t record_bytes(std::size_t samples) {
    return sizeof(journal_format::RecordHead) + samples * sizeof(float);
}

} // namespace

TEST_CASE("a journal gives back its head, its samples, its gaps and its taps exactly") {
    const test::TempFolder folder;
    const auto samples = write_example(folder / "a.journal");
    const JournalHead head = JournalReader(folder / "a.journal").head();
    CHECK(head.take_id == example_head().take_id);
    CHECK(head.destination == example_head().destination);
    CHECK(head.format.sample_rate_hz == 44100.0);
    CHECK(head.format.channels == 1);
    CHECK(head.device == "Pick-up 2");
    CHECK(head.started == "2031-05-14 10:32:07");
    CHECK(head.keep_all);
    const Contents contents = read(folder / "a.journal");
    CHECK(contents.samples == samples);
    CHECK(contents.positions == std::vector<std::uint64_t>{100, 110, 130});
    CHECK(contents.gaps == std::vector<std::uint64_t>{7});
    CHECK(contents.taps == std::vector<std::uint64_t>{105});
    CHECK_FALSE(contents.torn);
}

TEST_CASE("a journal cut off at any byte gives every record that is whole, and says that it was cut") {
    const test::TempFolder folder;
    const auto samples = write_example(folder / "whole.journal");
    const std::string bytes = bytes_of(folder / "whole.journal");
    const std::size_t head_end =
        bytes.size() - record_bytes(10) - record_bytes(20) - 2 * record_bytes(0) - record_bytes(30);
    const auto cut = folder / "cut.journal";
    for (std::size_t length = 0; length < bytes.size(); ++length) {
        CAPTURE(length);
        put_bytes(cut, bytes.substr(0, length));
        if (length < head_end) {
            CHECK_THROWS_AS(read(cut), InputError);
            continue;
        }
        std::size_t whole = 0;
        std::size_t end = head_end;
        bool between = length == end;
        for (const std::size_t count : {10U, 20U, 0U, 0U, 30U}) {
            end += record_bytes(count);
            whole += length >= end ? count : 0U;
            between = between || length == end;
        }
        const Contents contents = read(cut);
        CHECK(contents.samples == std::vector<float>(samples.begin(), samples.begin() + static_cast<long>(whole)));
        CHECK(contents.torn == !between);
    }
}

TEST_CASE("one wrong bit anywhere costs the record it is in and no other, and is counted") {
    const test::TempFolder folder;
    const auto samples = write_example(folder / "whole.journal");
    const std::string bytes = bytes_of(folder / "whole.journal");
    const std::size_t second =
        bytes.size() - record_bytes(30) - 2 * record_bytes(0) - record_bytes(20); // where it begins
    std::vector<float> rest(samples.begin(), samples.begin() + 10);
    rest.insert(rest.end(), samples.begin() + 30, samples.end());
    for (std::size_t at = second; at < second + record_bytes(20); ++at) {
        std::string damaged = bytes;
        damaged[at] = static_cast<char>(damaged[at] ^ (1 << (at % 8)));
        put_bytes(folder / "damaged.journal", damaged);
        CAPTURE(at - second);
        JournalReader reader(folder / "damaged.journal");
        JournalReader::Record record;
        std::vector<float> got;
        std::vector<bool> after;
        while (reader.next(record)) {
            got.insert(got.end(), record.samples.begin(), record.samples.end());
            after.push_back(record.after_damage);
        }
        CHECK(got == rest);
        CHECK(after == std::vector<bool>{false, true, false, false});
        CHECK_FALSE(reader.torn());
        CHECK(reader.damage().stretches == 1);
        CHECK(reader.damage().bytes == record_bytes(20));
    }
}

TEST_CASE("a torn tail is no damage, a missing record is, and blocks are found again after a long stretch of noise") {
    const test::TempFolder folder;
    write_example(folder / "whole.journal");
    const std::string bytes = bytes_of(folder / "whole.journal");
    const auto damage_of = [&](const std::string& changed) {
        put_bytes(folder / "changed.journal", changed);
        JournalReader reader(folder / "changed.journal");
        JournalReader::Record record;
        std::size_t samples = 0;
        while (reader.next(record)) {
            samples += record.samples.size();
        }
        return std::pair(samples, reader.damage().stretches);
    };
    const std::size_t last = bytes.size() - record_bytes(30);
    const std::size_t second = last - 2 * record_bytes(0) - record_bytes(20);
    CHECK(damage_of(bytes.substr(0, bytes.size() - 5)) == std::pair<std::size_t, std::uint64_t>(30, 0));
    CHECK(damage_of(bytes.substr(0, last + 2)) == std::pair<std::size_t, std::uint64_t>(30, 0));
    CHECK(damage_of(bytes.substr(0, second) + bytes.substr(second + record_bytes(20))) ==
          std::pair<std::size_t, std::uint64_t>(40, 1));
    std::string noise(200000, 'R');
    for (std::size_t at = 0; at + 4 < noise.size(); at += 1001) {
        noise.replace(at, 4, "RBLK"); // the mark itself, which is as it lies in memory
    }
    CHECK(damage_of(bytes.substr(0, second) + noise + bytes.substr(second)) ==
          std::pair<std::size_t, std::uint64_t>(60, 1));
}

TEST_CASE("one wrong bit anywhere in the last record ends the journal before that record") {
    const test::TempFolder folder;
    const auto samples = write_example(folder / "whole.journal");
    const std::string bytes = bytes_of(folder / "whole.journal");
    const std::size_t last_begin = bytes.size() - record_bytes(30);
    for (std::size_t at = last_begin; at < bytes.size(); ++at) {
        std::string damaged = bytes;
        damaged[at] = static_cast<char>(damaged[at] ^ (1 << (at % 8)));
        put_bytes(folder / "damaged.journal", damaged);
        const Contents contents = read(folder / "damaged.journal");
        CAPTURE(at - last_begin);
        CHECK(contents.samples.size() == 30);
        CHECK(contents.torn);
    }
}

TEST_CASE("blocks longer than a record are split and come back whole") {
    const test::TempFolder folder;
    std::vector<float> samples(400002);
    for (std::size_t i = 0; i < samples.size(); ++i) {
        samples[i] = static_cast<float>(i);
    }
    {
        JournalWriter writer(folder / "long.journal", example_head(2));
        writer.samples(0, samples);
        CHECK(writer.frames() == 200001);
    }
    const Contents contents = read(folder / "long.journal");
    CHECK(contents.samples == samples);
    REQUIRE(contents.positions.size() == 2);
    CHECK(contents.positions[1] == journal_format::max_payload_bytes / 8);
}

TEST_CASE("a journal that is being written cannot be taken for abandoned") {
    const test::TempFolder folder;
    {
        const JournalWriter writer(folder / "a.journal", example_head());
        CHECK_FALSE(lock_abandoned(folder / "a.journal").open());
    }
    const FileDescriptor lock = lock_abandoned(folder / "a.journal");
    CHECK(lock.open());
    CHECK_FALSE(lock_abandoned(folder / "a.journal").open()); // one at a time
    CHECK_FALSE(lock_abandoned(folder / "none.journal").open());
}

TEST_CASE("a journal is never written over another") {
    const test::TempFolder folder;
    write_example(folder / "a.journal");
    CHECK_THROWS_AS(JournalWriter(folder / "a.journal", example_head()), InputError);
    CHECK(read(folder / "a.journal").samples.size() == 60);
}

TEST_CASE("files that are no journals are refused by name") {
    const test::TempFolder folder;
    put_bytes(folder / "noise.journal", std::string(500, 'x'));
    CHECK_THROWS_WITH_AS(JournalReader(folder / "noise.journal"), doctest::Contains("noise.journal"), InputError);
    CHECK_THROWS_WITH_AS(JournalReader(folder / "none.journal"), doctest::Contains("No such file"), InputError);
}
