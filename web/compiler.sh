#!/usr/bin/env bash
# Prints a rustc that builds for the browser: the installed one where it has the target, else Debian's, unpacked into FOLDER
# (nothing is installed), with a standard library made once from Debian's source. About 140 MB to fetch, 0.9 GB on disk.
#     web/compiler.sh FOLDER
set -euo pipefail
target=wasm32-unknown-unknown
# CAPWRIGHT_COMPILER_FROM=debian tries the second way where the first would do.
if [ "${CAPWRIGHT_COMPILER_FROM:-}" != debian ]; then
    if [ -e "$(rustc --print sysroot)/lib/rustlib/$target" ]; then command -v rustc; exit; fi
    if command -v rustup >/dev/null && rustup target add "$target" >/dev/null 2>&1; then command -v rustc; exit; fi
fi
if ! command -v apt-get >/dev/null || ! command -v dpkg >/dev/null; then
    echo "This Rust cannot build for the browser: rustup target add $target" >&2; exit 1
fi
home="${1:?folder}"; host=x86_64-unknown-linux-gnu; lld="$(rustc --print sysroot)/lib/rustlib/$host/bin/rust-lld"
if [ ! -e "$home/done" ]; then
    rm -rf "$home"; mkdir -p "$home/debs"; cd "$home/debs"
    depends() { apt-cache depends "$1" | sed -n "s/.*Depends: \($2\)\$/\1/p" | head -1; }
    std=$(depends libstd-rust-web-dev 'libstd-rust-web-[0-9.]*')
    [ -n "$std" ] || { echo "apt knows no rustc-web; run apt-get update" >&2; exit 1; }
    llvm=$(depends "$std" 'libllvm[0-9]*')
    apt-get download -qq rustc-web libstd-rust-web-dev rust-web-src "$std" "$llvm" >&2 2>/dev/null
    for deb in *.deb; do dpkg -x "$deb" "$home"; done
    cd "$home"; rm -rf debs usr/share
    tools="usr/lib/rustlib/$host/bin"; mkdir -p "$tools"; rm -rf "${tools:?}"/*
    # A link, not a copy: the linker looks for its library beside the file itself.
    ln -s "$lld" "$tools/rust-lld"
    printf '#!/bin/sh\nLD_LIBRARY_PATH="%s" exec "%s" "$@"\n' "$home/usr/lib/x86_64-linux-gnu" "$home/usr/bin/rustc" > rustc
    chmod +x rustc
    mkdir -p std/src; : > std/src/lib.rs
    printf '[package]\nname = "std-of-wasm"\nversion = "0.0.0"\nedition = "2024"\n[lib]\ncrate-type = ["rlib"]\n[workspace]\n' > std/Cargo.toml
    # Source of the same version as the compiler: another one does not build.
    RUSTC="$home/rustc" RUSTC_BOOTSTRAP=1 CARGO_NET_OFFLINE=false cargo build --quiet --manifest-path std/Cargo.toml --release \
        --target-dir std/target -Z build-std=std,panic_abort --target "$target" >&2
    mkdir -p "usr/lib/rustlib/$target/lib"
    cp "std/target/$target/release/deps"/lib*.rlib "usr/lib/rustlib/$target/lib/"
    rm -f "usr/lib/rustlib/$target/lib"/libstd_of_wasm*; rm -rf std usr/src usr/lib/rustlib/src
    touch done
fi
echo "$home/rustc"
