# tests/scripts/threads.sh - every shipped show beside another one, in two threads, each with
# threads of its own: the same bytes as alone.
set -u
: "${SRC:?}" "${BUILD:?}"
exec "$BUILD/two-shows" 1 "$SRC"/shows/*.json
