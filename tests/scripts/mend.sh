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
festival-two-hits|0|07:30 burner dead
two-of-each|3|07:35 burner dead
two-of-each|3|07:30 oven deck dead
dressed|0|07:41 B2 dropped
dressed|3|08:12 B1 dropped
END

# A day that runs SECONDS behind its plan, all of it, ticked until the line is said.
cat > "$dir/late.py" << 'END'
import json, sys
plan, late = json.load(open(sys.argv[1])), int(sys.argv[2])
hour, minute = sys.argv[3].split(' ')[0].split(':')
print(json.dumps({'backpot': 'log', 'format': 1, 'show': plan['show_id'], 'stamp': plan['stamp'],
                  'rehearsal': False}))
ticks = [(o[end]['t'] + late, event, o['key']) for o in plan['op']
         if o['kind'] not in ('passive', 'oven', 'wait', 'set')
         for end, event in (('from', 'start'), ('to', 'done'))]
for at, event, key in sorted(ticks):
    if at < int(hour) * 3600 + int(minute) * 60:
        print(json.dumps({'at': at, 'event': event, 'op': key}))
END
# What is ticked by then must stand in the calendars when it was done, not when it was planned.
cat > "$dir/ticked.py" << 'END'
import json, sys
plan, late = json.load(open(sys.argv[1])), int(sys.argv[3])
was = {o['key']: o for o in json.load(open(sys.argv[2]))['op']}
past = [o for o in plan['op'] if o['kind'] not in ('passive', 'oven', 'wait', 'set')
        and o['key'] in was and o['to']['t'] <= plan['mended']['t']]
moved = [o for o in past if o['from']['t'] == was[o['key']]['from']['t'] + late]
print(len(moved), 'of', len(past), 'as ticked')
assert past and len(moved) == len(past)
END
behind() { # behind SHOW STATUS SECONDS LINE
    show=$1 status=$2
    rm -rf "$dir/out"
    "$BACKPOT" plan "$dir/shows/$show.json" -q -o "$dir/out" || return 1
    cp "$dir/out/prep.ics" "$dir/before.ics"
    cp "$dir/out/plan.json" "$dir/before.json"
    python3 "$dir/late.py" "$dir/before.json" "$3" "$4" > "$dir/day.log" || return 1
    "$BACKPOT" mend "$dir/shows/$show.json" -q --log "$dir/day.log" -o "$dir/out" "$4"
    [ $? -eq "$status" ]
}
while IFS='|' read -r show status seconds mishap; do
    check "$show: $seconds s late, $mishap" behind "$show" "$status" "$seconds" "$mishap"
    check "calendars $seconds s late, $mishap" calendars
    check "as ticked, $seconds s late, $mishap" python3 "$dir/ticked.py" "$dir/out/plan.json" \
        "$dir/before.json" "$seconds"
    check "plan.json $seconds s late, $mishap" schema
done << 'END'
harbour-breakfast|0|300|07:30 behind
harbour-breakfast|3|900|08:00 behind
END

# The roast of B1 may come off until the end of its window in plan.json: taken off four minutes after that
# four minutes are told, at the end of it none.
over() { # over SECONDS: B1 comes off so long after its window, all else as planned
    "$BACKPOT" plan "$dir/shows/harbour-breakfast.json" -q -o "$dir/over" || return 1
    python3 - "$dir/over/plan.json" "$1" > "$dir/over.log" << 'END'
import json, sys
plan, late = json.load(open(sys.argv[1])), int(sys.argv[2])
print(json.dumps({'backpot': 'log', 'format': 1, 'show': plan['show_id'], 'stamp': plan['stamp'],
                  'rehearsal': False}))
off = next(o for o in plan['op'] if o['key'] == 'main/squash/B1/roast/take-off')
late += off['off_most']['t'] - off['from']['t']
ticks = [(o[end]['t'] + (late if o is off else 0), event, o['key']) for o in plan['op']
         if o['kind'] not in ('passive', 'oven', 'wait', 'set')
         for end, event in (('from', 'start'), ('to', 'done'))]
for at, event, key in sorted(ticks):
    if at < 8 * 3600 + 120:
        print(json.dumps({'at': at, 'event': event, 'op': key}))
END
    "$BACKPOT" mend "$dir/shows/harbour-breakfast.json" --log "$dir/over.log" "08:02 behind"
}
says_over() {
    over 240 > "$dir/late" && over 0 > "$dir/in-time" &&
        grep -q "^B1: Roast .*, 4 min longer than its step allows: taste it$" "$dir/late" &&
        grep -q "everything is there in time" "$dir/in-time" &&
        ! grep -q "longer than its step allows" "$dir/in-time"
}
check "what came off too late is said, and its limit is not" says_over

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

# An oven dies while a load is being put into it. Loading takes 3 minutes here, so that a whole minute
# lies inside it. Food not yet begun to be put in goes into the other oven as it is; food whose loading
# was begun is made anew from its first step.
sed 's|"burners": 2|&, "load": "3 min"|' "$dir/shows/two-of-each.json" > "$dir/shows/slow-load.json"
cat > "$dir/loading.py" << 'END'
import json, subprocess, sys
backpot, show, out, after = sys.argv[1:4] + [int(sys.argv[4])]
run = lambda *a: subprocess.run([backpot, *a, '-q', '-o', out], capture_output=True).returncode
assert run('plan', show) == 0
plan = json.load(open(out + '/plan.json'))
load = min((o for o in plan['op'] if o['kind'] == 'load' and '/roast/' in o['key']),
           key=lambda o: o['from']['t'])
uses = lambda p, o: [p['thing'][u]['id'] for u in o['uses'] if p['thing'][u]['kind'] == 'oven']
(oven,), food = uses(plan, load), load['key'].split('/')[2]
assert load['to']['t'] - load['from']['t'] == 180
at = load['from']['t'] + after
clock = '%02d:%02d:%02d' % (at // 3600, at // 60 % 60, at % 60)
assert run('mend', show, clock + ' oven ' + oven + ' dead') in (0, 3)
mended = json.load(open(out + '/plan.json'))
cubed = [o for o in mended['op'] if o['key'].endswith('/cube') and o['from']['t'] >= at and
         food in [mended['container'][c]['code'] for c in o['serves']]]
print(clock, food, oven, [o['key'] for o in cubed])
assert bool(cubed) == (after > 0)
baked = [o for o in mended['op'] if o['kind'] == 'oven']
assert baked and all(uses(mended, o) not in ([], [oven]) for o in baked)
END
for after in 0 1 60 120 179; do
    check "an oven dies $after s into a loading" \
        python3 "$dir/loading.py" "$BACKPOT" "$dir/shows/slow-load.json" "$dir/out" "$after"
done

# Two ovens equally good: which one is taken follows their order in the show file alone, and is the same
# each time. With their ids and names exchanged the plan is the same but for these.
exchange() { sed 's/deck/@/g; s/wall/deck/g; s/@/wall/g' "$1"; }
exchange "$dir/shows/two-of-each.json" > "$dir/shows/exchanged.json"
cat > "$dir/ovens.py" << 'END'
import json, sys
def ovens(name):
    plan = json.load(open(name))
    thing = plan['thing']
    assert sum(t['kind'] == 'oven' for t in thing) == 2
    ops = [(o['key'].replace('deck', 'oven').replace('wall', 'oven'), o['from'], o['to'], o['person'],
            o['uses'], o['serves']) for o in plan['op']]
    return ops, [thing[u]['id'] for o in plan['op'] if o['kind'] == 'oven' for u in o['uses']
                 if thing[u]['kind'] == 'oven']
(a, x), (b, y) = ovens(sys.argv[1]), ovens(sys.argv[2])
swap = {'deck': 'wall', 'wall': 'deck'}
assert x and y == [swap[i] for i in x] and a == b
END
check "equal ovens: two plans" sh -c '
    "$1" plan "$2/shows/two-of-each.json" -q -o "$2/one" &&
    "$1" plan "$2/shows/two-of-each.json" -q -o "$2/two" &&
    "$1" plan "$2/shows/exchanged.json" -q -o "$2/three"' sh "$BACKPOT" "$dir"
check "equal ovens: the same each time" cmp "$dir/one/plan.json" "$dir/two/plan.json"
check "equal ovens: the order of the file decides" \
    python3 "$dir/ovens.py" "$dir/one/plan.json" "$dir/three/plan.json"

total 34
