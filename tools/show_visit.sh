#!/usr/bin/env bash
# Takes in the demo visit with a built program and writes its report to a folder; the user's own visits are not touched:
#   bash tools/show_visit.sh RETAP FOLDER
set -euo pipefail
retap="$(realpath "$1")"
folder="$(realpath "$2")"
cd "$(dirname "${BASH_SOURCE[0]}")/.."

store="$folder/demo-visits.db"
rm -f "$store" "$store-wal" "$store-shm"
on_visit() {
    local command="$1"
    shift
    "$retap" visit "$command" "$@" --store "$store" </dev/null
}
on_visit import recordings/demo-visit.json >/dev/null
on_visit verify 1 >/dev/null
on_visit show 1 >"$folder/visit.txt"
on_visit report 1 "$folder/visit.html" >/dev/null
cat <<END

A whole visit of the same patient: the first look after the work lost two holds and sounds different; the restoration was
adjusted; the second look is as before, and the supervisor signed.

The visit in words:                                          $folder/visit.txt
Its report, on two pages when printed:                       $folder/visit.html
Your own visits: $retap visit --help
END
