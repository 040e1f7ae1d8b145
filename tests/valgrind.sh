# tests/valgrind.sh - plan every shipped show under valgrind; a bad access or a lost block fails.
#
# Exit status 3 is an answer too: the show that cannot be planned.
set -eu
: "${BACKPOT:?}" "${SRC:?}"

out=$(mktemp -d)
trap 'rm -rf "$out"' EXIT
passed=0
failed=0
for show in "$SRC"/shows/*.json; do
    name=$(basename "$show" .json)
    status=0
    valgrind --quiet --error-exitcode=99 --leak-check=full --errors-for-leak-kinds=definite \
        --suppressions="$SRC/tests/valgrind.supp" --track-fds=no \
        "$BACKPOT" plan "$show" -o "$out/$name" > "$out/log" 2>&1 || status=$?
    case $status in
    0 | 3) passed=$((passed + 1)) ;;
    *)
        cat "$out/log"
        failed=$((failed + 1)) ;;
    esac
    echo "$name: exit status $status"
done
echo "valgrind: $passed shows passed, $failed failed"
[ "$failed" -eq 0 ] && [ "$passed" -gt 0 ]
