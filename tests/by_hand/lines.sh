#!/usr/bin/env bash
# Ten thousand lines through the line protocol: time, peak memory, order, the same bytes on one
# thread and two, and split over processes by xargs.
#
#   bash tests/by_hand/lines.sh PROGRAM LINES.jsonl
set -euo pipefail
program=$1 lines=$2
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

for jobs in 1 2; do
    /usr/bin/time -f "$jobs threads: %e s, %U s of processor, %M KB at most" \
        "$program" convert --lines=summary --jobs "$jobs" "$lines" >"$work/$jobs" || true
done
cmp "$work/1" "$work/2" && echo "the same bytes on one thread and on two"
# A tenth of the lines takes as much memory.
head -n $(($(wc -l <"$lines") / 10)) "$lines" >"$work/tenth"
/usr/bin/time -f "a tenth: %e s, %M KB at most" \
    "$program" convert --lines=summary --jobs 2 "$work/tenth" >/dev/null || true
# The order is that of the lines.
python3 - "$work/1" <<'P'
import json, sys
answers = [json.loads(line) for line in open(sys.argv[1])]
assert [a["line"] for a in answers] == list(range(1, len(answers) + 1))
print(len(answers), "answers in order,", sum(not a["ok"] for a in answers), "of them say why not")
P
# Split over two processes of one thread each; the pieces keep their order.
mkdir "$work/pieces"
split -n l/8 -d "$lines" "$work/pieces/"
ls "$work"/pieces/* | xargs -P 2 -I{} sh -c '"$0" convert --lines=summary --jobs 1 -o "$1.out" "$1" 2>/dev/null || true' "$program" {}
cat "$work"/pieces/*.out | python3 -c '
import json, sys
ids = [json.loads(line).get("id") for line in sys.stdin]
assert ids == sorted(ids), "order"
print(len(ids), "answers from eight pieces in order")'
