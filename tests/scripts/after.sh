# tests/scripts/after.sh - after the day: logs told against the plan, times learned into copies of the
# shipped shows. That nothing but times has changed is held against the bytes by a few lines of
# another language. The logs are made up from plan.json.
set -u
: "${BACKPOT:?}" "${SRC:?}"
. "$SRC/tests/support/script.sh"
cp -r "$SRC/shows" "$dir/shows"
cp -r "$SRC/shows" "$dir/before"

# Days by a plan: a log with every tick, each operation and beat SCALE times as long as planned, give or
# take.
cat > "$dir/live.py" << 'END'
import json, random, sys
plan = json.load(open(sys.argv[1]))
scale, seed = float(sys.argv[2]), int(sys.argv[3])
random.seed(seed)
events = []
for o in plan['op']:
    if o['kind'] in ('passive', 'oven', 'wait', 'set'):
        continue
    begin = o['from']['t'] + random.randint(0, 40)
    last = max(10, int((o['to']['t'] - o['from']['t']) * scale * random.uniform(0.9, 1.2)))
    events += [(begin, {'event': 'start', 'op': o['key']}),
               (begin + last, {'event': 'done', 'op': o['key']})]
for a in plan['air']:
    at = a['hit']['t']
    events += [(at, {'event': 'hit', 'air': a['id']})]
    for b in (plan['beat'][i] for i in a['beats']):
        if not b['dropped']:
            events += [(at, {'event': 'beat', 'air': a['id'], 'beat': b['id']})]
            at += max(1, int(b['length'] * scale * random.uniform(0.9, 1.2)))
    events += [(at, {'event': 'off-air', 'air': a['id']})]
events.sort(key=lambda event: event[0])
print(json.dumps({'backpot': 'log', 'format': 1, 'show': plan['show_id'], 'stamp': plan['stamp'],
                  'rehearsal': False}))
for at, event in events:
    print(json.dumps({'at': at, **event}))
END
cat > "$dir/same.py" << 'END'
import re, sys
time = re.compile(rb'("(?:time|once|each)"\s*:\s*)(\{[^{}]*\}|"[^"]*")')
old, new = (open(name, 'rb').read() for name in sys.argv[1:3])
assert len(time.findall(old)) == len(time.findall(new))
assert time.sub(rb'\1', old) == time.sub(rb'\1', new), 'something else has changed'
print(sum(a != b for a, b in zip(time.findall(old), time.findall(new))), 'times')
END

names="harbour-breakfast orchard-two-segments festival-two-hits"
least=61
[ "${SHARE:-1}" -eq 1 ] || names=harbour-breakfast least=22
for name in $names; do
    show=$dir/shows/$name.json
    check "$name: a plan" "$BACKPOT" plan "$show" -q -o "$dir/$name"
    for n in 1 2 3 4; do
        python3 "$dir/live.py" "$dir/$name/plan.json" 1.1 $n > "$dir/$name-$n.log"
    done
    python3 "$dir/live.py" "$dir/$name/plan.json" 3 9 > "$dir/$name-odd.log"
    check "$name: told" "$BACKPOT" after "$show" "$dir/$name-1.log"
    check "$name: a report" "$BACKPOT" after "$show" -q --report "$dir/$name.pdf" "$dir/$name-odd.log"
    check "$name: of one page" sh -c 'pdfinfo "$1" | grep -q "^Pages: *1$"' sh "$dir/$name.pdf"
    check "$name: with what ran over" sh -c 'pdftotext -layout "$1" - | grep -q "ran over by a minute"' \
        sh "$dir/$name.pdf"
    check "$name: nothing is written unasked" diff -r "$dir/before" "$dir/shows"
    check "$name: learned" "$BACKPOT" after "$show" --learn "$dir/$name"-*.log
    cp "$dir/said" "$dir/told"
    check "$name: the odd day is told" grep -q "of them odd" "$dir/told"
    check "$name: batches are told" grep -q "for one container; written is" "$dir/told"
    check "$name: beats are told" grep -q "^Beats as they were seen" "$dir/told"
    check "$name: times were written" grep -q "[1-9][0-9]* times were written" "$dir/told"
    find "$dir/before" -name '*.json' > "$dir/files"
    while read -r file; do
        check "$name: ${file#"$dir/before/"}" python3 "$dir/same.py" "$file" \
            "$dir/shows/${file#"$dir/before/"}"
    done < "$dir/files"
    check "$name: it has no mistakes" "$BACKPOT" check "$show"
    check "$name: the same again writes nothing" sh -c '"$@" | grep -q "^0 times were written"' sh \
        "$BACKPOT" after "$show" --learn "$dir/$name"-*.log
    [ "$name" = festival-two-hits ] &&
        check "$name: a recipe in a file of its own" sh -c '! cmp "$1" "$2"' sh \
            "$dir/before/recipes/daikon-and-tofu-pot.json" \
            "$dir/shows/recipes/daikon-and-tofu-pot.json"
    rm -rf "$dir/shows"
    cp -r "$dir/before" "$dir/shows"
done

cp "$dir/harbour-breakfast-1.log" "$dir/shows/harbour-breakfast.log"
check "the log beside the show" "$BACKPOT" after "$dir/shows/harbour-breakfast.json"
fails() { # fails STATUS TEXT COMMAND...
    status=$1 text=$2
    shift 2
    "$@" > "$dir/out" 2>&1
    [ $? -eq "$status" ] && grep -q -- "$text" "$dir/out"
}
check "no log" fails 1 "cannot open" "$BACKPOT" after "$dir/shows/cottage-remote.json"
check "the log of another show" fails 2 'this is the log of the show "harbour-breakfast"' \
    "$BACKPOT" after "$dir/shows/cottage-remote.json" "$dir/harbour-breakfast-1.log"

# A day on which something went wrong. What a mended plan has is held to it: tests/scripts/ticked.sh.
after_mishap() { # after_mishap LINE: the log up to 07:24, and that
    python3 -c 'import json, sys
lines = open(sys.argv[1]).read().splitlines()
print("\n".join(l for l in lines if json.loads(l).get("at", 0) < 26640))
print(json.dumps({"at": 26640, "event": "mishap", "text": sys.argv[2]}))' \
        "$dir/harbour-breakfast-1.log" "$1" > "$dir/mishap.log"
}
after_mishap "07:24 A4 burnt"
check "by the mended plan" fails 0 "went wrong: 07:24 A4 burnt; from then on by the mended plan" \
    "$BACKPOT" after "$dir/shows/harbour-breakfast.json" "$dir/mishap.log"
after_mishap "07:24 Q9 burnt"
check "a mishap without a plan" fails 0 "went wrong: 07:24 Q9 burnt; no mended plan, so by the one before" \
    "$BACKPOT" after "$dir/shows/harbour-breakfast.json" "$dir/mishap.log"

check "a report that cannot be written" fails 1 "none/r.pdf" "$BACKPOT" after \
    "$dir/shows/harbour-breakfast.json" -q --report "$dir/none/r.pdf"

total $least
