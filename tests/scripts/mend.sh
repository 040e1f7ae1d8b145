# tests/scripts/mend.sh - a plan mended into its own folder: the calendars are told what changed, by
# SEQUENCE and cancellation, and nothing else.
set -u
: "${BACKPOT:?}" "${SRC:?}"
. "$SRC/tests/support/script.sh"

cp -r "$SRC/shows" "$dir/shows"
# The shipped show with a second oven and a burner less, so that each that dies is missed and one is left.
wall='{"id": "wall", "name": "wall oven", "positions": 2, "heats": "12 C/min", "cools": "6 C/min"}'
sed -e "s|\"ovens\": \[|&$wall, |" -e 's/"burners": 3/"burners": 2/' \
    "$dir/shows/harbour-breakfast.json" > "$dir/shows/two-of-each.json"

sed 's|"hands": 1|"dress": ["squash", "soup"], &|' \
    "$dir/shows/harbour-breakfast.json" > "$dir/shows/dressed.json"

mended() { # mended SHOW STATUS MISHAP...
    show=$1 status=$2
    shift 2
    rm -rf "$dir/out"
    "$BACKPOT" plan "$dir/shows/$show.json" -q -o "$dir/out" || return 1
    cp "$dir/out/prep.ics" "$dir/before.ics"
    cp "$dir/out/plan.json" "$dir/before.json"
    "$BACKPOT" mend "$dir/shows/$show.json" -q -o "$dir/out" "$@"
    [ $? -eq "$status" ]
}

# Every event of the mended calendar: one of before with the same text and SEQUENCE, one of before
# with the next SEQUENCE, a new one with 0, or one of before cancelled with the next SEQUENCE.
cat > "$dir/events.py" << 'END'
import json, re, sys
def events(name):
    text = open(name, newline='').read().replace('\r\n ', '')
    out = {}
    for body in re.findall(r'BEGIN:VEVENT\r\n(.*?)END:VEVENT', text, re.S):
        lines = body.split('\r\n')
        get = lambda p: next((l[len(p) + 1:] for l in lines if l.startswith(p + ':')), '')
        rest = [l for l in lines if not re.match('(SEQUENCE|DTSTAMP|LAST-MODIFIED):', l)]
        assert get('UID') not in out
        out[get('UID')] = (int(get('SEQUENCE')), get('STATUS'), rest)
    return out
old, new = events(sys.argv[1]), events(sys.argv[2])
assert set(old) <= set(new), 'an event is gone without a word'
same = raised = added = cancelled = 0
for uid, (sequence, status, rest) in new.items():
    if uid not in old:
        assert sequence == 0 and status != 'CANCELLED', uid
        added += 1
    elif old[uid][2] == rest:
        assert sequence == old[uid][0], uid
        same += 1
    else:
        assert sequence == old[uid][0] + 1, uid
        raised += status != 'CANCELLED'
        cancelled += status == 'CANCELLED'
# A plan that is late says so in every event; else what did not move is not touched.
print(same, 'same', raised, 'raised', added, 'added', cancelled, 'cancelled')
assert (same > 0) == (sys.argv[3] == '0') and raised + added + cancelled > 0
END
calendars() {
    python3 "$dir/events.py" "$dir/before.ics" "$dir/out/prep.ics" "$status"
}
schema() {
    /usr/bin/python3 -m jsonschema -i "$dir/out/plan.json" "$SRC/src/out/plan.schema.json"
}

while IFS='|' read -r show status mishap; do
    check "$show: $mishap" mended "$show" "$status" "$mishap"
    check "calendars after $mishap" calendars
    check "plan.json after $mishap" schema
done << 'END'
harbour-breakfast|0|07:24 A4 burnt
harbour-breakfast|0|07:24 A1 burnt
harbour-breakfast|3|08:05 A4 burnt
harbour-breakfast|0|07:05 Rui away until 07:30
harbour-breakfast|0|08:00 B3 roast until 08:15
two-of-each|3|07:35 burner dead
two-of-each|3|07:30 oven deck dead
dressed|0|07:41 B2 dropped
dressed|3|08:12 B1 dropped
END

check "no oven left" sh -c '"$1" mend "$2" "07:10 oven deck dead" 2>&1 | grep -q "B1 B3 B4"' \
    sh "$BACKPOT" "$dir/shows/harbour-breakfast.json"
check "what moved is said" sh -c '"$1" mend "$2" "07:24 A4 burnt" | grep -q "1 change; everything"' \
    sh "$BACKPOT" "$dir/shows/harbour-breakfast.json"
check "what lasts longer is said" sh -c '"$1" mend "$2" "07:00 A1 chop until 07:20" |
    grep -q "Dice .*, until 07:20"' \
    sh "$BACKPOT" "$dir/shows/harbour-breakfast.json"
check "what is done no more is said" sh -c '"$1" mend "$2" "06:30 oven deck dead" |
    grep -q "deck oven.*, no more"' \
    sh "$BACKPOT" "$dir/shows/two-of-each.json"
check "the same again" sh -c '
    "$1" mend "$2" "07:05 Rui away until 07:30" > "$3/a" &&
    "$1" mend "$2" "07:05 Rui away until 07:30" > "$3/b" && cmp "$3/a" "$3/b"' \
    sh "$BACKPOT" "$dir/shows/harbour-breakfast.json" "$dir"

total 26
