# tests/scripts/terminal.sh - the clocks on terminals that are poor, unknown or gone, and logs that fail.
set -eu
exec /usr/bin/python3 -B "$SRC/tests/scripts/terminal.py" "$BACKPOT" "$SRC"
