// retap-decoder: standard input is a sound file, standard output the pipe that its sound goes into. Started by
// audio/decoder_process; a program of its own so that Retap itself never loads what decodes strangers' bytes.
#include "audio/ffmpeg_decoder.hpp"
#include "audio/helper_rights.hpp"

#include <cstdint>
#include <sys/stat.h>
#include <unistd.h>

int main() {
    struct stat state {};
    fstat(STDIN_FILENO, &state);
    // Two minutes, and as much again for each 20 MB: slow machines decode a megabyte of AAC in some seconds.
    constexpr std::uint64_t bytes_a_second = 170'000;
    retap::audio::HelperLimits limits;
    limits.processor_s += static_cast<std::uint64_t>(state.st_size) / bytes_a_second;
    retap::audio::give_up_rights(limits);
    return retap::audio::decode_to_pipe(STDIN_FILENO, STDOUT_FILENO);
}
