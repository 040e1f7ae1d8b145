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

# A stove five seconds from the table: what is shown there is walked to, and the beats fill the slot.
stand() { # stand STATION: the show with stations, the browning shown at this one
    row='"stations": [{"id": "table"}, {"id": "stove", "walk": "5 s"}]'
    sed -e "s|\"lead\": \"6 min\",|\"lead\": \"6 min\", $row,|" \
        -e "s|\"air\": {\"time\": \"25-45 s\"|\"air\": {\"station\": \"$1\", \"time\": \"25-45 s\"|" \
        "$show" > "$dir/show.json"
}
stand stove
"$BACKPOT" plan "$dir/show.json" -o "$dir/out" --only json > "$dir/plan"
note $? "a draft with stations is planned"
[ "$(grep -c '"walk": 5' "$dir/out/plan.json")" -eq 2 ] &&
    [ "$(grep -c '"station": "table"' "$dir/out/plan.json")" -ge 4 ]
note $? "it is walked to the stove and back" || cat "$dir/plan"
"$BACKPOT" draft "$dir/show.json" --list 1 |
    sed -n 's/^ *[0-9]*  [0-9:]* *\([0-9]*\) s  .*/\1/p' | awk '{ sum += $1 } END { exit sum != 220 }'
note $? "the beats and the walking fill the slot"
stand stov
"$BACKPOT" plan "$dir/show.json" -o "$dir/out" > "$dir/plan" 2>&1
[ $? -eq 2 ] &&
    grep -q 'shown at station "stov", which segment "remote" does not have; name one' "$dir/plan"
note $? "a station that is not there is told" || cat "$dir/plan"

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
