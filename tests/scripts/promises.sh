# tests/scripts/promises.sh - what DEVELOPERS.md, "Promises", says stays as it is.
set -u
: "${BACKPOT:?}" "${SRC:?}"
exec /usr/bin/python3 -B "$SRC/tests/outside/promises.py" "$BACKPOT" "$SRC"
