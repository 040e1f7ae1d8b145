# calendar.sh - each calendar against RFC 5545 and against three parsers that are not libical.
#
# Sources: RFC 5545 (tests/outside/strict.py reads the octets); python3-icalendar, python3-vobject
# and Sabre VObject for PHP, which bring zones of their own; clock changes of the IANA zone data:
# Lisbon 2026-03-29 and 2026-10-25, New York 2026-03-08 and 2026-11-01, Lord Howe by half an hour on
# 2026-04-05, Casablanca around Ramadan, Tokyo never.
set -u
: "${SRC:?}" "${BUILD:?}" "${BACKPOT:?}"
outside=$SRC/tests/outside
. "$SRC/tests/support/script.sh"

# python FILE ARGUMENT...: with Debian's modules, whatever other python stands first on the path.
# What it counts at its end is added.
python() {
    status=0
    /usr/bin/python3 -B "$@" > "$dir/said" 2>&1 || status=$?
    count=$(sed -n 's/^\([0-9]*\) passed, \([0-9]*\) failed$/\1 \2/p' "$dir/said" | tail -n 1)
    if [ -z "$count" ]; then
        count='0 1'
    fi
    [ "$status" -eq 0 ] || sed '$d' "$dir/said"
    passed=$((passed + ${count% *}))
    failed=$((failed + ${count#* }))
}

# ZONE DATE SHIFT: the sample plan begins at 15:00 the day before and ends at 09:16; moved back it
# works through the hours in which clocks change.
while read -r zone date shift; do
    to=$dir/in/$(echo "$zone" | tr / -)-$date
    mkdir -p "$to"
    "$BUILD/samples" "$to" "$zone" "$date" "$shift"
    note $? "$zone $date cannot be written"
done << 'END'
Europe/Lisbon 2026-12-03 0
Europe/Lisbon 2026-03-27 0
Europe/Lisbon 2026-03-29 -18900
Europe/Lisbon 2026-03-30 -18900
Europe/Lisbon 2026-04-01 0
Europe/Lisbon 2026-10-24 0
Europe/Lisbon 2026-10-25 -18900
Europe/Lisbon 2026-10-27 0
America/New_York 2026-07-04 0
America/New_York 2026-03-08 -16200
America/New_York 2026-11-01 -18000
Asia/Tokyo 2026-05-02 0
Australia/Lord_Howe 2026-04-05 -18000
Africa/Casablanca 2026-02-20 0
Africa/Casablanca 2026-03-22 -14400
Asia/Kathmandu 2026-12-31 0
UTC 2026-02-28 0
END

# What is cancelled is read at its old instants, in any zone, and a third run changes no byte.
for zone in Europe/Lisbon America/New_York Asia/Tokyo; do
    to=$dir/in/gone-${zone#*/}
    mkdir "$to"
    "$BUILD/samples" "$to" "$zone" 2026-06-10 0
    cp -R "$to" "$to.before"
    "$BUILD/samples" "$to" "$zone" 2026-06-10 0 gone
    note $? "$zone: a second run"
    cp -R "$to" "$dir/again"
    "$BUILD/samples" "$dir/again" "$zone" 2026-06-10 0 gone && diff -r "$to" "$dir/again"
    note $? "$zone: a third run changes something"
    rm -r "$dir/again"
done

# The shows that are shipped, through the program: a second run changes no byte of any file.
for show in "$SRC"/shows/*.json; do
    to=$dir/in/$(basename "$show" .json)
    for run in first second; do
        "$BACKPOT" plan "$show" -o "$to" --only calendar,json --quiet 2> "$dir/said"
        status=$?
        # 3: it cannot be planned; there is a late plan
        [ "$status" -eq 0 ] || [ "$status" -eq 3 ]
        note $? "$show: $run run: $(cat "$dir/said")"
        [ "$run" = second ] || cp -R "$to" "$dir/first"
    done
    diff -r "$dir/first" "$to"
    note $? "$show: a second run changes something"
    rm -r "$dir/first"
done

python "$outside/compare.py" "$dir"/in/*

# The strict check itself objects to each way in which a calendar can be broken.
python "$outside/strict_broken.py" "$dir/in/Europe-Lisbon-2026-12-03/prep.ics"

total
