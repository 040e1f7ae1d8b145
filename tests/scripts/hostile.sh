# tests/scripts/hostile.sh - files that mean harm: too large, too deep, not text, with characters that
# turn a terminal, a calendar, a table or a paper against who reads it.
set -u
: "${BACKPOT:?}" "${SRC:?}"
SAN=${SAN:-} exec /usr/bin/python3 -B "$SRC/tests/outside/hostile.py" "$BACKPOT" "$SRC"
