# tests/scripts/cautions.sh - the caution of each hazard stands beside the step, in the kitchen and on air.
set -u
: "${BACKPOT:?}" "${SRC:?}"
exec /usr/bin/python3 -B "$SRC/tests/outside/cautions.py" "$BACKPOT" "$SRC/shows/harbour-breakfast.json" \
    "$SRC/shows/orchard-two-segments.json" "$SRC/shows/cottage-remote.json" \
    "$SRC/shows/festival-two-hits.json"
