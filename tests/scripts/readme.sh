# tests/scripts/readme.sh - the README's examples run as they are written, one after the other.
#
# An example is a block of sh after a line "<!-- run -->".
set -u
: "${BACKPOT:?}" "${SRC:?}"
dir=$(mktemp -d)
trap 'rm -rf "$dir"' EXIT
trap 'exit 1' HUP INT TERM
awk -v out="$dir/example-" '
    /^ *<!-- run -->$/ { wanted = 1; next }
    wanted && /^ *```sh$/ { indent = index($0, "`"); file = sprintf("%s%02d", out, ++n); next }
    file && /^ *```$/ { close(file); file = ""; wanted = 0; next }
    file { print substr($0, indent) > file }' "$SRC/README.md"

mkdir "$dir/at" && cd "$dir/at" || exit 1
PATH=$(dirname "$BACKPOT"):$PATH
export PATH
passed=0
failed=0
for example in "$dir"/example-*; do
    if sh -eu "$example" < /dev/null; then
        passed=$((passed + 1))
    else
        failed=$((failed + 1))
        echo "this example failed:"
        cat "$example"
    fi
done
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ] && [ "$passed" -ge 5 ]
