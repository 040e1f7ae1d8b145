# tests/scripts/golden.sh [rewrite] - the accepted outputs in tests/golden, byte for byte.
#
# Of each shipped show: what the program says, the pull list and the kitchen's calendar. With
# `rewrite` (make golden) they are laid anew, to be read like code. A difference here is a change
# of what people hold in their hands: accept it knowingly.
set -u
: "${BACKPOT:?}" "${SRC:?}"

[ -z "${BRIEF-}" ] || { # a planner that is content sooner makes other plans
    echo "a brief search: nothing to compare"
    exit 0
}
golden=$SRC/tests/golden
. "$SRC/tests/support/script.sh"

for show in "$SRC"/shows/*.json; do
    name=$(basename "$show" .json)
    mkdir "$dir/$name"
    "$BACKPOT" plan "$show" -o "$dir/$name" --only pull-list,calendar > "$dir/$name/said.txt" 2>&1
    echo "exit status $?" >> "$dir/$name/said.txt"
    if [ "${1-}" = rewrite ]; then
        mkdir -p "$golden/$name"
    fi
    for file in said.txt pull-list.txt prep.ics; do
        # The folder of the tree is not the same everywhere.
        if ! sed "s|$SRC/||g" "$dir/$name/$file" > "$dir/file"; then
            note 1 "$name/$file was not made"
            continue
        fi
        if [ "${1-}" = rewrite ]; then
            cp "$dir/file" "$golden/$name/$file" || exit 1
        else
            check "$name/$file differs" diff "$golden/$name/$file" "$dir/file"
        fi
    done
done
if [ "${1-}" = rewrite ]; then
    exit "$failed"
fi
total
