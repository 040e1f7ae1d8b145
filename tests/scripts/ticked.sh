# tests/scripts/ticked.sh - late days of shows that can be planned, all shipped ones, played from seeds and
# logged; the plans mended by the log, twice a day, held to what was played.
set -u
: "${BACKPOT:?}" "${SRC:?}"
. "$SRC/tests/support/script.sh"

cp -r "$SRC/shows" "$dir/shows"
rm "$dir/shows/one-burner-too-few.json" # has no plan
# One in which vessels are washed, one in which somebody helps, one in which a pot is watched, one in which
# nothing can be kept hot, one with a cabinet that is heated, and two made up from seeds.
python3 "$SRC/tests/outside/ticked.py" "$BACKPOT" $(((3 + ${SHARE:-1}) / ${SHARE:-1})) "$dir"/shows/*.json \
    "$SRC/tests/plan/shows/pans.json" "$SRC/tests/plan/terrine.json" "$SRC/tests/plan/custard.json" \
    "$SRC/tests/plan/rehearsal.json" "$SRC/tests/plan/cabinet.json" \
    "$SRC/tests/plan/shows/baked-together.json" "$SRC/tests/plan/shows/helped-for-a-minute.json"
