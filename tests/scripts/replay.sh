# tests/scripts/replay.sh - every fuzz entry over its corpus: each old crash stays mended.
set -u
: "${REPLAY:?}" "${SRC:?}"
passed=0
failed=0
for entry in "$SRC"/tests/fuzz/fuzz_*.c; do
    name=$(basename "$entry" .c)
    name=${name#fuzz_}
    if "$REPLAY/$name" "$SRC/tests/fuzz/corpus/$name"/*; then
        passed=$((passed + $(find "$SRC/tests/fuzz/corpus/$name" -type f | wc -l)))
    else
        failed=$((failed + 1))
        echo "$name failed"
    fi
done
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ] && [ "$passed" -gt 0 ]
