# tests/scripts/kitchen.sh - the kitchen's day on a terminal: ticks, something late, a kill and a
# resume, an undo, a small terminal; the floor's clock goes on from the same log.
#
# The terminal is tmux's, of a server of its own. The day is rehearsed sixty times as fast, so every
# check waits for what must come. The screens stay in BUILD/live for looking at.
set -u
: "${BACKPOT:?}" "${SRC:?}" "${BUILD:?}"
. "$SRC/tests/support/script.sh"
[ -z "${BRIEF-}" ] || { # what is pressed fits the day of the whole search; cli_board draws it in every build
    echo "a brief search: another day, not played"
    exit 0
}
out=$BUILD/live
mkdir -p "$out"
session=backpot-kitchen-$$
mux() {
    tmux -L "$session" "$@"
}
trap 'mux kill-server 2> /dev/null; rm -rf "$dir"' EXIT

screen() {
    mux capture-pane -p -t clock
}

wait_for() { # wait_for PATTERN: until it stands on the screen; fifteen seconds at most
    i=0
    while [ $i -lt 150 ]; do
        screen | grep -q -- "$1" && return 0
        sleep 0.1
        i=$((i + 1))
    done
    screen
    return 1
}

wait_events() { # wait_events WORD N
    i=0
    while [ $i -lt 150 ]; do
        [ "$(grep -c "\"event\":\"$1\"" "$log")" -ge "$2" ] && return 0
        sleep 0.1
        i=$((i + 1))
    done
    cat "$log"
    return 1
}

wait_now() { # wait_now TEXT: until it is in somebody's hand
    i=0
    while [ $i -lt 150 ]; do
        screen | grep -v "NEXT\|THEN" | grep -q -- "$1" && return 0
        sleep 0.1
        i=$((i + 1))
    done
    screen
    return 1
}

press() {
    mux send-keys -t clock "$@"
}

start() { # start OPTION...
    press "clear; echo \$\$ > '$dir/pid'; '$BACKPOT' live '$dir/shows/orchard-two-segments.json' \
--rehearse --log '$log' $*; echo ended \$?" Enter
}

cp -r "$SRC/shows" "$dir/shows"
log=$dir/day.log
mux -f /dev/null new-session -d -s clock -x 80 -y 24 "LC_ALL=C.UTF-8 PS1='\$ ' sh -i"

# What the plan has: who begins, with what, what comes then, and a moment at which something cooks.
"$BACKPOT" plan "$dir/shows/orchard-two-segments.json" -q -o "$dir/plan"
python3 - "$dir/plan/plan.json" > "$dir/facts" << 'END'
import json, sys
plan = json.load(open(sys.argv[1]))
mine = [o for o in plan['op'] if o['person'] is not None]
first = mine[0]
then = [o for o in mine if o['person'] == first['person']][1]
cooks = sorted({o['person'] for o in mine})
lit = next(o['from'] for o in mine for c in plan['op'] if c['kind'] in ('passive', 'oven') and
           c['from']['t'] + 60 < o['from']['t'] < c['to']['t'] - 60)
print(cooks.index(first['person']) + 1)
print(len(cooks), plan['person'][cooks[-1]]['name'])
print(first['text'][:24])
print(then['text'][:24])
print(lit['local'][11:16])
END
{
    read -r who
    read -r last
    read -r first
    read -r second
    read -r lit
} < "$dir/facts"

start --kitchen --speed 60
check "the first thing to do" wait_for "$first"
check "every cook" wait_for "$last"
screen > "$out/kitchen-1-before.txt"
press "$who"
check "it has begun" wait_events start 1
check "its time runs" wait_for "LEFT"
check "and is over" wait_for "OVER BY"
press "$who"
check "it is done, and the next one begins" wait_events start 2
check "which is late" wait_for "MIN LATE"
screen > "$out/kitchen-2-late.txt"
check "and makes containers late" wait_for "LATE ON SET: "
press u
check "a tick is taken back" wait_events undo 1
press "$who"
check "and given again" wait_events start 3

kill -9 "$(pgrep -P "$(cat "$dir/pid")")"
check "it is gone" wait_for "ended 137"
cp "$log" "$dir/before"
printf '{"at":25299,"ev' >> "$log" # as if it had been killed while it wrote
press "stty sane; clear; echo ready" C-j
check "the shell is back" wait_for "^ready"
start --kitchen --speed 60
check "it goes on with what was in hand" wait_now "$second"
check "nothing of the log is lost" sh -c 'head -n "$(wc -l < "$1")" "$2" | cmp - "$1"' \
    sh "$dir/before" "$log"
screen > "$out/kitchen-3-resumed.txt"

mend() { # mend WORDS: something is wrong at the moment of the last line of the log
    at=$(tail -1 "$log" | sed 's/.*"at":\([0-9]*\).*/\1/')
    "$BACKPOT" mend --log "$log" -o "$dir/plan" -q -- "$dir/shows/orchard-two-segments.json" \
        "$(printf '%02d:%02d' $((at / 3600)) $((at % 3600 / 60))) $1"
}

is_prefix() { # nothing of the log is lost or changed
    head -c "$(wc -c < "$dir/before")" "$log" | cmp - "$dir/before"
}

press q
check "it leaves for now" wait_for "ended 0"
start --kitchen --speed 1
check "and runs on, no faster than a day" wait_now "$second"
cp "$log" "$dir/before"
check "late as it is, the plan is mended" mend behind
check "the mishap is in the log" wait_events mishap 1
check "and only added" is_prefix
check "the clock goes on by the mended plan" wait_for "the plan was mended"
check "with what was in hand" wait_now "$second"
screen > "$out/kitchen-6-mended.txt"
press "$who"
check "which is done" wait_events "done" 2
cp "$log" "$dir/before"
kill -9 "$(pgrep -P "$(cat "$dir/pid")")"
check "it is gone again" wait_for "ended 137"
"$BACKPOT" mend --log "$log" -q "$dir/shows/orchard-two-segments.json" "12:00 Q9 burnt" 2> "$dir/refused"
check "a mishap that cannot have been" grep -q 'no container .Q9' "$dir/refused"
check "leaves the log alone" cmp "$dir/before" "$log"
press "stty sane; clear; echo ready" C-j
check "the shell is back again" wait_for "^ready"
start --kitchen --speed 60
check "started anew it goes on by the mended plan" wait_for "the plan was mended"
screen > "$out/kitchen-7-mended-later.txt"
ticks=$(grep -c '"event":"start"' "$log")
press "$who"
check "and takes ticks" wait_events start $((ticks + 1))
check "on the same log" is_prefix
mux resize-window -t clock -x 60 -y 12
check "a small terminal has it all" wait_for "^[1-9] .*\(LEFT\|OVER BY\|BEGUN\)"
screen > "$out/kitchen-4-small.txt"
mux resize-window -t clock -x 80 -y 24
press q
check "it leaves" wait_for "ended 0"

start --speed 10
check "the floor's clock goes on from the same log" wait_for "ON AIR IN"
check "and by the mended plan" wait_for "the plan was mended"
screen > "$out/kitchen-8-floor.txt"
press q
check "and leaves" wait_for "ended 0"
check "the ticks are still there" wait_events start 3
log=$dir/later.log
start --kitchen --from $lit --speed 1
check "from the middle" wait_for "^COOKS "
check "all before went as planned" wait_for "Next on set"
screen > "$out/kitchen-5-middle.txt"
press q
check "it leaves again" wait_for "ended 0"
check "a time at which nothing begins" sh -c '"$1" live "$2" --kitchen --rehearse --from 03:03 2>&1 |
    grep "nothing begins at \"03:03\""' sh "$BACKPOT" "$dir/shows/orchard-two-segments.json"
check "no appearance in the kitchen" sh -c '"$1" live "$2" --kitchen --rehearse --air main 2>&1 |
    grep "option --air is for the floor"' sh "$BACKPOT" "$dir/shows/orchard-two-segments.json"

total 39
