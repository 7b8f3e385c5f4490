#!/bin/sh
# Compiles torchon.c to a core module that carries the interface. The program
# takes it as it is; `wasm-tools component new` makes a component of it.
# Wants clang with its wasm32 target, and lld (Debian: clang, lld).
#
#   ./build.sh torchon.wasm
set -eu
case $1 in /*) out=$1 ;; *) out=$PWD/$1 ;; esac
cd "$(dirname "$0")"
${CLANG:-clang} --target=wasm32-unknown-unknown -std=c11 -Os -Wall -Wextra -Werror \
    -ffreestanding -nostdlib -nostdlibinc -isystem freestanding \
    -Wl,--no-entry,--strip-debug,-z,stack-size=65536 \
    torchon.c runtime.c bindings/contribution.c bindings/contribution_component_type.o \
    -o "$out"
