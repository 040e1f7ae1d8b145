# tests/scripts/spoilt.sh - shows spoilt by seeds: told why they have no plan, and what gives them one,
# which is then done to them.
set -u
: "${BACKPOT:?}" "${SRC:?}"
exec /usr/bin/python3 -B "$SRC/tests/outside/spoilt.py" "$BACKPOT" 1 $((24 / ${SHARE:-1}))
