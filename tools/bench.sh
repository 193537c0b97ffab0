#!/usr/bin/env bash
# Time and memory of whole commands, as ratios to another program's work on the same file, and the benchmarks of parts:
#   bash tools/bench.sh [RUNS]
# inspect of ten minutes of mono at 48 kHz stands beside aubioonset (Debian's aubio-tools), which looks for onsets alone.
# The file is made here, by arithmetic and a fixed seed. Each figure is the median of RUNS runs (default 5), taken in
# turns so that a busy machine burdens both.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
# shellcheck source=tools/packages.sh
. tools/packages.sh
# shellcheck source=tools/setup.sh
. tools/setup.sh

install_missing "${build_packages[@]}" "${bench_packages[@]}"
use_every_core
build=build/bench
mkdir -p build
cmake --preset release -B "$build" -DRETAP_TESTS=OFF -DRETAP_PAGE=OFF -DRETAP_BENCHMARKS=ON </dev/null >build/bench.log
cmake --build "$build" </dev/null >>build/bench.log

# Debian's own Python: one earlier in PATH may lack what it needs.
/usr/bin/python3 tools/bench/whole_commands.py "$build/retap" "${1:-5}"
"$build/bench_parts" --benchmark_min_time=0.2
