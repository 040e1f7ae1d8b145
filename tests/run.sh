# tests/run.sh UNIT... - run each suite of the unit tests named, and each tests/scripts/*.sh; close with
# a count.
#
# The environment gives the scripts BACKPOT (the program), SRC (this tree), BUILD (its build),
# REPLAY (the fuzz entries) and SAN (its sanitizers); with SCRIPTS=none there are none. A script fails
# by its exit status. Its checks are counted when it says "N passed, N failed" at its end; otherwise
# it counts as one.
#
# SHARE=4, for slow builds: tests try one in four of what they make up, and it is said at the end.
#
# As many run at once as there are processors (or JOBS); none shares a file with another. A line tells
# of each when it ends, with its seconds, those of the clock and those of the processors, and what it said
# where it failed.
set -u
: "${BACKPOT:?}" "${SRC:?}"

# one FOLDER NUMBER: line NUMBER of FOLDER/jobs is "NAME<tab>COMMAND".
one() {
    name=$(sed -n "$2s/	.*//p" "$1/jobs")
    command=$(sed -n "$2s/^[^	]*	//p" "$1/jobs")
    status=0
    from=$(date +%s)
    sh -c "$command" > "$1/$2.log" 2>&1 < /dev/null || status=$?
    seconds=$(($(date +%s) - from))
    times > "$1/$2.times" # the second line: what has ended
    cpu=$(awk 'NR == 2 { split($0, n, /[ms ]+/); print int(60 * (n[1] + n[3]) + n[2] + n[4]) }' "$1/$2.times")
    count=$(sed -n -e 's/^\([0-9][0-9]*\) passed, \([0-9][0-9]*\) failed$/\1 \2/p' \
        -e 's/^[0-9]*%: Checks: \([0-9]*\), Failures: \([0-9]*\), Errors: \([0-9]*\)$/\1 \2 \3/p' \
        "$1/$2.log" | tail -n 1)
    # shellcheck disable=SC2086 # two or three numbers
    set -- "$1" "$2" $count
    case $# in
    5) good=$(($3 - $4 - $5)) bad=$(($4 + $5)) ;; # Check counts the failed ones among all
    4) good=$3 bad=$4 ;;
    *) good=1 bad=0
       [ "$status" -eq 0 ] || good=0 ;;
    esac
    if [ "$status" -ne 0 ]; then
        [ "$bad" -gt 0 ] || bad=1
    fi
    echo "$good $bad" > "$1/$2.count"
    # In one write, for others write too.
    echo "$([ "$bad" -eq 0 ] || sed "s|^|$name: |" "$1/$2.log")
$name: $good passed, $bad failed ($seconds s, of processors $cpu s)" | sed '1{/^$/d;}'
}
if [ "${1:-}" = --one ]; then
    one "$2" "$3"
    exit 0
fi

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
trap 'exit 1' HUP INT TERM
tab=$(printf '\t')
{
    for script in "$SRC"/tests/scripts/*.sh; do
        [ -f "$script" ] && [ "${SCRIPTS:-}" != none ] || continue
        echo "${script#"$SRC"/}${tab}sh '$script'"
    done
    for unit in "$@"; do
        suites=$("$unit" --list)
        [ -n "$suites" ] || suites=none-was-listed
        for suite in $suites; do
            echo "$unit $suite$tab'$unit' $suite"
        done
    done
} > "$work/jobs"
jobs=$(wc -l < "$work/jobs")
seq "$jobs" | xargs -P "${JOBS:-$(nproc 2> /dev/null || echo 2)}" -n 1 sh "$0" --one "$work"
cat "$work"/*.count > "$work/counts"
passed=$(awk '{ n += $1 } END { print n + 0 }' "$work/counts")
failed=$(awk '{ n += $2 } END { print n + 0 }' "$work/counts")
ended=$(wc -l < "$work/counts")
if [ "$ended" -ne "$jobs" ]; then
    echo "$((jobs - ended)) did not end"
    failed=$((failed + jobs - ended))
fi
[ "${SHARE:-1}" = 1 ] || echo "of what tests make up, one in $SHARE was tried (SHARE=1 tries all)"
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ] && [ "$passed" -gt 0 ]
