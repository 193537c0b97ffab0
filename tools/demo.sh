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
say "Building (some minutes the first time)..."
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
retap="$build/retap"

# File, and what was done to the bite.
takes=(
    "after-unchanged|nothing: the bite is as it was"
    "after-high-25um|restoration left 25 um high"
    "after-high-50um|restoration left 50 um high"
    "after-high-100um|restoration left 100 um high"
    "after-out-of-contact|restoration too low to meet"
    "after-slide|an incline leads the jaw sideways"
    "noisy|nothing, but with suction and talk"
    "clipped|nothing, but recorded too loud"
)

printf '\nOne invented patient taps the teeth together before a restoration and after it.\n'
printf 'Retap compares the sound of "before" with each "after":\n\n'
printf '%-36s %-10s %-14s %s\n' 'what was done' 'verdict' 'likeness' 'recording'
for entry in "${takes[@]}"; do
    file="recordings/${entry%%|*}.flac"
    text="$("$retap" compare recordings/before.flac "$file" --also-before recordings/before-again.flac </dev/null)"
    verdict="$(sed -n '1s/:.*//p' <<<"$text")"
    likeness="$(sed -n '2s/^Likeness \([0-9]*\) of 100 (from \([0-9]*\) to \([0-9]*\)).*/\1 (\2 to \3)/p' <<<"$text")"
    printf '%-36s %-10s %-14s %s\n' "${entry##*|}" "$verdict" "$likeness" "$file"
done

report=build/report.html
"$retap" compare recordings/before.flac recordings/after-high-100um.flac --also-before recordings/before-again.flac \
    --report "$report" </dev/null >build/comparison.txt
cat <<END

Likeness runs from 0 to 100, with the range that the taps leave open. ALIKE and DIFFERENT are only said when the taps
bear them out; UNCLEAR says what would settle it. The sounds are simulated, not recorded from people.
Sound supports film holds and paper marks. It does not replace them, and it is no diagnosis.

The comparison with the restoration 100 um high, in words:   $PWD/build/comparison.txt
The same as a report to look at and listen to, in a browser: $PWD/$report
Your own takes: $PWD/$retap compare BEFORE.wav AFTER.wav
END
