# stations.sh - walking, room and hot containers on the set, from the show file to the papers.
set -u
: "${SRC:?}" "${BACKPOT:?}"
. "$SRC/tests/support/script.sh"
show=$SRC/shows/orchard-two-segments.json

# with OLD NEW: the show with the first written as the second, at $dir/show.json
with() {
    sed "s|$1|$2|" "$show" > "$dir/show.json"
    ! cmp -s "$show" "$dir/show.json"
}
plan() { "$BACKPOT" plan "$dir/show.json" -o "$dir/out" --only json,cue-sheet > "$dir/plan" 2>&1; }
count() { grep -c "$1" "$dir/out/plan.json"; }

with Priya Petra && plan
note $? "the show is planned"
[ "$(count '"walk": [1-9]')" -eq 4 ] && [ "$(count '"crosses": "[^"]')" -eq 0 ]
note $? "four beats are walked to, past nothing hot"
pdftotext -layout "$dir/out/cue-sheet.pdf" "$dir/cue.txt"
for words in 'walk 0:04' 'In the break before: who brings what out and in' 'out, all that is left of' \
    'in, to counter'; do
    check "the cue sheet says: $words" grep -q "$words" "$dir/cue.txt"
done

# The stove between the front and the counter: hot pans stand where the hosts pass.
with '{"id": "counter", "walk": "3 s", "room": 3}, {"id": "stove", "walk": "4 s", "room": 3}' \
    '{"id": "stove", "walk": "3 s"}, {"id": "counter", "walk": "4 s"}' && plan
note $? "the show is planned with the stove between"
grep -q '"crosses": "past stove, where B3 is hot' "$dir/out/plan.json"
note $? "what is hot in the way is told"
pdftotext -layout "$dir/out/cue-sheet.pdf" "$dir/cue.txt"
check "the cue sheet warns" grep -q 'On the way past stove' "$dir/cue.txt"

with '"walk": "3 s", "room": 3' '"walk": "3 s", "room": 1'
plan
[ $? -eq 3 ] && grep -q 'station counter has room for 1 container' "$dir/plan" &&
    grep -q 'give station counter room for 3' "$dir/plan"
note $? "a station that is too small is told with the room it needs" || cat "$dir/plan"

# A slot as long as the beats at their least and the walking; a second less, and a beat goes.
with '"walk": "4 s"' '"walk": "40 s"'
plan
[ "$(grep -c 'left out' "$dir/plan")" -ge 1 ]
note $? "where the stove is far, beats are left out" || cat "$dir/plan"

# The close-up on every beat at the counter: 4 s of walking to the stove and back, 6 of moving.
with '"station": "counter", "camera": "wide"},$' '"station": "counter", "camera": "close-up"},' && plan
note $? "the show is planned with the close-up on everything"
[ "$(count '"camera_late": [1-9]')" -eq 2 ] &&
    grep -q 'camera close-up is there 2 s late: its move takes 6 s' "$dir/plan"
note $? "a camera that is wanted before it can be there is told" || cat "$dir/plan"
pdftotext -layout "$dir/out/cue-sheet.pdf" "$dir/cue.txt"
check "the cue sheet says so" grep -q '2 s late: its move takes 6 s' "$dir/cue.txt"
check "the cue sheet names the camera" grep -q '^ .* wide' "$dir/cue.txt"

# A show without stations has no walk on paper; who changes the set in the break stands there all the
# same.
with '^      "stations": .*' ''
plan
note $? "the show is planned without stations"
[ "$(count '"walk": [1-9]')" -eq 0 ]
note $? "nobody walks where no stations are written"
pdftotext -layout "$dir/out/cue-sheet.pdf" "$dir/cue.txt"
! grep -q 'walk 0:' "$dir/cue.txt"
note $? "nothing of it is on paper"
check "the break is" grep -q 'In the break before' "$dir/cue.txt"
total 12
