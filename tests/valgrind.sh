# tests/valgrind.sh - plan every shipped show under valgrind; a bad access or a lost block fails. As many
# at once as there are processors.
#
# Exit status 3 is an answer too: the show that cannot be planned.
set -eu
: "${BACKPOT:?}" "${SRC:?}"

if [ "${1:-}" = --one ]; then
    name=$(basename "$3" .json)
    status=0
    valgrind --quiet --error-exitcode=99 --leak-check=full --errors-for-leak-kinds=definite \
        --suppressions="$SRC/tests/valgrind.supp" --track-fds=no \
        "$BACKPOT" plan "$3" -o "$2/$name" > "$2/$name.log" 2>&1 || status=$?
    case $status in
    0 | 3) echo "$name: exit status $status" ;;
    *) echo "$name: exit status $status
$(cat "$2/$name.log")" ;;
    esac
    echo "$status" > "$2/$name.status"
    exit 0
fi

out=$(mktemp -d)
trap 'rm -rf "$out"' EXIT
printf '%s\n' "$SRC"/shows/*.json |
    xargs -P "${JOBS:-$(nproc 2> /dev/null || echo 2)}" -n 1 sh "$0" --one "$out"
shows=$(find "$SRC"/shows -maxdepth 1 -name '*.json' | wc -l)
passed=$(cat "$out"/*.status | grep -cx '[03]' || true)
echo "valgrind: $passed of $shows shows passed"
[ "$passed" -eq "$shows" ] && [ "$passed" -gt 0 ]
