#!/usr/bin/env bash
# clang-tidy over the C++ sources, on every core. All of them, or those that are named:
#   bash tools/lint.sh [FILE.cpp]...
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
# shellcheck source=tools/packages.sh
. tools/packages.sh
# shellcheck source=tools/setup.sh
. tools/setup.sh

install_missing "${build_packages[@]}" "${test_packages[@]}" "${bench_packages[@]}" "${lint_packages[@]}"
use_every_core
build=build/lint
cmake --preset develop -B "$build" -DRETAP_PAGE=OFF -DRETAP_BENCHMARKS=ON </dev/null >/dev/null

files=("$@")
[ "${#files[@]}" -gt 0 ] || mapfile -t files < <(our_sources '*.cpp')
# The count of suppressed warnings in system headers says nothing.
printf '%s\0' "${files[@]}" |
    xargs -0 -n 1 -P "$CMAKE_BUILD_PARALLEL_LEVEL" clang-tidy --quiet -p "$build" 2> >(grep -v 'warnings\? generated' >&2)
printf 'clang-tidy: %d files are clean\n' "${#files[@]}"
