// Takes from this process every right that decoding does not need. Linux alone; elsewhere only the limits hold.
#pragma once

#include <cstdint>

namespace retap::audio {

struct HelperLimits {
    std::uint64_t memory_bytes = std::uint64_t{1} << 30U; ///< of address space; an hour of AAC needs some 100 MB
    std::uint64_t processor_s = 120;
};

/// Cannot be undone. Afterwards the process can read and write what it has open, get memory up to the limit, compute up
/// to the limit, and end. It cannot open files (Landlock, from Linux 5.13 on), and any other call of the kernel ends it
/// (seccomp): no files, no network, no processes, no code made in memory. Where the kernel has neither, the limits on
/// memory, time, files and processes still hold. Built with a sanitizer it limits the time alone, since those need the
/// rest. For a process with one thread.
void give_up_rights(const HelperLimits& limits);

} // namespace retap::audio
