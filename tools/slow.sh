#!/usr/bin/env bash
# Every check everywhere, for an evening or before a release; tools/test.sh leaves out what seldom finds anything:
#   bash tools/slow.sh
# Every test with the assertions in; the program stopped at every call by which it changes files; every layer and its tests
# with all the sanitizers' checks, optimised alike; recording and the page's server under ThreadSanitizer; clang-tidy over
# the whole tree; and made-up input for every reader, a minute each.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
# shellcheck source=tools/packages.sh
. tools/packages.sh
# shellcheck source=tools/setup.sh
. tools/setup.sh

install_missing "${build_packages[@]}" "${page_packages[@]}" "${test_packages[@]}" "${bench_packages[@]}" "${lint_packages[@]}" "${fuzz_packages[@]}"
use_every_core

cmake --preset develop </dev/null
cmake --build build/develop </dev/null
ctest --preset develop </dev/null
RETAP_STOPS=all build/develop/test_stopped </dev/null

cmake --preset sanitize -B build/slow -DRETAP_LIGHT_CHECKS=OFF </dev/null
cmake --build build/slow </dev/null
RETAP_FULL_TRIALS=1 ctest --test-dir build/slow --label-regex '^sanitized$' --output-on-failure </dev/null
ctest --test-dir build/slow --tests-regex '^fuzz:' --output-on-failure </dev/null

cmake --workflow --preset thread </dev/null

bash tools/lint.sh

bash tools/fuzz/run.sh 60
