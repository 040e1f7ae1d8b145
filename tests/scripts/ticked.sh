# tests/scripts/ticked.sh - late days of all shipped shows that can be planned, played from seeds and
# logged; the plans mended by the log, twice a day, held to what was played.
set -u
: "${BACKPOT:?}" "${SRC:?}"
. "$SRC/tests/support/script.sh"

cp -r "$SRC/shows" "$dir/shows"
rm "$dir/shows/one-burner-too-few.json" # has no plan
python3 "$SRC/tests/outside/ticked.py" "$BACKPOT" 4 "$dir"/shows/*.json
