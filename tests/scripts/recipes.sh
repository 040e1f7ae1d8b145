# tests/scripts/recipes.sh - shows of federal recipe cards: the pull list must be what the cards print for
# twice the servings, and their temperatures must be asked for and kept.
set -u
: "${BACKPOT:?}" "${SRC:?}"
exec /usr/bin/python3 -B "$SRC/tests/outside/recipes.py" "$BACKPOT" "$SRC/tests/recipes"
