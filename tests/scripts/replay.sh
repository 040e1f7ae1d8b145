# tests/scripts/replay.sh - every fuzz entry over its corpus: each old crash stays mended.
set -u
: "${REPLAY:?}" "${SRC:?}"
. "$SRC/tests/support/script.sh"
for entry in "$SRC"/tests/fuzz/fuzz_*.c; do
    name=$(basename "$entry" .c)
    name=${name#fuzz_}
    if "$REPLAY/$name" "$SRC/tests/fuzz/corpus/$name"/*; then
        passed=$((passed + $(find "$SRC/tests/fuzz/corpus/$name" -type f | wc -l)))
    else
        note 1 "$name"
    fi
done
total
