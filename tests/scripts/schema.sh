# tests/scripts/schema.sh - the JSON Schema that the program prints, against an independent
# validator: Debian's python3-jsonschema. Every shipped show must pass; on each row of
# tests/model/mistakes.txt the schema must say what the row says of it.
set -eu
: "${BACKPOT:?}" "${SRC:?}"
schema=$(mktemp)
trap 'rm -f "$schema"' EXIT
"$BACKPOT" schema > "$schema"
cmp "$schema" "$SRC/src/model/schema.json"
/usr/bin/python3 "$SRC/tests/scripts/schema.py" "$schema" "$SRC"
