// The bytes of a journal: the file a running recording is kept in until its take is finished.
//
//   file     = head, then records until the end
//   head     = "RTPJRNL1", u32 length of the text, u32 checksum of the text, the text
//   text     = "key: value" lines (UTF-8), see JournalHead
//   record   = RecordHead, then `payload_bytes` of payload
//
// All numbers little-endian, samples 32-bit float, channels interleaved. A record is believed when its mark, its number
// in the sequence, its size and its checksum are right. Of what is not, a reader looks for the next record that is, so
// that damage costs the records it hit and a torn tail the one it tore.
#pragma once

#include <array>
#include <bit>
#include <cstdint>

namespace retap::audio::journal_format {

static_assert(std::endian::native == std::endian::little, "the journal is written as it lies in memory");

inline constexpr std::array<char, 8> file_mark = {'R', 'T', 'P', 'J', 'R', 'N', 'L', '1'};
inline constexpr std::uint32_t record_mark = 0x4B4C4252; // "RBLK"
inline constexpr std::uint32_t longest_text = 1U << 16U;
inline constexpr std::uint32_t max_payload_bytes = 1U << 20U;

enum class RecordKind : std::uint32_t {
    samples = 1, ///< payload: `frames` frames that start at `position`
    gap = 2,     ///< sound is missing at `position`; `frames` of it, 0 when unknown; no payload
    tap = 3,     ///< a tap was heard that began at `position`, which may lie in earlier records; no payload
};

struct RecordHead {
    std::uint32_t mark = record_mark;
    RecordKind kind = RecordKind::samples;
    std::uint64_t number = 0;   ///< 0, 1, 2 ... in this file
    std::uint64_t position = 0; ///< frames received from the device before this record
    std::uint64_t frames = 0;
    std::uint32_t payload_bytes = 0;
    std::uint32_t checksum = 0; ///< of this head with checksum 0, then the payload
};
static_assert(sizeof(RecordHead) == 40);

struct FileHead {
    std::array<char, 8> mark = file_mark;
    std::uint32_t text_bytes = 0;
    std::uint32_t text_checksum = 0;
};
static_assert(sizeof(FileHead) == 16);

} // namespace retap::audio::journal_format
