#!/bin/sh
# tests/bench/beside.sh - puts together what is solved beside another solver.
#
#   beside.sh PROGRAM BENCH OUT EVERY SECONDS
#
# Every show of shows/, 12 made-up kitchen days, and of the sets j30, j60 and ubo50 every EVERY-th
# instance; without a folder BENCH none of those. The npm package "minizinc" is put below OUT, where there is
# an npm to fetch it.
set -eu
program=$1 bench=$2 out=$3 every=$4 seconds=$5
here=$(dirname "$0")
if ! command -v minizinc > /dev/null; then
    echo "there is no minizinc: apt-get install minizinc (Debian 12; it brings Gecode with it)"
    exit 2
fi
set --
for set in rcpsp/j30 rcpsp/j60 rcpsp-max/ubo50; do
    name=$(basename "$set")
    [ -n "$bench" ] && [ -e "$bench/$set/instances.tar.xz" ] || continue
    mkdir -p "$out/$name"
    [ -e "$out/$name.unpacked" ] || tar -xJf "$bench/$set/instances.tar.xz" -C "$out/$name"
    touch "$out/$name.unpacked"
    for file in $(find "$out/$name" -type f | LC_ALL=C sort |
                  awk -v e="$every" 'NR % e == 1 || e == 1'); do
        set -- "$@" "$file"
    done
done
[ $# -gt 0 ] || echo "# without published instances; name their folder: make bench-beside BENCH=folder"
for steps in 10 20 30 40; do
    set -- "$@" "day:1:$steps" "day:2:$steps" "day:3:$steps"
done
for show in "$here"/../../shows/*.json; do
    set -- "$@" "$show"
done
mkdir -p "$out/npm"
package=$out/npm/node_modules/minizinc/dist
if [ ! -e "$package/minizinc.wasm" ] &&
    ! npm install --silent --no-audit --no-fund --ignore-scripts --prefix "$out/npm" minizinc@4.5.1 >&2; then
    echo "# without a solver that learns: npm and node bring one, in the package minizinc"
    package=
fi
exec python3 -B "$here/beside.py" "$program" "$here/beside.mzn" "$out/data" "$seconds" "$package" "$@"
