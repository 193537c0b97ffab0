#!/usr/bin/env bash
# Builds the fuzz targets with Clang and lets each look for faults, one after the other:
#   bash tools/fuzz/run.sh [SECONDS] [TARGET]...
# 60 seconds and all targets when nothing is said. Starts from the seeds of make_seeds.py and from tools/fuzz/found; what
# it learns stays in build/fuzz/corpus. An input that shows a fault is named at the end, status 1: put it into
# tools/fuzz/found/TARGET when the fault is mended, so that the replay among the ordinary tests keeps it so.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."
# shellcheck source=tools/packages.sh
. tools/packages.sh
# shellcheck source=tools/setup.sh
. tools/setup.sh

install_missing "${build_packages[@]}" "${fuzz_packages[@]}"
use_every_core

seconds="${1:-60}"
shift || true
targets=("$@")
[ "${#targets[@]}" -gt 0 ] || targets=(notation capture_note http routes parcel journal sound)
build=build/fuzz
cmake --preset fuzz </dev/null >/dev/null
cmake --build "$build" --target "${targets[@]/#/fuzz_}" </dev/null
/usr/bin/python3 tools/fuzz/make_seeds.py "$build/seeds" recordings
status=0
for target in "${targets[@]}"; do
    places=("$build/corpus/$target" "$build/seeds/$target")
    [ ! -d "tools/fuzz/found/$target" ] || places+=("tools/fuzz/found/$target")
    mkdir -p "$build/corpus/$target" "$build/found/$target"
    echo "== $target, $seconds s"
    nice -n 15 "$build/fuzz_$target" -max_total_time="$seconds" -timeout=20 -rss_limit_mb=1024 -print_final_stats=1 \
        -artifact_prefix="$build/found/$target/" "${places[@]}" 2>"$build/$target.log" || status=1
    grep -E '^stat::number_of_executed_units|^SUMMARY|does not hold' "$build/$target.log" || true
done
find "$build/found" -type f
exit "$status"
