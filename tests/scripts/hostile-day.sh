# tests/scripts/hostile-day.sh - harm that comes by mishaps, losses, answers, logs, limits and recipes in
# files of their own.
set -u
: "${BACKPOT:?}" "${SRC:?}"
# A slow build tries those that cost no plan each.
[ "${SHARE:-1}" -le 2 ] || export PARTS=checks,new,typed,limits,recipes
SAN=${SAN:-} exec /usr/bin/python3 -B "$SRC/tests/outside/hostile_day.py" "$BACKPOT" "$SRC"
