# tests/scripts/seconds.sh - plan --seconds in a terminal: the line that says how it goes, and Ctrl-C.
set -eu
exec /usr/bin/python3 -B "$SRC/tests/scripts/seconds.py" "$BACKPOT" "$SRC/shows/festival-two-hits.json"
