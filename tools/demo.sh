#!/usr/bin/env bash
# Installs what is missing, builds Retap, compares the demo takes and says where the report is:
#   bash tools/demo.sh
# The takes in recordings/ are invented; MANIFEST.md beside them says how they were made.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
# shellcheck source=tools/packages.sh
. tools/packages.sh
# shellcheck source=tools/setup.sh
. tools/setup.sh

install_missing "${build_packages[@]}" "${page_packages[@]}"
use_every_core
say "Building (some minutes the first time; Node, from Debian, bundles the chairside page once, in a few seconds of it)..."
build=build/release
mkdir -p build
build_retap() {
    cmake --preset release -DRETAP_TESTS=OFF && cmake --build "$build" --target retap
}
if ! build_retap </dev/null >build/demo.log 2>&1; then
    tail -n 30 build/demo.log >&2
    say "Retap could not be built; the whole of what was printed is in build/demo.log."
    exit 1
fi

bash tools/show_takes.sh "$build/retap" build
bash tools/show_visit.sh "$build/retap" build
