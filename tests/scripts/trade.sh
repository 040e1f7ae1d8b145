# tests/scripts/trade.sh - facts of the trade, asked of the program as a user would: which swap-outs a
# slot needs, and what one oven can do. Every fact: common practice, no source.
set -u
: "${BACKPOT:?}" "${SRC:?}"
. "$SRC/tests/support/script.sh"
cd "$dir" || exit 1

# show CALL OVENS STEPS BEATS > FILE: one dish in a slot of 4:25 at 08:24.
show() {
    cat << END
{"backpot": 1, "id": "t", "title": "T", "date": "2026-12-03", "zone": "UTC",
 "kitchen": {"burners": 4, "ovens": [$2], "cooks": [{"id": "kim", "call": "$1", "wrap": "09:00"},
                                                    {"id": "lee", "call": "$1", "wrap": "09:00"}]},
 "recipes": [$3],
 "segments": [{"id": "s", "title": "S", "hit": "08:24", "slot": "4:25", $4}]}
END
}

recipe() { # recipe ID STEPS
    printf '{"id": "%s", "title": "%s", "steps": [%s]}' "$1" "$1" "$2"
}

one_dish() { # one_dish STEPS BEATS > FILE
    show 06:00 "" "$(recipe pan "$1")" '"dishes": [{"id": "pan", "recipe": "pan"}], "beats": [
  {"id": "hi", "text": "Hello", "time": "10 s - 1 min"}, '"$2"',
  {"id": "bye", "text": "Close", "dish": "pan", "shows": "finished", "time": "10 s - 3 min"}]'
}

plan() { # plan STATUS NAME FILE
    name=$2
    status=0
    rm -rf o
    "$BACKPOT" plan "$3" -o o > out 2> err || status=$?
    [ "$status" -eq "$1" ]
    note $? "$name: exit status $status, not $1" || sed 's/^/  /' out err
}

holds() { # holds WHAT CONDITION: of the plan, in Python; p is it, bakes the loads in ovens
    /usr/bin/python3 -B - "$2" << 'END'
import json, sys
p = json.load(open("o/plan.json"))
bakes = [o for o in p["op"] if o["kind"] == "oven"]
mid = [c for c in p["container"] if c["stage"] == "mid-cook"]
overlaps = [(a, b) for a in bakes for b in bakes if a is not b
            and a["from"]["t"] < b["to"]["t"] and b["from"]["t"] < a["to"]["t"]]
sys.exit(0 if eval(sys.argv[1]) else 1)
END
    note $? "$name: $1" || sed 's/^/  /' out err
}

simmer='{"id": "sweat", "text": "Sweat", "kind": "active", "time": "1 min"},
 {"id": "simmer", "text": "Potatoes in", "kind": "passive", "time": "15 min", "burner": true}'
mash='{"id": "mash", "text": "Mash", "kind": "active", "time": "40 s"}'
on='{"id": "on", "text": "Sweat, and potatoes in", "dish": "pan",
 "does": ["sweat", "simmer"], "time": "1-2 min"}'
off='{"id": "off", "text": "Mash", "dish": "pan", "does": ["mash"], "time": "40 s - 2 min"}'

# Bite-size potatoes simmer about 15 min; the slot gives them less than one beat of it.
one_dish "$simmer, $mash" "$on, $off" > simmer.json
plan 0 "a simmer of 15 min in a slot of 4:25" simmer.json
holds "needs one pot caught mid-cook" 'len(mid) == 1'
holds "says why" 'mid[0]["why"].startswith("the simmer takes 15 min, beat 2 gives it ")'

# Whole spices infuse 15 min, then something is added and it stands 5 min more.
steep='{"id": "steep", "text": "Leaves in", "kind": "passive", "time": "5 min"}'
add='{"id": "add", "text": "Leaves in", "dish": "pan", "does": ["steep"], "time": "20-40 s"}'
one_dish "$simmer, $steep, $mash" "$on, $add, $off" > two.json
plan 0 "15 min, something added, 5 min more" two.json
holds "needs two pots caught mid-cook" 'len(mid) == 2'

# A spirit is cooked off in 1 to 2 min: on air, with no pot caught mid-cook.
flame='{"id": "flame", "text": "Cook off the spirit", "kind": "passive", "time": "1-2 min",
 "burner": true}'
burn='{"id": "flame", "text": "Cook it off", "dish": "pan", "does": ["flame"], "time": "1-2 min"}'
one_dish "$flame, $mash" "$burn, $off" > short.json
plan 0 "a step of 1 to 2 min" short.json
holds "is done on air" 'len(mid) == 0'

# Squash roasts 25 min at 400 F, a yogurt dough bakes 25 min at 350 F. Each keeps 45 min.
bake() { # bake ID TEMPERATURE
    recipe "$1" '{"id": "bake", "text": "Bake", "kind": "oven", "time": "25 min",
 "oven": {"temperature": "'"$2"'"}, "hold": {"counter": "45 min", "set": "45 min"}}'
}

bakes() { # bakes CALL POSITIONS FIRST SECOND > FILE
    show "$1" '{"id": "deck", "positions": '"$2"', "heats": "20 C/min", "cools": "10 C/min"}' \
        "$(bake a "$3"), $(bake b "$4")" '"dishes": [{"id": "a", "recipe": "a"}, {"id": "b",
    "recipe": "b"}],
  "beats": [{"id": "a", "text": "A", "dish": "a", "shows": "finished", "time": "1-3 min"},
            {"id": "b", "text": "B", "dish": "b", "shows": "finished", "time": "1-3 min"}]'
}
bakes 06:00 4 "400 F" "350 F" > apart.json
plan 0 "two bakes at 400 F and 350 F in one oven" apart.json
holds "both are there" 'len(bakes) == 2'
holds "never overlap" 'not overlaps'
holds "somebody is told to change the oven" \
    'any("; then set the deck to " in o["text"] for o in p["op"] if o["kind"] == "take off")'
bakes 07:25 4 "350 F" "350 F" > same.json
plan 0 "two bakes at 350 F in the time of one" same.json
holds "overlap" 'overlaps'
holds "nobody is told to change the oven" 'not any("then set" in o["text"] for o in p["op"])'
bakes 07:25 4 "400 F" "350 F" > tight.json
plan 3 "two bakes at 400 F and 350 F in the time of one" tight.json
holds "do not overlap in the late plan either" 'len(bakes) == 2 and not overlaps'

# A dough proves overnight in the cold, 8 to 12 h, kneaded the evening before; and the clock is put
# forward that night. An oven switched on in the evening once cost a crew time that was not told.
cat > night.json << 'END'
{
 "backpot": 1, "id": "buns", "title": "Early Buns", "date": "2026-03-29", "zone": "Europe/Lisbon",
 "kitchen": {"cooks": [{"id": "kim", "name": "Kim", "shifts": [{"call": "-1d 17:00",
    "wrap": "-1d 21:00"}, {"call": "00:00", "wrap": "07:30"}]},
   {"id":"zoe","name":"Zoë \"Z\" Neil","call":"00:30","wrap":"07:30","breaks":[{"from":"03:30",
    "to":"04:00"}]}],
  "ovens": [{"id":"deck","positions":1,"heats":"10 C/min"}], "burners":1,
  "places":[{"id":"fridge","keeps":"cold","count":8},{"id":"rack","keeps":"counter","count":6}],
  "tools":[{"id":"mixer"}], "vessels":[{"id":"tin","name":"bun tin","count":3}]},
 "recipes": [{"id":"bun","title":"Plum buns","serves":8,"steps":[
   {"id":"knead","text":"Knead the dough","kind":"active","time":"12 min","after":[],
    "tools":["mixer"],"ingredients":[{"item":"strong flour","amount":"500 g","pack":"1 kg",
    "allergens":["wheat"]},{"item":"yeast","amount":"1 1/2 tsp"},{"item":"butter","amount":"2 oz",
    "allergens":["milk"]}],"together":{"once":"8 min","each":"4 min"}, "hold":{"counter":"10 min",
    "cold":"30 min"}},
   {"id":"rise","text":"Prove overnight","kind":"passive","time":"8 h - 12 h","keep":"cold",
    "hold":{"cold":"2 h","counter":"20 min"}},
   {"id":"shape","text":"Shape around plums","kind":"active","time":"6 min","vessels":["tin"],
    "ingredients":[{"item":"plums","amount":"8"}],"hold":{"counter":"20 min","cold":"1 h"}},
   {"id":"bake","text":"Bake","kind":"oven","time":"18-20 min","oven":{"temperature":"190 C"},
    "vessels":["tin"],"hold":{"counter":"1 h"}},
   {"id":"glaze","text":"Brush with glaze","kind":"active","time":"2 min",
    "hold":{"counter":"40 min"}}]}],
 "segments":[{"id":"a","title":"Buns at dawn","hit":["06:10","07:05"],"slot":"3:00","hosts":["Uma"],
   "dishes":[{"id":"buns","recipe":"bun"}],
   "beats":[{"id":"dough","text":"The proved dough","dish":"buns","shows":{"after":"rise"},
    "time":"30-60 s"},
    {"id":"shape","text":"Shape one","dish":"buns","does":["shape"],"time":"40-60 s"},
    {"id":"glaze","text":"Glaze","dish":"buns","does":["glaze"],"time":"30-60 s"},
    {"id":"eat","text":"Eat","dish":"buns","shows":"finished","taste":true,"time":"20-40 s"}]}]
}
END
plan 0 "a dough kneaded the evening before" night.json
holds "proves 8 to 12 h" 'all(8 * 3600 <= o["to"]["t"] - o["from"]["t"] <= 12 * 3600
    for o in p["op"] if o["kind"] == "passive" and o["text"] == "Prove overnight")'
holds "is kneaded in the evening shift" 'all(o["to"]["t"] <= -3 * 3600 and o["from"]["t"] >= -7 * 3600
    for o in p["op"] if o["text"] == "Knead the dough")'

total
