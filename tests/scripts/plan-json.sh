# plan-json.sh - plan.json against its JSON Schema, by an independent validator.
#
# Source: JSON Schema 2020-12, as python3-jsonschema has it. The schema lets no unknown member pass
# and asks for every known one, so that writer and schema cannot drift apart; it is tried on broken
# plans too.
set -u
: "${SRC:?}" "${BUILD:?}" "${BACKPOT:?}"
dir=$(mktemp -d)
trap 'rm -rf "$dir"' EXIT
trap 'exit 1' HUP INT TERM
mkdir "$dir/sample" "$dir/shows"
"$BUILD/samples" "$dir/sample" Europe/Lisbon 2026-10-25 -18900 || exit 1
for show in "$SRC"/shows/*.json "$SRC/tests/plan/shows/one-circuit.json"; do
    "$BACKPOT" plan "$show" -o "$dir/shows/$(basename "$show" .json)" --only json --quiet 2> "$dir/said"
    status=$?
    # 3: it cannot be planned, which plan.json then says
    [ "$status" -eq 0 ] || [ "$status" -eq 3 ] || { cat "$dir/said"; exit 1; }
done
exec /usr/bin/python3 -B "$SRC/tests/outside/plan_schema.py" "$SRC/src/out/plan.schema.json" \
    "$SRC/include/backpot/plan.h" "$dir/sample/plan.json" "$dir"/shows/*/plan.json
