# tests/scripts/cli.sh - the program as a user meets it: exit statuses, messages, and that nothing
# is lost or half-written when something is wrong.
set -u
: "${BACKPOT:?}" "${SRC:?}"
. "$SRC/tests/support/script.sh"
cd "$dir" || exit 1
show=$SRC/shows/harbour-breakfast.json

told() { # told STATUS WHAT: counts; what the command said is shown where it is not 0
    note "$@" || {
        sed 's/^/  out: /' out
        sed 's/^/  err: /' err
    }
}

# run STATUS NAME COMMAND...: the command ends with that status; its output is in out and err.
run() {
    want=$1
    name=$2
    shift 2
    status=0
    "$@" > out 2> err < /dev/null || status=$?
    [ "$status" -eq "$want" ]
    told $? "$name: exit status $status, not $want"
}

# says FILE TEXT: the last command said so there.
says() {
    grep -qF -- "$2" "$1"
    told $? "$name: no \"$2\" in $1"
}

silent() {
    [ ! -s "$1" ]
    told $? "$name: $1 is not empty"
}

holds() { # holds NAME COMMAND...: a condition
    name=$1
    shift
    "$@"
    told $? "$name"
}

# ---- the command line
run 4 "no command" "$BACKPOT"
silent out
says err "Commands:"
run 4 "an unknown command" "$BACKPOT" plna
says err 'backpot: "plna" is not a command; write plan'
run 4 "an unknown option" "$BACKPOT" plan --ouptut x "$show"
says err "option --ouptut is not known; write --output"
run 4 "no show" "$BACKPOT" plan
says err "SHOW is missing"
run 4 "two shows" "$BACKPOT" plan "$show" "$show"
run 4 "an unknown output" "$BACKPOT" plan "$show" -o d --only labels,lables
says err 'no file is called "lables"; write labels'
run 4 "an unknown paper" "$BACKPOT" plan "$show" -o d --paper a5
run 4 "no time to search" "$BACKPOT" plan "$show" -o d --seconds 0
run 4 "nothing left to write" "$BACKPOT" plan "$show" -o d --only labels --without labels
holds "none of these made a folder" [ ! -e d ]
run 0 "help" "$BACKPOT" help
says out "Exit status:"
run 0 "help by option" "$BACKPOT" --help
run 0 "help for a command" "$BACKPOT" help plan
says out "--without NAMES"
cp out help
run 0 "help for a command by option" "$BACKPOT" plan --help
holds "both are the same" cmp -s out help
for c in help schema; do
    run 0 "help for $c, which has no options" "$BACKPOT" help "$c"
    says out "Use: backpot $c"
done
run 0 "help by a letter" "$BACKPOT" -h
says out "Exit status:"
run 0 "the version by a letter" "$BACKPOT" -V
run 4 "an output like no other" "$BACKPOT" plan "$show" -o d --only qqqqqqqq
says err "write one that backpot help plan lists"
run 4 "help for what there is not" "$BACKPOT" help paln
run 0 "version" "$BACKPOT" --version
says out "backpot "

# ---- papers by any spelling, and more mistakes than are told
small=$SRC/tests/plan/terrine.json
for paper in a4 A4 letter Letter; do
    run 0 "--paper $paper" "$BACKPOT" plan "$small" -q -o sized --only cue-sheet --paper "$paper"
    holds "$paper is drawn" [ -s sized/cue-sheet.pdf ]
    case $paper in
    a4) cp sized/cue-sheet.pdf lower.pdf ;;
    A4) holds "A4 is a4" cmp -s sized/cue-sheet.pdf lower.pdf ;;
    esac
done
{
    i=0
    echo '{'
    while [ $i -lt 70 ]; do
        echo "\"what-$i\": $i,"
        i=$((i + 1))
    done
    sed 1d "$small"
} > many.json
run 2 "seventy mistakes" "$BACKPOT" check many.json
holds "64 are told" [ "$(grep -c 'many.json:' err)" -eq 64 ]
says err "and 6 more"

# ---- files that cannot be read
run 1 "a show that is not there" "$BACKPOT" plan none.json -o d
says err "none.json: "
run 1 "a folder as a show" "$BACKPOT" check .
run 2 "an empty file" "$BACKPOT" check /dev/null
: > empty.json
run 2 "not JSON" "$BACKPOT" plan empty.json -o d
says err "empty.json:1:1: "
silent out
printf '{"backpot": 1, "tilte": "x"}' > near.json
run 2 "an unknown member" "$BACKPOT" plan near.json -o d
says err 'near.json:1:16: '
says err 'title'
holds "nothing was written for these" [ ! -e d ]
run 1 "the first failure counts" "$BACKPOT" check "$show" none.json near.json
says out "no mistakes"
says err "near.json:1:16: "
run 0 "quiet check" "$BACKPOT" check -q "$show"
silent out
silent err

# ---- no control character reaches the terminal
printf '{"backpot": 1, "\033[31mred\007": 1}' > control.json
run 2 "control characters in a show" "$BACKPOT" check control.json
printf '{"backpot": 1, "\\u001b[31mred\\u202e\\u009b": 1}' > escaped.json
run 2 "escaped ones" "$BACKPOT" check escaped.json
holds "none is passed on" sh -c '! LC_ALL=C grep -q "$(printf "[\001-\010\013-\037\177]")" err'
holds "nor the two-byte ones" sh -c '! LC_ALL=C grep -q "$(printf "\302\233")" err'
holds "nor a turn of direction" sh -c '! LC_ALL=C grep -q "$(printf "\342\200\256")" err'
odd=$(printf 'a\033[31m\nb.json')
run 1 "control characters in a name" "$BACKPOT" check "$odd"
holds "the name is made plain" sh -c '! LC_ALL=C grep -q "$(printf "\033")" err'
cp "$show" "$odd"
run 0 "and in a summary line" "$BACKPOT" check "$odd"
holds "the line is plain" sh -c '! LC_ALL=C grep -q "$(printf "\033")" out'

# ---- a plan
run 0 "a plan without files" "$BACKPOT" plan "$show"
says out "Harbour Breakfast"
holds "wrote nothing" [ ! -e d ]
run 0 "a plan" "$BACKPOT" plan "$show" -o d
cp out summary
for file in cue-sheet.pdf prep-sheet.pdf timeline.pdf timeline.svg labels.pdf tray-map.pdf tray-map.txt \
    strike-list.pdf strike-list.txt pack-list.pdf pack-list.txt pack-list.csv \
    pull-list.pdf pull-list.txt chance.pdf pull-list.csv prep.ics plan.json; do
    holds "$file is written" [ -s "d/$file" ]
done
holds "a calendar for a cook who has work" [ -s d/prep-rui.ics ]
holds "no temporary file is left" sh -c 'set -- d/.* d/*.tmp* d/*~; for f; do case $f in
    d/. | d/.. | "d/.*" | "d/*.tmp*" | "d/*~") ;; *) exit 1 ;; esac; done'
cp -r d first
run 0 "the same again" "$BACKPOT" plan "$show" -o d
holds "changes no byte" diff -r first d
holds "nor the summary" cmp -s out summary
run 0 "in another zone and tongue" env TZ=Asia/Tokyo LC_ALL=C.UTF-8 LANG=pt_PT "$BACKPOT" \
    plan "$show" -o elsewhere
holds "the same files" diff -r first elsewhere
run 0 "quiet" "$BACKPOT" plan "$show" -o d -q
silent out
run 0 "some files" "$BACKPOT" plan "$show" --only=pull-list,json -o some
holds "are those" [ "$(ls some | tr '\n' ' ')" = "plan.json pull-list.txt " ]
run 0 "without some" "$BACKPOT" plan "$show" --without calendar,cue-sheet -o rest
holds "leaves those out" [ ! -e rest/prep.ics ]
holds "and no other" [ -e rest/labels.pdf ]
run 0 "another paper" "$BACKPOT" plan "$show" --paper letter --only cue-sheet -o letter
holds "is that paper" sh -c 'pdfinfo letter/cue-sheet.pdf | grep -q "612 x 792\|792 x 612"'

# ---- a show that cannot be planned
run 3 "no plan" "$BACKPOT" plan "$SRC/shows/one-burner-too-few.json" -o late
holds "the least-late plan is written" [ -s late/prep-sheet.pdf ]
holds "and says that it is late" grep -q '"late"' late/plan.json
run 3 "no plan, quietly" "$BACKPOT" plan "$SRC/shows/one-burner-too-few.json" -q
silent out
says err "one-burner-too-few.json"

# ---- files that cannot be written
run 1 "a file in the way of the folder" "$BACKPOT" plan "$show" -o near.json
run 1 "output to a full disk" sh -c '"$1" help > /dev/full' sh "$BACKPOT"
says err "standard output"
run 1 "a summary to a full disk" sh -c '"$1" plan "$2" -o d > /dev/full' sh "$BACKPOT" "$show"
holds "but the files are whole" diff -r first d
run 1 "a closed output" sh -c '"$1" schema >&-' sh "$BACKPOT"
run 1 "a reader that went away" sh -c '{ sleep 0.2; "$1" schema; echo $? > status; } | true
    exit "$(cat status)"' sh "$BACKPOT"
silent err
run 0 "all three closed" sh -c '"$1" plan "$2" -o d -q <&- >&- 2>&-' sh "$BACKPOT" "$show"
holds "no message in a sheet" diff -r first d
mkdir taken
mkdir taken/plan.json
run 1 "a folder where a file should be" "$BACKPOT" plan "$show" -o taken
holds "leaves nothing else" [ "$(ls -A taken)" = plan.json ]
if [ "$(id -u)" -ne 0 ]; then # root may write everywhere
    mkdir shut
    chmod a-w shut
    run 1 "a folder shut to us" "$BACKPOT" plan "$show" -o shut
    holds "is empty still" [ -z "$(ls -A shut)" ]
fi

# ---- new
run 0 "a new show" "$BACKPOT" new new.json
says out "backpot plan new.json"
run 0 "has no mistakes" "$BACKPOT" check new.json
run 0 "and plans" "$BACKPOT" plan new.json -o new
# ---- stopped on the way: whatever the moment, no temporary file and no half file
run 0 "all of a small show" "$BACKPOT" plan new.json -o whole
began=$(date +%s%N)
run 0 "all of it, timed" "$BACKPOT" plan new.json -o timed
took=$((($(date +%s%N) - began) / 1000000))
i=1
while [ $i -le 20 ]; do # most of them in the second half, when files are written
    "$BACKPOT" plan new.json -o stopped > /dev/null 2>&1 &
    process=$!
    sleep "$(printf '%d.%03d' $((took * (i + 8) / 28000)) $((took * (i + 8) / 28 % 1000)))"
    kill -TERM $process 2> /dev/null
    wait $process 2> /dev/null
    i=$((i + 1))
done
mkdir -p stopped
for file in stopped/* stopped/.[!.]*; do
    [ -e "$file" ] || continue
    holds "$file, after being stopped, is whole" cmp -s "$file" "whole/${file#stopped/}"
done
if [ -e stopped/plan.json ]; then
    holds "one file, all files" diff -r whole stopped
fi

cp new.json kept.json
run 1 "a show that is there" "$BACKPOT" new new.json --title Other
says err "--force"
holds "is kept" cmp -s new.json kept.json
run 0 "but for --force" "$BACKPOT" new new.json --title "Other Morning" -f
holds "which replaces it" grep -q "Other Morning" new.json
run 0 "with every answer" "$BACKPOT" new all.json --title "A \"quoted\" ½ title" \
    --date 2027-10-31 --zone Europe/Lisbon --hit 07:10 --slot 3:30 --cooks 3 --burners 4 --ovens 2
run 0 "which plans" "$BACKPOT" plan all.json -q
run 4 "no such date" "$BACKPOT" new bad.json --date 2027-02-30
says err "2027-02-30"
run 4 "a title that is not UTF-8" "$BACKPOT" new bad.json --title "$(printf 'Caf\303')"
says err "it is not UTF-8"
run 4 "no such zone" "$BACKPOT" new bad.json --zone Mars/Base
run 4 "no number" "$BACKPOT" new bad.json --cooks many
holds "none of these wrote" [ ! -e bad.json ]
run 1 "no such folder" "$BACKPOT" new nowhere/new.json
ln -s missing.json dangling.json
run 1 "a link that leads nowhere" "$BACKPOT" new dangling.json
holds "is not followed" [ ! -e missing.json ]
if command -v script > /dev/null; then # a terminal to ask on
    printf 'Asked\n2027-02-30\n2027-02-28\n\n\n\n1\n\n\n' |
        script -q -c "$BACKPOT new asked.json" /dev/null > out 2>&1
    says out "2027-02-30"
    holds "what was answered is in the show" grep -q '"Asked"' asked.json
    holds "so is the second answer" grep -q '"2027-02-28"' asked.json
    run 0 "an asked show plans" "$BACKPOT" plan asked.json -q
    printf 'Odd\0\nEven\n\n\n\n\n\n\n\n' | # a NUL swallows nothing of what comes after it
        script -q -c "$BACKPOT new nul.json" /dev/null > out 2>&1
    says out "the answer is no text"
    holds "the answer after it is taken" grep -q '"Even"' nul.json
    printf 'Half\n' | script -q -c "$BACKPOT new half.json" /dev/null > out 2>&1
    holds "answers that end write nothing" [ ! -e half.json ]
fi
# ---- recipes in files of their own
mkdir -p own/recipes
step='{"id": "a", "text": "A", "kind": "active", "time": "1 min"}'
printf '{"id": "lentils", "title": "L", "steps": [%s]}' "$step" > outside.json
ln -s ../../outside.json own/recipes/link.json
mkfifo own/recipes/pipe.json
for file in link pipe none; do
    sed 's|"recipes": \[|&"recipes/'$file'.json",|; s|"id": "lentils"|"id": "lentils-2"|' \
        "$show" > own/$file.json
done
run 2 "a recipe by a link that leads out of the folder" "$BACKPOT" check own/link.json
says err 'recipe file "recipes/link.json": a link leads out of the folder of the show; write the path'
run 2 "a recipe from a pipe that nobody writes to" timeout 60 "$BACKPOT" check own/pipe.json
says err 'it is no regular file'
run 1 "a recipe that is missing" "$BACKPOT" check own/none.json
holds "is the only mistake: which dishes are made by it is not known" [ "$(wc -l < err)" -eq 1 ]
run 0 "a folder inside one that is not there yet" "$BACKPOT" plan "$show" -o deep/er/still -q --only json
holds "both are made" [ -f deep/er/still/plan.json ]

holds "no temporary file is left here" sh -c 'for f in .[!.]*; do [ ! -e "$f" ] || exit 1; done'

total
