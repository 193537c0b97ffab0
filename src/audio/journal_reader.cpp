#include "audio/crc32.hpp"
#include "audio/journal.hpp"
#include "audio/journal_format.hpp"
#include "audio/key_lines.hpp"
#include "audio/sound_file.hpp"
#include "error.hpp"

#include <algorithm>
#include <array>
#include <bit>
#include <cerrno>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <fcntl.h>
#include <filesystem>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <sys/file.h>
#include <unistd.h>
#include <utility>

namespace retap::audio {
namespace {

using namespace journal_format;

/// Reads from a place until `count` bytes are there or the file ends; returns how many.
std::size_t read_at(int file, std::uint64_t offset, void* to, std::size_t count) {
    auto* bytes = static_cast<std::byte*>(to);
    std::size_t done = 0;
    while (done < count) {
        const ssize_t got = ::pread(file, bytes + done, count - done, static_cast<off_t>(offset + done));
        if (got < 0 && errno == EINTR) {
            continue;
        }
        if (got <= 0) {
            break;
        }
        done += static_cast<std::size_t>(got);
    }
    return done;
}

/// `number`: the smallest it may have.
bool believable(const RecordHead& head, std::uint64_t number, std::size_t bytes_per_frame) {
    if (head.mark != record_mark || head.number < number || head.payload_bytes > max_payload_bytes) {
        return false;
    }
    switch (head.kind) {
    case RecordKind::samples:
        return head.payload_bytes == head.frames * bytes_per_frame;
    case RecordKind::gap:
    case RecordKind::tap:
        return head.payload_bytes == 0;
    }
    return false;
}

/// What stands at the beginning, and how long it is.
struct ReadHead {
    JournalHead head;
    std::uint64_t bytes = 0;
};

ReadHead read_head(int file, const std::filesystem::path& path) {
    const auto refuse = [&](const std::string& fault) {
        throw InputError("Cannot read the unfinished take '" + path.string() + "': " + fault + ".");
    };
    FileHead file_head;
    if (read_at(file, 0, &file_head, sizeof file_head) != sizeof file_head || file_head.mark != file_mark ||
        file_head.text_bytes > longest_text) {
        refuse("it does not begin as one");
    }
    std::string text(file_head.text_bytes, '\0');
    if (read_at(file, sizeof file_head, text.data(), text.size()) != text.size() ||
        crc32(std::as_bytes(std::span(text))) != file_head.text_checksum) {
        refuse("its beginning is damaged");
    }
    const KeyLines lines = read_key_lines(text);
    const auto rate = read_number(value_of(lines, "rate_hz"));
    const std::string channels = value_of(lines, "channels");
    if (!rate || *rate < lowest_rate_hz || *rate > highest_rate_hz || (channels != "1" && channels != "2")) {
        refuse("its rate or channels are missing");
    }
    return {.head = {.take_id = value_of(lines, "take"),
                     .destination = value_of(lines, "destination"),
                     .format = {.sample_rate_hz = *rate, .channels = channels == "2" ? 2 : 1},
                     .device = value_of(lines, "device"),
                     .started = value_of(lines, "started"),
                     .keep_all = value_of(lines, "keep") == "everything"},
            .bytes = sizeof file_head + text.size()};
}

} // namespace

JournalReader::JournalReader(const std::filesystem::path& path) : file_(::open(path.c_str(), O_RDONLY | O_CLOEXEC)) {
    if (!file_.open()) {
        throw InputError("Cannot read the unfinished take '" + path.string() + "': " + std::strerror(errno) + ".");
    }
    ReadHead read = read_head(file_.get(), path);
    head_ = std::move(read.head);
    offset_ = read.bytes;
}

JournalReader::Found JournalReader::look_at(std::uint64_t offset, RecordHead& head) {
    const std::size_t got = read_at(file_.get(), offset, &head, sizeof head);
    if (got < sizeof head) {
        const std::size_t known = std::min(got, sizeof record_mark);
        return got == 0 ? Found::end : std::memcmp(&head.mark, &record_mark, known) == 0 ? Found::cut : Found::wrong;
    }
    const std::size_t bytes_per_frame = sizeof(float) * static_cast<std::size_t>(head_.format.channels);
    if (!believable(head, number_, bytes_per_frame)) {
        return Found::wrong;
    }
    payload_.resize(head.payload_bytes / sizeof(float));
    if (read_at(file_.get(), offset + sizeof head, payload_.data(), head.payload_bytes) != head.payload_bytes) {
        return Found::cut;
    }
    const std::uint32_t claimed = std::exchange(head.checksum, 0);
    const bool right = crc32(std::as_bytes(std::span(payload_)), crc32(std::as_bytes(std::span(&head, 1)))) == claimed;
    return right ? Found::whole : Found::wrong;
}

std::optional<std::uint64_t> JournalReader::next_whole(std::uint64_t from) {
    const std::array<char, sizeof record_mark> mark = std::bit_cast<std::array<char, sizeof record_mark>>(record_mark);
    std::string window(std::size_t{1} << 16U, '\0');
    while (true) {
        const std::size_t got = read_at(file_.get(), from, window.data(), window.size());
        if (got < mark.size()) {
            return std::nullopt;
        }
        const std::string_view seen(window.data(), got);
        for (std::size_t at = seen.find(mark.data(), 0, mark.size()); at != std::string_view::npos;
             at = seen.find(mark.data(), at + 1, mark.size())) {
            RecordHead head;
            if (look_at(from + at, head) == Found::whole) {
                return from + at;
            }
        }
        from += got - (mark.size() - 1); // a mark may lie across two windows
    }
}

bool JournalReader::next(Record& record) {
    if (torn_) {
        return false;
    }
    RecordHead head;
    bool damaged = false;
    const Found found = look_at(offset_, head);
    if (found == Found::end) {
        return false;
    }
    if (found != Found::whole) {
        const auto whole = next_whole(offset_ + 1);
        torn_ = !whole;
        damaged = whole || found == Found::wrong;
        if (damaged) {
            const auto end = static_cast<std::uint64_t>(::lseek(file_.get(), 0, SEEK_END));
            damage_.bytes += whole.value_or(end) - offset_;
        }
        if (whole) {
            offset_ = *whole;
            static_cast<void>(look_at(offset_, head));
        }
    }
    damaged = damaged || (!torn_ && head.number != number_);
    damage_.stretches += damaged ? 1 : 0;
    if (torn_) {
        return false;
    }
    number_ = head.number + 1;
    offset_ += sizeof head + head.payload_bytes;
    record.kind = head.kind;
    record.position = head.position;
    record.lost_frames = head.kind == RecordKind::gap ? head.frames : 0;
    record.after_damage = damaged;
    record.samples = payload_;
    return true;
}

bool has_whole_head(const std::filesystem::path& path) {
    const FileDescriptor file(::open(path.c_str(), O_RDONLY | O_CLOEXEC));
    FileHead head;
    if (!file.open() || read_at(file.get(), 0, &head, sizeof head) != sizeof head) {
        return false;
    }
    std::string text(std::min(head.text_bytes, longest_text), '\0');
    return read_at(file.get(), sizeof head, text.data(), text.size()) == text.size();
}

FileDescriptor lock_abandoned(const std::filesystem::path& path) {
    FileDescriptor file(::open(path.c_str(), O_RDONLY | O_CLOEXEC));
    if (file.open() && flock(file.get(), LOCK_EX | LOCK_NB) != 0) {
        file.reset();
    }
    return file;
}

} // namespace retap::audio
