# tests/scripts/live.sh - the clock on a terminal, from before the hit to off air: a cut in the
# middle, a kill and a resume, a resize, being stopped and continued, a terminal that goes away.
#
# The terminal is tmux's, of a server of its own. The slot is rehearsed ten times as fast, so nothing
# here asks what stands in a figure at a moment: every check waits for what must come. The screens
# stay in BUILD/live for looking at.
set -u
: "${BACKPOT:?}" "${SRC:?}" "${BUILD:?}"
work=$(mktemp -d)
out=$BUILD/live
mkdir -p "$out"
passed=0
failed=0
session=backpot-$$

mux() {
    tmux -L "$session" "$@"
}
trap 'mux kill-server 2> /dev/null; rm -rf "$work"' EXIT
trap 'exit 1' HUP INT TERM

check() { # check WHAT COMMAND...
    what=$1
    shift
    if "$@" > /dev/null 2>&1; then
        passed=$((passed + 1))
    else
        failed=$((failed + 1))
        echo "$what: no"
        mux capture-pane -p -t clock 2> /dev/null
        echo "$passed passed, $failed failed" # what follows builds on it
        exit 1
    fi
}

screen() {
    mux capture-pane -p -t clock
}

# Wait until a pattern stands on the screen; fifteen seconds at most.
wait_for() {
    i=0
    while [ $i -lt 150 ]; do
        screen | grep -q -- "$1" && return 0
        sleep 0.1
        i=$((i + 1))
    done
    return 1
}

keep() { # keep NAME: the screen as it is, for looking at
    screen > "$out/$1.txt"
}

press() {
    mux send-keys -t clock "$@"
}

events() { # events WORD: how many are in the log
    grep -c "\"event\":\"$1\"" "$log"
}

wait_events() { # wait_events WORD N
    i=0
    while [ $i -lt 150 ]; do
        [ "$(events "$1")" -ge "$2" ] && return 0
        sleep 0.1
        i=$((i + 1))
    done
    return 1
}

start() { # start [WORD=VALUE]: with that in its environment
    press "clear; echo \$\$ > '$work/pid'; exec_status=; ${1-} '$BACKPOT' live '$show' --rehearse \
--speed 10 --log '$log'; echo ended \$?" Enter
}

clock_pid() {
    pgrep -P "$(cat "$work/pid")"
}

cp -r "$SRC/shows" "$work/shows"
show=$work/shows/harbour-breakfast.json
log=$work/day.log
mux -f /dev/null new-session -d -s clock -x 80 -y 24 \
    "LC_ALL=C.UTF-8 PS1='\$ ' env --default-signal=TSTP,TTIN,TTOU sh -i"

# ---- to the hit
start
check "it counts down" wait_for "ON AIR IN"
keep 1-before
check "the log has a head" grep -q '^{"backpot":"log","format":1,"show":"harbour-breakfast",' "$log"
press l
check "it asks how late the hit is" wait_for "How late is the hit"
press 0:50 Enter
check "the late start is in the log" wait_events late 1
check "and says 50 s" grep -q '"event":"late","air":"main","seconds":50' "$log"
check "the planned hit comes" wait_for " 08:24:[0-4]"
check "and the late one is still counted down to" wait_for "^ON AIR IN"
keep 1-late
press Space
check "it is on air" wait_for "BEAT LEFT"
check "the first beat" wait_for "^NOW 1 Hosts welcome"
keep 2-on-air
press Space
check "the second beat" wait_for "^NOW 2 Vegetables"
check "its words" wait_for "Low heat, lid off"
check "its container" wait_for "IN   [A-Z][0-9] Red lentil soup"

# ---- a cut in the middle
press c
check "it asks how much" wait_for "Cut by how much"
press 1:00 Enter
check "the cut is in the log" wait_events cut 1
check "and says 60 s" grep -q '"event":"cut","air":"main","seconds":60' "$log"
check "over what was planned" wait_for "OVER"
keep 3-after-the-cut
press Space
check "the third beat" wait_for "^NOW 3 Lentils"

# ---- a kill and a resume
kill -9 "$(clock_pid)"
check "it is gone" wait_for "ended 137"
before=$(cat "$log")
printf '{"at":30299,"ev' >> "$log" # as if it had been killed while it wrote
press "stty sane; clear; echo ready" C-j # it had no chance to put the terminal right
check "the shell is back" wait_for "^ready"
start
check "it goes on with the third beat" wait_for "^NOW 3 Lentils"
check "nothing of the log is lost, and the torn line is gone" \
    sh -c 'head -n "$(printf "%s\n" "$1" | wc -l)" "$2" | cmp -s - "$3"' sh "$before" "$log" - << END
$before
END
check "it was opened twice" [ "$(events open)" -eq 2 ]
keep 4-resumed

# ---- stopped and continued, larger and smaller
press C-z
check "it can be stopped" wait_for "Stopped"
press "clear; fg; echo ended \$?" Enter
check "and goes on" wait_for "^NOW 3 Lentils"
mux resize-window -t clock -x 160 -y 48
check "larger figures" wait_for "████  ████"
keep 5-large
mux resize-window -t clock -x 60 -y 14
check "a small terminal has it all" wait_for "BEAT LEFT.*SLOT LEFT"
keep 6-small
mux resize-window -t clock -x 80 -y 24

# ---- hold, drop, back, to the end
press h
check "it holds" wait_for "HELD for"
keep 7-held
printf '{"at":%s,"event":"mishap","text":"08:21 behind"}\n' \
    "$(tail -1 "$log" | sed 's/.*"at":\([0-9]*\).*/\1/')" >> "$log"
check "a mishap is told, and not planned on air" \
    wait_for "08:21 behind: ask the kitchen; its plan shows once off air"
check "and hides nothing" wait_for "HELD for"
press d
check "the next beat is dropped" wait_for "Blend the cooked pot .*dropped"
keep 8-dropped
press d
check "and kept" wait_events keep 1
press h
check "it goes on" wait_events go-on 1
beats=$(events beat)
press Space
check "next" wait_events beat $((beats + 1))
press b
check "back" wait_events back 1
check "the third beat again" wait_for "^NOW 3 Lentils"
i=0
while [ "$(events off-air)" -eq 0 ] && [ $i -lt 12 ]; do
    n=$(wc -l < "$log")
    press Space
    while [ "$(wc -l < "$log")" -eq "$n" ] && [ "$(events off-air)" -eq 0 ]; do sleep 0.1; done
    i=$((i + 1))
done
check "off air" wait_for "OFF AIR AFTER"
check "then it is tried" wait_for "the plan was mended\|THE PLAN IS NOT MENDED"
keep 9-off-air
press q
check "it leaves" wait_for "ended 0"

# ---- a terminal that goes away
# The leak checker stops all threads as the program ends, and a signal from the terminal that comes just then
# may leave both waiting for each other. Leaks are looked for in every other run.
start "ASAN_OPTIONS=${ASAN_OPTIONS:+$ASAN_OPTIONS:}detect_leaks=0"
check "it comes back off air" wait_for "OFF AIR AFTER"
pid=$(clock_pid)
lines=$(wc -l < "$log")
mux kill-session -t clock
i=0
while kill -0 "$pid" 2> /dev/null && [ $i -lt 600 ]; do
    sleep 0.1
    i=$((i + 1))
done
check "it ends with its terminal" sh -c '! kill -0 "$1"' sh "$pid"
check "the log is whole" [ "$(wc -l < "$log")" -eq "$lines" ]
check "and every line an object" python3 -c '
import json, sys
lines = open(sys.argv[1]).read().split("\n")
assert lines.pop() == ""
at = [json.loads(line).get("at", -10**9) for line in lines]
assert at == sorted(at)' "$log"

# ---- without a terminal, on another day, and with options that do not go together
fails() { # fails STATUS TEXT COMMAND...
    status=$1 text=$2
    shift 2
    said=$("$@" 2>&1 < /dev/null)
    [ $? -eq "$status" ] && echo "$said" | grep -q -- "$text"
}
check "it needs a terminal" fails 1 "needs a terminal" "$BACKPOT" live "$show" --rehearse
check "the day must be near" fails 2 "the show is on 2026-12-03" env \
    "$BACKPOT" live "$SRC/tests/scripts/../../shows/harbour-breakfast.json" --log "$work/no.log"
check "and nothing is made" [ ! -e "$work/no.log" ]
check "speed is for a rehearsal" fails 4 "option --speed is for a rehearsal" \
    "$BACKPOT" live "$show" --speed 3
check "an unknown beat" fails 2 'main has no beat "none"' \
    "$BACKPOT" live "$show" --rehearse --from none
check "the log of another show" fails 2 'log of the show "harbour-breakfast"' \
    "$BACKPOT" live "$work/shows/cottage-remote.json" --rehearse --log "$log"

echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
