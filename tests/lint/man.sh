# tests/lint/man.sh PAGE - the manual page sets without a warning.
set -eu
page=$1
warnings=$(LC_ALL=C.UTF-8 MANWIDTH=80 man --warnings -E UTF-8 -l -Tutf8 -Z "$page" 2>&1 > /dev/null
    groff -ww -man -Tutf8 -z "$page" 2>&1)
[ -z "$warnings" ] || {
    echo "$warnings"
    exit 1
}
