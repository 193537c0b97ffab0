#!/usr/bin/env bash
# Compares the demo takes with a built program and prints a table; the report and the comparison in words go to a folder:
#   bash tools/show_takes.sh RETAP FOLDER
set -euo pipefail
retap="$(realpath "$1")"
folder="$(realpath "$2")"
cd "$(dirname "${BASH_SOURCE[0]}")/.."

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
    # The first two lines are "VERDICT: sentence" and "Likeness N of 100 (from N to N)." or "No likeness: why".
    verdict="$(sed -n '1s/:.*//p' <<<"$text")"
    likeness="$(sed -n '2s/^Likeness \([0-9]*\) of 100 (from \([0-9]*\) to \([0-9]*\)).*/\1 (\2 to \3)/p' <<<"$text")"
    [ -n "$likeness" ] || likeness="$(sed -n '2s/^No likeness:.*/none/p' <<<"$text")"
    if [ -z "$verdict" ] || [ -z "$likeness" ]; then
        printf 'There is no verdict or likeness in what was printed for %s:\n%s\n' "$file" "$text" >&2
        exit 1
    fi
    printf '%-36s %-10s %-14s %s\n' "${entry##*|}" "$verdict" "$likeness" "$file"
done

report="$folder/report.html"
"$retap" compare recordings/before.flac recordings/after-high-100um.flac --also-before recordings/before-again.flac \
    --report "$report" </dev/null >"$folder/comparison.txt"
cat <<END

Likeness runs from 0 to 100, with the range that the taps leave open. ALIKE and DIFFERENT are only said when the taps
bear them out; UNCLEAR says what would settle it. The sounds are simulated, not recorded from people.
Sound supports film holds and paper marks. It does not replace them, and it is no diagnosis.

The comparison with the restoration 100 um high, in words:   $folder/comparison.txt
The same as a report to look at and listen to, in a browser: $report
Your own takes: $retap compare BEFORE.wav AFTER.wav
END
