#include "audio/helper_rights.hpp"

#include <sys/resource.h>

#if defined(__linux__) && (defined(__x86_64__) || defined(__aarch64__)) && !defined(__SANITIZE_ADDRESS__)
#define RETAP_CAN_GIVE_UP_CALLS
#include <array>
#include <cstddef>
#include <linux/audit.h>
#include <linux/filter.h>
#include <linux/landlock.h>
#include <linux/seccomp.h>
#include <sys/mman.h>
#include <sys/prctl.h>
#include <sys/syscall.h>
#include <unistd.h>
#include <vector>
#endif

namespace retap::audio {
namespace {

void limit(int what, rlim_t to) {
    const rlimit both{.rlim_cur = to, .rlim_max = to};
    setrlimit(static_cast<__rlimit_resource>(what), &both);
}

#ifdef RETAP_CAN_GIVE_UP_CALLS

/// A rule set that handles every access to files and allows none.
void give_up_files() {
    landlock_ruleset_attr all{};
    all.handled_access_fs = (LANDLOCK_ACCESS_FS_MAKE_SYM << 1U) - 1U; // all that the first version knows
    const long rules = syscall(SYS_landlock_create_ruleset, &all, sizeof all, 0);
    if (rules >= 0) {
        syscall(SYS_landlock_restrict_self, rules, 0);
        close(static_cast<int>(rules));
    }
}

#ifdef __x86_64__
constexpr unsigned this_machine = AUDIT_ARCH_X86_64;
#else
constexpr unsigned this_machine = AUDIT_ARCH_AARCH64;
#endif

/// What reading, computing, getting memory and ending need of the kernel.
constexpr std::array allowed_calls{
    SYS_read,           SYS_pread64,   SYS_write,       SYS_lseek,           SYS_fstat,
    SYS_close,          SYS_brk,       SYS_munmap,      SYS_mremap,          SYS_madvise,
    SYS_futex,          SYS_exit,      SYS_exit_group,  SYS_rt_sigreturn,    SYS_rt_sigaction,
    SYS_rt_sigprocmask, SYS_getpid,    SYS_gettid,      SYS_tgkill,          SYS_clock_gettime,
    SYS_gettimeofday,   SYS_getrandom, SYS_sched_yield, SYS_restart_syscall, SYS_sched_getaffinity,
    SYS_newfstatat,     SYS_sysinfo,   SYS_uname};
constexpr std::array allowed_without_code{SYS_mmap, SYS_mprotect};

sock_filter load(std::size_t offset) {
    return BPF_STMT(BPF_LD | BPF_W | BPF_ABS, static_cast<unsigned>(offset));
}

sock_filter answer(unsigned what) {
    return BPF_STMT(BPF_RET | BPF_K, what);
}

void give_up_calls() {
    const sock_filter kill = answer(SECCOMP_RET_KILL_PROCESS);
    const sock_filter allow = answer(SECCOMP_RET_ALLOW);
    std::vector<sock_filter> program{load(offsetof(seccomp_data, arch)),
                                     BPF_JUMP(BPF_JMP | BPF_JEQ | BPF_K, this_machine, 1, 0), kill,
                                     load(offsetof(seccomp_data, nr))};
    for (const long call : allowed_calls) {
        program.push_back(BPF_JUMP(BPF_JMP | BPF_JEQ | BPF_K, static_cast<unsigned>(call), 0, 1));
        program.push_back(allow);
    }
    for (const long call : allowed_without_code) { // the third argument says what the memory is for
        program.push_back(BPF_JUMP(BPF_JMP | BPF_JEQ | BPF_K, static_cast<unsigned>(call), 0, 4));
        program.push_back(load(offsetof(seccomp_data, args) + 2 * sizeof(std::uint64_t)));
        program.push_back(BPF_JUMP(BPF_JMP | BPF_JSET | BPF_K, static_cast<unsigned>(PROT_EXEC), 0, 1));
        program.push_back(kill);
        program.push_back(allow);
    }
    program.push_back(kill);
    const sock_fprog filter{.len = static_cast<unsigned short>(program.size()), .filter = program.data()};
    prctl(PR_SET_SECCOMP, SECCOMP_MODE_FILTER, &filter);
}

#endif

} // namespace

void give_up_rights(const HelperLimits& limits) {
    limit(RLIMIT_CPU, limits.processor_s);
    limit(RLIMIT_CORE, 0);
#ifndef __SANITIZE_ADDRESS__
    limit(RLIMIT_AS, limits.memory_bytes);
    limit(RLIMIT_FSIZE, 0); // of files; a pipe is none
    limit(RLIMIT_NPROC, 0);
#endif
#ifdef RETAP_CAN_GIVE_UP_CALLS
    prctl(PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0);
    prctl(PR_SET_DUMPABLE, 0, 0, 0, 0);
    give_up_files();
    give_up_calls();
#endif
}

} // namespace retap::audio
