#include "audio/crc32.hpp"
#include "audio/journal.hpp"
#include "audio/journal_format.hpp"
#include "audio/key_lines.hpp"
#include "error.hpp"

#include <algorithm>
#include <cassert>
#include <cerrno>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <fcntl.h>
#include <filesystem>
#include <span>
#include <string>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>
#include <utility>
#include <vector>

namespace retap::audio {
namespace {

using namespace journal_format;

bool write_all(int file, const std::byte* bytes, std::size_t count) {
    while (count > 0) {
        const ssize_t written = ::write(file, bytes, count);
        if (written < 0 && errno == EINTR) {
            continue;
        }
        if (written <= 0) {
            return false;
        }
        bytes += written;
        count -= static_cast<std::size_t>(written);
    }
    return true;
}

void append_bytes(std::vector<std::byte>& out, const void* from, std::size_t count) {
    const auto* bytes = static_cast<const std::byte*>(from);
    out.insert(out.end(), bytes, bytes + count);
}

/// Somebody who looks for abandoned journals may find the new file before it is locked, and remove it as empty.
FileDescriptor create_locked(const std::filesystem::path& path) {
    while (true) {
        FileDescriptor file(::open(path.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC | O_APPEND, 0600));
        struct stat found {};
        if (!file.open() || flock(file.get(), LOCK_EX) != 0 || fstat(file.get(), &found) != 0) {
            return {};
        }
        if (found.st_nlink > 0) {
            return file;
        }
    }
}

std::vector<std::byte> head_bytes(const JournalHead& head) {
    const std::string text = write_key_lines({{"take", head.take_id},
                                              {"destination", head.destination.string()},
                                              {"rate_hz", write_number(head.format.sample_rate_hz)},
                                              {"channels", std::to_string(head.format.channels)},
                                              {"device", head.device},
                                              {"started", head.started},
                                              {"keep", head.keep_all ? "everything" : "taps"}});
    FileHead file_head;
    file_head.text_bytes = static_cast<std::uint32_t>(text.size());
    file_head.text_checksum = crc32(std::as_bytes(std::span(text)));
    std::vector<std::byte> bytes;
    append_bytes(bytes, &file_head, sizeof file_head);
    append_bytes(bytes, text.data(), text.size());
    return bytes;
}

} // namespace

JournalWriter::JournalWriter(std::filesystem::path path, const JournalHead& head, double sync_every_s)
    : path_(std::move(path)), format_(head.format),
      sync_every_frames_(static_cast<std::uint64_t>(sync_every_s * head.format.sample_rate_hz)) {
    file_ = create_locked(path_);
    if (!file_.open()) {
        refuse("start");
    }
    const auto bytes = head_bytes(head);
    if (!write_all(file_.get(), bytes.data(), bytes.size())) {
        const int fault = errno;
        ::unlink(path_.c_str());
        errno = fault;
        refuse("start");
    }
    sync();
    const FileDescriptor folder(::open(path_.parent_path().c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
    if (folder.open()) {
        ::fsync(folder.get()); // some file systems cannot; the file itself is whole anyway
    }
}

void JournalWriter::samples(std::uint64_t position, std::span<const float> interleaved) {
    const auto channels = static_cast<std::size_t>(format_.channels);
    assert(interleaved.size() % channels == 0);
    const std::size_t most = max_payload_bytes / sizeof(float) / channels * channels;
    while (!interleaved.empty()) {
        const auto part = interleaved.first(std::min(most, interleaved.size()));
        interleaved = interleaved.subspan(part.size());
        const std::uint64_t frames = part.size() / channels;
        append({.position = position, .frames = frames}, part);
        position += frames;
        frames_ += frames;
        unsynced_frames_ += frames;
    }
    if (unsynced_frames_ >= sync_every_frames_) {
        sync();
    }
}

void JournalWriter::gap(std::uint64_t position, std::uint64_t lost_frames) {
    append({.kind = RecordKind::gap, .position = position, .frames = lost_frames}, {});
}

void JournalWriter::tap(std::uint64_t position) {
    append({.kind = RecordKind::tap, .position = position}, {});
}

void JournalWriter::append(RecordHead head, std::span<const float> payload) {
    if (broken_) {
        errno = EIO;
        refuse("go on");
    }
    head.number = number_;
    head.payload_bytes = static_cast<std::uint32_t>(payload.size_bytes());
    head.checksum = crc32(std::as_bytes(payload), crc32(std::as_bytes(std::span(&head, 1))));
    std::vector<std::byte> bytes;
    bytes.reserve(sizeof head + payload.size_bytes());
    append_bytes(bytes, &head, sizeof head);
    append_bytes(bytes, payload.data(), payload.size_bytes());
    if (!write_all(file_.get(), bytes.data(), bytes.size())) {
        broken_ = true;
        refuse("go on");
    }
    ++number_;
}

void JournalWriter::sync() {
    if (::fdatasync(file_.get()) != 0) {
        broken_ = true;
        refuse("go on");
    }
    unsynced_frames_ = 0;
}

void JournalWriter::refuse(const std::string& doing) {
    throw InputError("Cannot " + doing + " recording: the running take is kept in '" + path_.string() +
                     "', and writing there failed: " + std::strerror(errno) + ". Make room on that disk.");
}

} // namespace retap::audio
