# tests/faults/faults.sh - memory and files fail at every turn: a clean error, nothing half-written.
# FAULT_STRIDE=1 tries every request for memory and every reason (half an hour); FAULT_FEW=1 a few
# of each kind (half a minute).
set -u
: "${BACKPOT:?}" "${SRC:?}" "${BUILD:?}"
status=0
stride=${FAULT_STRIDE:-${SAN:+997}}
if [ -n "${FAULT_FEW:-}" ]; then
    "$BUILD/memory-faults" 199 "$SRC"/shows/harbour-breakfast.json \
        "$SRC"/shows/one-burner-too-few.json || status=1
else
    "$BUILD/memory-faults" "${stride:-211}" "$SRC"/shows/*.json || status=1
fi
case ${SAN:-} in
*address* | *thread*) ;; # a sanitizer has a malloc of its own
*)
    for part in faults live; do
        /usr/bin/python3 -B "$SRC/tests/faults/$part.py" "$BACKPOT" "$BUILD/faults.so" "$SRC" || status=1
    done
    ;;
esac
exit $status
