#include "audio/crc32.hpp"
#include "audio/journal.hpp"
#include "audio/journal_format.hpp"
#include "audio/key_lines.hpp"
#include "error.hpp"

#include <algorithm>
#include <cerrno>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <fcntl.h>
#include <filesystem>
#include <span>
#include <string>
#include <sys/file.h>
#include <unistd.h>

namespace retap::audio {
namespace {

using namespace journal_format;

/// Reads until `count` bytes are there or the file ends; returns how many.
std::size_t read_all(int file, void* to, std::size_t count) {
    auto* bytes = static_cast<std::byte*>(to);
    std::size_t done = 0;
    while (done < count) {
        const ssize_t got = ::read(file, bytes + done, count - done);
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

bool believable(const RecordHead& head, std::uint64_t number, std::size_t bytes_per_frame) {
    if (head.mark != record_mark || head.number != number || head.payload_bytes > max_payload_bytes) {
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

JournalHead read_head(int file, const std::filesystem::path& path) {
    const auto refuse = [&](const std::string& fault) {
        throw InputError("Cannot read the unfinished take '" + path.string() + "': " + fault + ".");
    };
    FileHead file_head;
    if (read_all(file, &file_head, sizeof file_head) != sizeof file_head || file_head.mark != file_mark ||
        file_head.text_bytes > longest_text) {
        refuse("it does not begin as one");
    }
    std::string text(file_head.text_bytes, '\0');
    if (read_all(file, text.data(), text.size()) != text.size() ||
        crc32(std::as_bytes(std::span(text))) != file_head.text_checksum) {
        refuse("its beginning is damaged");
    }
    const KeyLines lines = read_key_lines(text);
    const auto rate = read_number(value_of(lines, "rate_hz"));
    const std::string channels = value_of(lines, "channels");
    if (!rate || *rate <= 0.0 || (channels != "1" && channels != "2")) {
        refuse("its rate or channels are missing");
    }
    return {.take_id = value_of(lines, "take"),
            .destination = value_of(lines, "destination"),
            .format = {.sample_rate_hz = *rate, .channels = channels == "2" ? 2 : 1},
            .device = value_of(lines, "device"),
            .started = value_of(lines, "started"),
            .keep_all = value_of(lines, "keep") == "everything"};
}

} // namespace

JournalReader::JournalReader(const std::filesystem::path& path) : file_(::open(path.c_str(), O_RDONLY | O_CLOEXEC)) {
    if (!file_.open()) {
        throw InputError("Cannot read the unfinished take '" + path.string() + "': " + std::strerror(errno) + ".");
    }
    head_ = read_head(file_.get(), path);
}

bool JournalReader::next(Record& record) {
    if (torn_) {
        return false;
    }
    RecordHead head;
    const std::size_t got = read_all(file_.get(), &head, sizeof head);
    if (got == 0) {
        return false;
    }
    const std::size_t bytes_per_frame = sizeof(float) * static_cast<std::size_t>(head_.format.channels);
    torn_ = true;
    if (got != sizeof head || !believable(head, number_, bytes_per_frame)) {
        return false;
    }
    payload_.resize(head.payload_bytes / sizeof(float));
    if (read_all(file_.get(), payload_.data(), head.payload_bytes) != head.payload_bytes) {
        return false;
    }
    const std::uint32_t claimed = head.checksum;
    head.checksum = 0;
    if (crc32(std::as_bytes(std::span(payload_)), crc32(std::as_bytes(std::span(&head, 1)))) != claimed) {
        return false;
    }
    torn_ = false;
    ++number_;
    record.kind = head.kind;
    record.position = head.position;
    record.lost_frames = head.kind == RecordKind::gap ? head.frames : 0;
    record.samples = payload_;
    return true;
}

bool has_whole_head(const std::filesystem::path& path) {
    const FileDescriptor file(::open(path.c_str(), O_RDONLY | O_CLOEXEC));
    FileHead head;
    if (!file.open() || read_all(file.get(), &head, sizeof head) != sizeof head) {
        return false;
    }
    std::string text(std::min(head.text_bytes, longest_text), '\0');
    return read_all(file.get(), text.data(), text.size()) == text.size();
}

FileDescriptor lock_abandoned(const std::filesystem::path& path) {
    FileDescriptor file(::open(path.c_str(), O_RDONLY | O_CLOEXEC));
    if (file.open() && flock(file.get(), LOCK_EX | LOCK_NB) != 0) {
        file.reset();
    }
    return file;
}

} // namespace retap::audio
