# shellcheck shell=bash disable=SC2034
# The Debian packages that Retap needs, by purpose. Sourced by the other scripts.

build_packages=(
    cmake g++ make ninja-build pkg-config
    libsndfile1-dev libsamplerate0-dev portaudio19-dev libasound2-dev libjack-jackd2-dev zlib1g-dev
    libkissfft-dev libeigen3-dev libboost-math-dev
    libcli11-dev nlohmann-json3-dev
    libavformat-dev libavcodec-dev libswresample-dev
    libsoci-dev libsoci-sqlite3-4.0 libsoci-postgresql4.0 libsqlite3-dev libpq-dev libssl-dev libmicrohttpd-dev
)

# For bundling the chairside page.
page_packages=(nodejs npm)

test_packages=(
    doctest-dev
    clang-format ccache
    python3 python3-jsonschema python3-scipy
    libfftw3-dev libgsl-dev
    aubio-tools
    ffmpeg
    pulseaudio pulseaudio-utils libasound2-plugins jackd2 sox
    hydrogen-drumkits hydrogen-data sonic-pi-samples
    postgresql-15
    chromium fonts-dejavu-core
)

lint_packages=(clang-tidy)

# For looking for faults with made-up input: the compiler, its runtime, and what names the lines of a fault.
fuzz_packages=(clang libclang-rt-14-dev llvm python3)

bench_packages=(libbenchmark-dev aubio-tools python3)
