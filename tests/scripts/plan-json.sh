# plan-json.sh - plan.json against its JSON Schema, by an independent validator.
#
# Source: JSON Schema 2020-12, as python3-jsonschema has it. The schema lets no unknown member pass
# and asks for every known one, so that writer and schema cannot drift apart; it is tried on broken
# plans too.
set -u
: "${SRC:?}" "${BUILD:?}"
dir=$(mktemp -d)
trap 'rm -rf "$dir"' EXIT
trap 'exit 1' HUP INT TERM
"$BUILD/samples" "$dir" Europe/Lisbon 2026-10-25 -18900 || exit 1
exec /usr/bin/python3 -B "$SRC/tests/outside/plan_schema.py" "$SRC/src/out/plan.schema.json" \
    "$dir/plan.json" "$SRC/include/backpot/plan.h"
