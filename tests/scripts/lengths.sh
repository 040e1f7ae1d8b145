# tests/scripts/lengths.sh - what `backpot lengths` tells of a show is what the show becomes when its
# slot is written so in the file: every stretch, at both ends, and the losses beside each other.
set -eu
exec /usr/bin/python3 -B "$SRC/tests/scripts/lengths.py" "$BACKPOT" "$SRC/shows/harbour-breakfast.json"
