# tests/scripts/made-up.sh - shows made up from seeds: planned, and the plans held against the shows
# by code of another language that shares nothing with the program.
set -u
: "${BACKPOT:?}" "${SRC:?}"
exec /usr/bin/python3 -B "$SRC/tests/outside/made_up.py" "$BACKPOT" 1 $((24 / ${SHARE:-1}))
