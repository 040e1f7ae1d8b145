# tests/lint/banned.sh - no file of src/ calls what banned.txt forbids it, and nothing that decides a plan
# counts in floating point: on another machine it would decide another way.
#
# Comments and texts are taken out first, so prose may name a call. A line that must
# call one ends in "/* lint: NAME: why */", for memory that a library hands out and wants back.
set -eu
cd "$(dirname "$0")/../.."

# shellcheck disable=SC2016 # the $ are those of awk
find src include -name '*.[ch]' | LC_ALL=C sort | xargs awk '
    function allowed(file, pattern) {
        gsub(/[.]/, "[.]", pattern)
        gsub(/[*]/, ".*", pattern)
        return file ~ ("^" pattern "$")
    }
    FILENAME == "tests/lint/banned.txt" {
        if ($0 ~ /^#/) next
        name = $1; where[name] = $2
        $1 = $2 = ""; sub(/^ +/, ""); why[name] = $0
        next
    }
    FNR == 1 { comment = 0 }
    {
        # What is code of this line, and which call its mark lets through.
        mark = ""
        if (match($0, /\/\* lint: [a-z_]+: /)) mark = substr($0, RSTART + 9, RLENGTH - 11)
        code = ""; text = ""
        for (i = 1; i <= length($0); i++) {
            c = substr($0, i, 1); two = substr($0, i, 2)
            if (comment) { if (two == "*/") { comment = 0; i++ } }
            else if (text != "") { if (c == "\\") i++; else if (c == text) text = "" }
            else if (two == "/*") { comment = 1; i++ }
            else if (c == "\"" || c == "\x27") { text = c }
            else code = code c
        }
        if (FILENAME ~ /^src\/(engine|prep|live|safety|goods|model|day|risk)\// &&
            code ~ /(^|[^A-Za-z0-9_])(double|float)([^A-Za-z0-9_]|$)/) {
            printf "%s:%d: no floating point decides a plan: count in whole numbers\n", FILENAME, FNR
            bad = 1
        }
        while (match(code, /[A-Za-z_][A-Za-z0-9_]*[ ]*\(/)) {
            before = substr(code, 1, RSTART - 1)
            name = substr(code, RSTART, RLENGTH - 1); sub(/ +$/, "", name)
            code = substr(code, RSTART + RLENGTH)
            if (!(name in why) || name == mark || before ~ /(->|\.)$/) continue
            if (where[name] != "-" && allowed(FILENAME, where[name])) continue
            printf "%s:%d: %s is banned: %s\n", FILENAME, FNR, name, why[name]
            bad = 1
        }
    }
    END { exit bad }' tests/lint/banned.txt
