# tests/scripts/readme.sh - the README's examples run as they are written, one after the other.
#
# An example is a block of sh after a line "<!-- run -->".
set -u
: "${BACKPOT:?}" "${SRC:?}"
. "$SRC/tests/support/script.sh"
awk -v out="$dir/example-" '
    /^ *<!-- run -->$/ { wanted = 1; next }
    wanted && /^ *```sh$/ { indent = index($0, "`"); file = sprintf("%s%02d", out, ++n); next }
    file && /^ *```$/ { close(file); file = ""; wanted = 0; next }
    file { print substr($0, indent) > file }' "$SRC/README.md"

mkdir "$dir/at" && cd "$dir/at" || exit 1
PATH=$(dirname "$BACKPOT"):$PATH
export PATH
for example in "$dir"/example-*; do
    sh -eu "$example" < /dev/null
    note $? "this example:" || cat "$example"
done
total 5
