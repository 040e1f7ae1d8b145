# tests/run.sh UNIT... - run the unit tests named, then each tests/scripts/*.sh; close with a count.
#
# The environment gives the scripts BACKPOT (the program), SRC (this tree), BUILD (its build),
# REPLAY (the fuzz entries) and SAN (its sanitizers). A script fails by its exit status. Its
# checks are counted when it says "N passed, N failed" at its end; otherwise it counts as one.
set -u
: "${BACKPOT:?}" "${SRC:?}"

tests=${SRC}/tests
log=$(mktemp)
trap 'rm -f "$log"' EXIT
trap 'exit 1' HUP INT TERM
passed=0
failed=0

# run NAME COMMAND...: its output is shown where it failed.
run() {
    name=$1
    shift
    status=0
    "$@" > "$log" 2>&1 < /dev/null || status=$?
    count=$(sed -n -e 's/^\([0-9][0-9]*\) passed, \([0-9][0-9]*\) failed$/\1 \2/p' \
        -e 's/^[0-9]*%: Checks: \([0-9]*\), Failures: \([0-9]*\), Errors: \([0-9]*\)$/\1 \2 \3/p' \
        "$log" | tail -n 1)
    # shellcheck disable=SC2086 # two or three numbers
    set -- $count
    case $# in
    3) good=$(($1 - $2 - $3)) bad=$(($2 + $3)) ;; # Check counts the failed ones among all
    2) good=$1 bad=$2 ;;
    *) good=1 bad=0
       [ "$status" -eq 0 ] || good=0 ;;
    esac
    if [ "$status" -ne 0 ]; then
        [ "$bad" -gt 0 ] || bad=1
    fi
    if [ "$bad" -gt 0 ]; then
        sed "s|^|$name: |" "$log"
    fi
    echo "$name: $good passed, $bad failed"
    passed=$((passed + good))
    failed=$((failed + bad))
}

for unit in "$@"; do
    run "$unit" "$unit"
done
for script in "$tests"/scripts/*.sh; do
    [ -f "$script" ] || continue
    run "${script#"$SRC"/}" sh "$script"
done
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ] && [ "$passed" -gt 0 ]
