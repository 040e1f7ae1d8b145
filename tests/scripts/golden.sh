# tests/scripts/golden.sh [rewrite] - the accepted outputs in tests/golden, byte for byte.
#
# Of each shipped show: what the program says, the pull list and the kitchen's calendar. With
# `rewrite` (make golden) they are laid anew, to be read like code. A difference here is a change
# of what people hold in their hands: accept it knowingly.
set -u
: "${BACKPOT:?}" "${SRC:?}"

golden=$SRC/tests/golden
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
passed=0
failed=0

for show in "$SRC"/shows/*.json; do
    name=$(basename "$show" .json)
    mkdir "$work/$name"
    "$BACKPOT" plan "$show" -o "$work/$name" --only pull-list,calendar > "$work/$name/said.txt" 2>&1
    echo "exit status $?" >> "$work/$name/said.txt"
    if [ "${1-}" = rewrite ]; then
        mkdir -p "$golden/$name"
    fi
    for file in said.txt pull-list.txt prep.ics; do
        # The folder of the tree is not the same everywhere.
        if ! sed "s|$SRC/||g" "$work/$name/$file" > "$work/file"; then
            echo "golden: $name/$file was not made"
            failed=$((failed + 1))
            continue
        fi
        if [ "${1-}" = rewrite ]; then
            cp "$work/file" "$golden/$name/$file" || exit 1
        elif cmp -s "$work/file" "$golden/$name/$file"; then
            passed=$((passed + 1))
        else
            failed=$((failed + 1))
            echo "golden: $name/$file differs:"
            diff "$golden/$name/$file" "$work/file" | head -n 20
        fi
    done
done
[ "${1-}" = rewrite ] || echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
