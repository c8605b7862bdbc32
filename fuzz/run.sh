#!/bin/sh
# fuzz/run.sh TARGET SECONDS: builds one target with coverage on the stable compiler and runs it over
# fuzz/seeds/TARGET; new inputs go to fuzz/corpus/TARGET, what ends it to fuzz/found/TARGET-*.
set -eu
cd "$(dirname "$0")"
target=$1
seconds=${2:-60}
# libFuzzer asks for these counters; no sanitizer is needed, since there is no unsafe code to check.
export RUSTFLAGS="--cfg fuzzing -Cpasses=sancov-module -Cllvm-args=-sanitizer-coverage-level=4 \
-Cllvm-args=-sanitizer-coverage-inline-8bit-counters -Cllvm-args=-sanitizer-coverage-pc-table \
-Cllvm-args=-sanitizer-coverage-trace-compares -Ccodegen-units=4"
export CARGO_TARGET_DIR="${CARGO_TARGET_DIR:-target}/fuzz"
# A target of its own keeps the flags away from build scripts.
host=$(rustc -vV | sed -n 's/^host: //p')
cargo build --bin "$target" --target "$host" ${JOBS:+-j "$JOBS"}
mkdir -p "corpus/$target" found
seeds=seeds/$target
longest=4096
case $target in
    # The tests' own leaflets.
    leaflet) seeds=../tests/leaflets longest=16384 ;;
    written | convert | case) longest=16384 ;;
esac
exec "$CARGO_TARGET_DIR/$host/debug/$target" "corpus/$target" "$seeds" \
    -max_total_time="$seconds" -dict=words.dict -max_len="$longest" -timeout=10 -rss_limit_mb=2048 \
    -artifact_prefix="found/$target-" -print_final_stats=1 -verbosity=0
