# tests/lint/layers.sh - every #include points down the layers of layers.txt, and none in a circle.
set -eu
cd "$(dirname "$0")/../.."

# One line an include: file, its layer, what it names, and where.
includes() {
    for file in src/*/*.[ch] include/backpot/*.h; do
        layer=$(basename "$(dirname "$file")")
        sed -n 's/^[[:space:]]*#[[:space:]]*include[[:space:]]*"\([^"]*\)".*/\1/p' "$file" |
            while read -r name; do
                echo "$file $layer $name"
            done
    done
}

bad=0
includes | awk '
    FNR == NR { if ($0 !~ /^#/) for (i = 2; i <= NF; i++) may[$1, $i] = 1; next }
    {
        split($3, part, "/")
        if (!(($2, $3) in may) && !(($2, part[1]) in may)) {
            printf "%s includes \"%s\", which layer %s may not know\n", $1, $3, $2
            bad = 1
        }
    }
    END { exit bad }' tests/lint/layers.txt - || bad=1

# A header that needs itself in the end cannot be understood by itself. (The .c files of a layer may
# know each other's headers.)
includes | awk '
    $1 ~ /\.h$/ {
        from = $1; sub(/^(src|include)\//, "", from)
        if (from != $3) print $3, from
    }' | tsort > /dev/null || {
    echo "these headers include each other in a circle"
    bad=1
}

# A module includes its own header first, which proves that the header stands alone.
for file in src/*/*.c; do
    own=${file#src/}
    own=${own%.c}.h
    [ -f "src/$own" ] || continue
    first=$(sed -n 's/^[[:space:]]*#[[:space:]]*include[[:space:]]*//p' "$file" | head -n 1)
    [ "$first" = "\"$own\"" ] || {
        echo "$file includes $first before its own \"$own\""
        bad=1
    }
done
exit $bad
