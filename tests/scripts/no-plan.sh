# tests/scripts/no-plan.sh - shows that cannot be planned: what is said is so. Each fix that is tried
# here is one that the program gave; applied to the show file it must plan.
set -u
: "${BACKPOT:?}" "${SRC:?}"
exec /usr/bin/python3 -B "$SRC/tests/scripts/no-plan.py" "$BACKPOT" "$SRC/shows/harbour-breakfast.json"
