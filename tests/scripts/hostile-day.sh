# tests/scripts/hostile-day.sh - harm that comes by mishaps, losses, answers, logs, limits and recipes in
# files of their own.
set -u
# The long ones (half a minute each) once a run of all tests; with a SHARE of them the others.
[ "${SHARE:-1}" -eq 1 ] || export PARTS=checks,new,typed,limits,recipes
: "${BACKPOT:?}" "${SRC:?}"
SAN=${SAN:-} exec /usr/bin/python3 -B "$SRC/tests/outside/hostile_day.py" "$BACKPOT" "$SRC"
