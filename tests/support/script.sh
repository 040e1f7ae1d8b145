# tests/support/script.sh - read by the scripts of tests/scripts: a folder of their own and a count.
#
# Gives $dir, which goes when the script ends, $passed and $failed, and the words below. The last
# command of a script is `total`, its exit status that of the script.
dir=$(mktemp -d) || exit 1
trap 'chmod -R u+w "$dir" 2> /dev/null; rm -rf "$dir"' EXIT
trap 'exit 1' HUP INT TERM
passed=0
failed=0

note() { # note STATUS WHAT: counts; 0 is good
    if [ "$1" -eq 0 ]; then
        passed=$((passed + 1))
    else
        failed=$((failed + 1))
        echo "FAILED: $2"
    fi
    return "$1"
}

check() { # check WHAT COMMAND...: the command succeeds; what it said is shown where it does not
    what=$1
    shift
    "$@" > "$dir/said" 2>&1
    note $? "$what" || sed 's/^/    /' "$dir/said"
}

total() { # total [LEAST]: so many checks at least were made, and none failed
    echo "$passed passed, $failed failed"
    [ "$failed" -eq 0 ] && [ "$passed" -ge "${1:-1}" ]
}
