# claims.sh - no paper of a show that claims nothing about nutrients makes such a claim.
#
# (What is claimed is judged: tests/safety/test_claim.c.) Rows FS-200 to FS-245 of
# tests/safety/published.csv are the claims of 21 CFR 101.54 to 101.62, FS-300
# to FS-334 the daily values of 21 CFR 101.9(c), FS-350 to FS-375 how nutrition facts are rounded: what
# a label has to keep to that says "low fat" or "12 g of fiber". Ours say neither, and this holds
# them to it: the words are taken from the rows, and looked for in every text that comes out.
set -u
: "${SRC:?}" "${BACKPOT:?}" "${BUILD:?}"
. "$SRC/tests/support/script.sh"
for show in "$SRC"/shows/*.json; do
    grep -q '"claims"' "$show" && continue
    out=$dir/$(basename "$show" .json)
    "$BACKPOT" plan "$show" -o "$out" > "$out.txt" 2> "$dir/said"
    for pdf in "$out"/*.pdf; do
        [ -f "$pdf" ] && pdftotext "$pdf" "$pdf.txt"
    done
done
cat "$dir"/*.txt "$dir"/*/*.txt "$dir"/*/*.csv "$dir"/*/*.json "$dir"/*/*.ics > "$dir/all"
[ -s "$dir/all" ] || { echo "nothing came out"; exit 1; }

# absent ROW WORDS: the words stand nowhere, whatever their case.
absent() {
    ! grep -qiF -- "$2" "$dir/all"
    note $? "$1: \"$2\" is printed"
}

while IFS= read -r line; do
    id=${line%%,*}
    case $id in
    FS-2[0-4]*) # the claims that a row names, each in quotes; of one word only with what it claims of
        printf '%s\n' "$line" | grep -o '""[^"]*""' | tr -d '"' | while IFS= read -r claim; do
            case $claim in
            *' '*) printf '%s\n' "$claim" ;;
            *) printf '%s source\n%s in fiber\n' "$claim" "$claim" ;;
            esac
        done > "$dir/claims"
        while IFS= read -r claim; do
            absent "$id" "$claim"
        done < "$dir/claims"
        ;;
    FS-3[0-3]*) # a daily value: "daily value: fat"
        name=$(printf '%s\n' "$line" | cut -d, -f2 | sed 's/^daily value: //')
        absent "$id" "% daily value $name"
        absent "$id" "of $name per serving"
        ;;
    FS-35* | FS-36* | FS-37*) # rounding: of a figure that is not there
        absent "$id" 'kcal'
        absent "$id" '% DV'
        ;;
    esac
done < "$SRC/tests/safety/published.csv"
total 100
