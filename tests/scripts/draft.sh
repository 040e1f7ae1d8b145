# draft.sh - backpot draft: what it lists is what the show becomes when one is taken.
set -u
: "${SRC:?}" "${BACKPOT:?}"
. "$SRC/tests/support/script.sh"
show=$SRC/shows/cottage-remote.json

# with MEMBERS: the show with "draft": {MEMBERS} in its segment, at $dir/show.json
with() {
    sed "s|\"lead\": \"6 min\",|\"lead\": \"6 min\", \"draft\": {$1},|" "$show" > "$dir/show.json"
}

"$BACKPOT" draft "$show" --list 4 > "$dir/all"
note $? "the drafts are listed"
for n in 1 2 3 4; do
    with "\"take\": $n"
    "$BACKPOT" plan "$dir/show.json" -o "$dir/out" --only json > "$dir/plan"
    note $? "draft $n is planned"
    # Each beat stands in both at the same second.
    sed -n "/^  draft $n /,/to cook/p" "$dir/all" |
        sed -n 's/^ *[0-9]*  \([0-9:]* *[0-9]* s  .*\)/\1/p' > "$dir/listed"
    sed -n 's/^ *[0-9]*  \([0-9:]* *[0-9]* s  .*\)/\1/p' "$dir/plan" > "$dir/planned"
    [ -s "$dir/listed" ]
    note $? "draft $n has beats"
    check "draft $n is what is planned when it is taken" diff "$dir/listed" "$dir/planned"
done

with '"swap-outs": 5'
"$BACKPOT" draft "$dir/show.json" --list 9 > "$dir/all"
note $? "there are drafts of five swap-outs"
! grep -q '[6-9] swap-outs' "$dir/all"
note $? "no draft has more than five"
with '"burners": 0'
"$BACKPOT" plan "$dir/show.json" -o "$dir/out" --only json > "$dir/plan"
note $? "a draft without a burner is planned"
! grep -q 'Brown the mushrooms in butter \[' "$dir/plan"
note $? "nothing is browned without a burner"
with '"swap-outs": 1'
"$BACKPOT" plan "$dir/show.json" -o "$dir/none" > "$dir/plan" 2>&1
[ $? -eq 3 ] && grep -q 'allow 2 swap-outs on the set of remote' "$dir/plan"
note $? "what would lift the limit is told" || cat "$dir/plan"
"$BACKPOT" draft "$dir/show.json" > "$dir/plan" 2>&1
[ $? -eq 3 ] && grep -q 'show.json:.*has no draft that fills its slot within its limits' "$dir/plan"
note $? "no draft is exit status 3" || cat "$dir/plan"
for n in 0 10 x ''; do
    "$BACKPOT" draft "$show" --list "$n" > "$dir/plan" 2>&1
    [ $? -eq 4 ]
    note $? "--list \"$n\" is refused"
done
total 20
