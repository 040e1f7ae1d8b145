# tests/scripts/safety-twice.sh - every finding of food safety and every "use by" worked out a second
# time, from plan.json and the show file, by code of another language that shares nothing with the
# program: for shipped shows, shows of the tests, and shows made up to be unsafe.
set -u
: "${BACKPOT:?}" "${SRC:?}"
shows=$((30 / ${SHARE:-1}))
[ "$shows" -ge 8 ] || shows=8 # with fewer, some rules meet nothing
exec /usr/bin/python3 -B "$SRC/tests/outside/safety.py" "$BACKPOT" \
    1 "${SAFETY_SHOWS:-$shows}" \
    "$SRC"/tests/safety/shows/*.json "$SRC/tests/recipes/chili.json" \
    "$SRC/tests/recipes/vegetable-soup.json" "$SRC/tests/recipes/macaroni-salad.json" \
    "$SRC/shows/harbour-breakfast.json" "$SRC/shows/cottage-remote.json" \
    "$SRC/shows/orchard-two-segments.json" "$SRC/shows/festival-two-hits.json"
