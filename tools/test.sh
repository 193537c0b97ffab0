#!/usr/bin/env bash
# Installs what is missing, builds Retap and runs every test. No terminal, no input, from any folder:
#   bash tools/test.sh
# RETAP_TEST_SANITIZE=0 leaves out the second build, with the address and undefined-behaviour sanitizers; the commands have
# the first alone. Tests that drive a browser, record with the program or simulate whole patients run in the release build
# only; tools/slow.sh checks more.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
# shellcheck source=tools/packages.sh
. tools/packages.sh
# shellcheck source=tools/setup.sh
. tools/setup.sh

summary=()
# Keeps the line in which CTest counts, for the summary; the status is that of the run itself.
run_preset() {
    local preset="$1" log="build/$1.log" status=0
    mkdir -p build
    cmake --workflow --preset "$preset" </dev/null 2>&1 | tee "$log" || status=$?
    summary+=("$preset: $(grep -E '[0-9]+% tests passed' "$log" || echo 'the tests did not run')")
    local skipped
    skipped="$(grep -c -E '\*\*\*(Skipped|Not Run)' "$log" || true)"
    [ "$skipped" -eq 0 ] || summary+=("$preset: $skipped tests were skipped; their names are in $log")
    return "$status"
}

print_summary() {
    printf '\n== What ran\n'
    printf '%s\n' "${summary[@]}"
}

install_missing "${build_packages[@]}" "${page_packages[@]}" "${test_packages[@]}"
use_every_core
second_build=""
trap '[ -z "$second_build" ] || kill -- "-$second_build" 2>/dev/null || true; print_summary' EXIT

mapfile -t sources < <(our_sources '*.[ch]pp')
clang-format --dry-run --Werror "${sources[@]}"
summary+=("formatting: ${#sources[@]} files as .clang-format has them")

# The second build fills what the first build and its tests leave of the processor: pages that load, recordings that last.
if [ "${RETAP_TEST_SANITIZE:-1}" != 0 ]; then
    mkdir -p build
    setsid bash -c 'cmake --preset sanitize && nice -n 15 cmake --build --preset sanitize' </dev/null >build/sanitize-build.log 2>&1 &
    second_build=$!
fi
run_preset release
if [ "${RETAP_TEST_SANITIZE:-1}" != 0 ]; then
    wait "$second_build" || true # what it could not build the next line says again, in its place
    run_preset sanitize
fi
