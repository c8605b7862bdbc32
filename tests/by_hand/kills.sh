#!/usr/bin/env bash
# Nothing lost over N kills without warning (kill -9): a batch is killed again and again at random
# moments and begun again; whatever stands in its folder is whole at every moment, and in the end
# it is what a run without a pause leaves.
#
#   bash tests/by_hand/kills.sh PROGRAM SHELF [N=100]
#
# PROGRAM is the release binary, SHELF a folder of cases (cargo run --release --example shelf).
set -euo pipefail
program=$1 shelf=$2 times=${3:-100}
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
RANDOM=1

begun=$(date +%s%N)
"$program" convert "$shelf" -o "$work/wanted" >/dev/null 2>&1 || true
whole_ms=$(( ($(date +%s%N) - begun) / 1000000 ))
echo "a run without a pause: $whole_ms ms, $(find "$work/wanted/worksheets" -type f | wc -l) worksheets"

done_runs=0
for ((n = 1; n <= times; n++)); do
    # Anew whenever a run has come to its end before it was killed.
    "$program" convert "$shelf" -o "$work/out" >/dev/null 2>&1 &
    pid=$!
    sleep "$(awk -v r=$RANDOM -v ms=$whole_ms 'BEGIN { printf "%.3f", r / 32768 * ms / 4000 }')"
    if kill -9 "$pid" 2>/dev/null; then :; else done_runs=$((done_runs + 1)); fi
    wait "$pid" 2>/dev/null || true
    # Every worksheet that stands there is whole.
    (cd "$work/out" && find worksheets -type f 2>/dev/null || true) | while read -r file; do
        cmp -s "$work/out/$file" "$work/wanted/$file" || { echo "kill $n: $file is not whole"; exit 1; }
    done
    if ((n % 20 == 0)); then
        "$program" convert "$shelf" -o "$work/out" >/dev/null 2>&1 || true
        diff -r -x '.capwright-*' "$work/wanted" "$work/out" || { echo "kill $n: results differ"; exit 1; }
        [[ -e "$work/out/.capwright-partial" ]] && { echo "kill $n: half-written files are left"; exit 1; }
        rm -rf "$work/out"
    fi
done
echo "$times kills ($done_runs came after the end of a run): every worksheet whole at every moment, the results the same"
