#!/usr/bin/env bash
# Builds capwright.html, the whole program in one file that opens in any browser, offline:
#     bash web/build.sh [--pdf] [OUT.html]
# Needs cargo, node and npm; where the compiler lacks the browser's target, see compiler.sh.
set -euo pipefail
here="$(cd "$(dirname "$0")" && pwd)"; cd "$here/.."
pdf=(); out="capwright.html"
for word in "$@"; do case "$word" in --pdf) pdf=(--features pdf) ;; *) out="$word" ;; esac; done
target_dir="${CARGO_TARGET_DIR:-target}"
compiler="$(bash web/compiler.sh "${CAPWRIGHT_COMPILER:-$HOME/.cache/capwright-compiler}")"
# Paths of this machine stay out of the engine.
RUSTC="$compiler" RUSTFLAGS="--remap-path-prefix=$PWD=. --remap-path-prefix=${CARGO_HOME:-$HOME/.cargo}=cargo" \
    cargo build --quiet --locked --profile web -p capwright-web --target wasm32-unknown-unknown "${pdf[@]}"
[ -d web/node_modules/esbuild ] && [ -d web/node_modules/@gfx/zopfli ] || npm --prefix web ci --ignore-scripts --no-audit --no-fund --loglevel=error
node web/bundle.mjs "$target_dir/wasm32-unknown-unknown/web/capwright_web.wasm" "$out"
# A page that is mailed stays small.
most=1500000; [ ${#pdf[@]} -eq 0 ] || most=5000000
size=$(wc -c < "$out"); [ "$size" -le "$most" ] || { echo "$out has $size bytes; $most are allowed" >&2; exit 1; }
