# tests/lint/comments.sh - what the eye would want of every C file and script.
#
# A head comment that opens with the file's own path; no promise left in the code; no line wider
# than 110 columns (code ends at 100; the formatter lets a comment stand out by a word), no tab, no
# blank at a line's end; no file of src/ past 600 lines.
set -eu
cd "$(dirname "$0")/../.."

bad=0
say() {
    echo "$1"
    bad=1
}

files=$(find src include tests -name '*.[ch]' | LC_ALL=C sort)
scripts=$(find tests .ci \( -name '*.sh' -o -path '.ci/run' \) | LC_ALL=C sort)

for file in $files; do
    case $file in
    tests/*/test_* | tests/fuzz/fuzz_*) ;; # the name says what it tests
    src/*.c | tests/support/*.c) # its header has the head comment
        [ -f "${file%.c}.h" ] || case $(head -n 1 "$file") in
            "/* $file - "*) ;;
            *) say "$file:1: has neither a header nor a head comment \"/* $file - ...\"" ;;
        esac ;;
    include/*)
        case $(head -n 1 "$file") in
        "/* ${file#include/} - "*) ;;
        *) say "$file:1: the head comment is missing: \"/* ${file#include/} - what it owns\"" ;;
        esac ;;
    *)
        case $(head -n 1 "$file") in
        "/* $file - "*) ;;
        *) say "$file:1: the head comment is missing: \"/* $file - what it owns\"" ;;
        esac ;;
    esac
    case $file in tests/*) continue ;; esac
    [ "$(wc -l < "$file")" -le 600 ] || say "$file: longer than 600 lines; it holds two ideas"
done

# shellcheck disable=SC2086 # lists of files without blanks
grep -nE '(^|[^A-Z])(TODO|FIXME|XXX|HACK)([^A-Z]|$)' $files $scripts |
    grep -v '^tests/lint/comments.sh:' &&
    say "promises do not belong in the code: do it, or list it in DEVELOPERS.md"
# shellcheck disable=SC2086
grep -nE '^[^"]*(^|[^:"])//' $files && say "comments are /* */ here"
# shellcheck disable=SC2086
grep -nE "$(printf '\t')|[[:space:]]$" $files && say "a tab, or a blank at the end of a line"
# shellcheck disable=SC2086
LC_ALL=C.UTF-8 grep -nE '^.{111,}' $files $scripts && say "wider than 110 columns"
exit $bad
