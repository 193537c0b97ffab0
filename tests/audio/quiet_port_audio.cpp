#include "audio/quiet_port_audio.hpp"

#include "temp_folder.hpp"

#include <cstdio>
#include <doctest/doctest.h>
#include <fcntl.h>
#include <iostream>
#include <unistd.h>

TEST_CASE("PortAudio's lines stay away from stderr, everything else arrives as it was") {
    const retap::test::TempFolder folder;
    const int before = dup(STDERR_FILENO);
    const int file = open((folder / "stderr").c_str(), O_WRONLY | O_CREAT, 0600);
    dup2(file, STDERR_FILENO);
    retap::audio::quiet_port_audio();
    std::fprintf(stderr, "Expression '%s' failed in '%s', line: %d\n", "ret", "pa_linux_alsa.c", 1812);
    std::fprintf(stderr, "Host error description: %s\n", "gone");
    std::fprintf(stderr, "an Expression of %d\n", 42);
    std::fputs("whole\n", stderr);
    std::cerr << "C++ as ever\n";
    dup2(before, STDERR_FILENO);
    close(before);
    close(file);
    CHECK(retap::test::bytes_of(folder / "stderr") == "an Expression of 42\nwhole\nC++ as ever\n");
}
