# tests/scripts/hostile-day.sh - harm that comes by mishaps, losses, answers, logs, limits and recipes in
# files of their own.
set -u
: "${BACKPOT:?}" "${SRC:?}"
SAN=${SAN:-} exec /usr/bin/python3 -B "$SRC/tests/outside/hostile_day.py" "$BACKPOT" "$SRC"
