# tests/scripts/papers.sh - the papers of every shipped show, read back by programs that did not
# write them: qpdf (structure), poppler's pdffonts, pdfinfo, pdftotext and pdftoppm (fonts, paper,
# words, ink) and librsvg (the picture).
set -u
: "${BACKPOT:?}" "${SRC:?}"
. "$SRC/tests/support/script.sh"

# Every text of plan.json that a paper must hold, one a line: `want CLASS` picks one class.
cat > "$dir/want.py" << 'END'
import json, sys
plan = json.load(open(sys.argv[1]))
kind = sys.argv[2]
if kind == "codes":
    out = [c["code"] for c in plan["container"]]
elif kind == "beats":
    out = [b["text"] for b in plan["beat"]]
elif kind == "ops":
    out = [o["text"] for o in plan["op"] if o["kind"] not in ("wait", "set")]
elif kind == "people":
    out = [plan["person"][s["person"]]["name"] for s in plan["stint"]]
elif kind == "every":
    out = [plan["stamp"], plan["title"]]
print("\n".join(dict.fromkeys(out)))
END

# A paper's words without its line breaks: text wraps, and a wrap must not hide a word. A word too
# long for its column may be broken with a hyphen of the layout, so blanks and hyphens do not count.
squeeze() {
    tr -d ' \n\t\f-'
}

holds() { # holds FILE CLASS: each text of the class stands in the paper
    /usr/bin/python3 -B "$dir/want.py" "$out/plan.json" "$2" > "$dir/wanted"
    [ -s "$dir/wanted" ]
    note $? "$show: nothing to look for: $2"
    pdftotext -raw "$out/$1.pdf" - | squeeze > "$dir/words"
    while IFS= read -r text; do
        grep -qF -- "$(printf '%s' "$text" | squeeze)" "$dir/words"
        note $? "$show, $1: \"$text\" is missing"
    done < "$dir/wanted"
}

each_page() { # each_page FILE: ink, number, stamp and defer words on every page
    pages=$(pdfinfo "$out/$1.pdf" | sed -n 's/^Pages: *//p')
    stamp=$(/usr/bin/python3 -B "$dir/want.py" "$out/plan.json" every | sed -n 1p)
    n=1
    while [ "$n" -le "$pages" ]; do
        ink=$(pdftoppm -gray -r 20 -f "$n" -l "$n" "$out/$1.pdf" | tail -c +16 |
            tr -d '\377' | wc -c)
        [ "$ink" -gt 100 ]
        note $? "$show, $1: page $n is blank"
        words=$(pdftotext -layout -f "$n" -l "$n" "$out/$1.pdf" - | squeeze)
        for text in "page${n}of$pages" "plan$stamp" "localcode"; do
            printf '%s' "$words" | grep -qiF "$text"
            note $? "$show, $1: page $n does not say \"$text\""
        done
        if [ "$late" = yes ]; then
            printf '%s' "$words" | grep -qF LATEPLAN
            note $? "$show, $1: page $n does not say that the plan is late"
        fi
        n=$((n + 1))
    done
}

sound() { # sound FILE: the structure holds, fonts are embedded
    qpdf --check "$out/$1.pdf" > "$dir/qpdf" 2>&1
    note $? "$show, $1: qpdf objects"
    # Columns after the name: type, encoding, emb, sub, uni, object.
    pdffonts "$out/$1.pdf" | sed 1,2d > "$dir/fonts"
    [ -s "$dir/fonts" ] && ! grep -v ' yes yes yes ' "$dir/fonts"
    note $? "$show, $1: a font is not embedded"
}

paper() { # paper FILE SIZE: its size in points, as pdfinfo rounds it
    pdfinfo "$out/$1.pdf" | grep -q "^Page size: *$2"
    note $? "$show, $1: not on $2"
}

# The bytes are those of the plain build; of a slow one (SHARE) a part is read. `make valgrind` draws all.
nth=0
for file in "$SRC"/shows/*.json; do
    nth=$((nth + 1))
    [ $((nth % ${SHARE:-1})) -eq 0 ] || continue
    show=$(basename "$file" .json)
    out=$dir/$show
    status=0
    "$BACKPOT" plan "$file" -o "$out" > "$dir/said" 2>&1 || status=$?
    late=no
    [ "$status" -eq 3 ] && late=yes
    [ "$status" -eq 0 ] || [ "$status" -eq 3 ]
    note $? "$show: exit status $status"
    for name in cue-sheet prep-sheet labels tray-map timeline; do
        sound $name
        each_page $name
        holds $name codes
        holds $name every
    done
    sound chance
    each_page chance
    holds cue-sheet beats
    holds prep-sheet ops
    holds prep-sheet people
    holds timeline ops
    rsvg-convert "$out/timeline.svg" -w 800 -o "$dir/picture.png"
    note $? "$show: the picture cannot be drawn"
    cp -r "$out" "$dir/first"
    "$BACKPOT" plan "$file" -o "$out" > "$dir/said" 2>&1
    for name in cue-sheet.pdf prep-sheet.pdf labels.pdf tray-map.pdf timeline.pdf \
        timeline.svg chance.pdf; do
        cmp "$out/$name" "$dir/first/$name"
        note $? "$show: $name changed in a second run"
    done
    rm -rf "$dir/first"
done

# What a beat says may be longer than a page: every line of it is on the sheet, in order, once.
/usr/bin/python3 -B - "$SRC/shows/harbour-breakfast.json" "$dir/long.json" << 'END'
import json, sys
show = json.load(open(sys.argv[1]))
show["segments"][0]["beats"][1]["graphics"] = [
    f"line{i} and what else may be read on a screen" for i in range(100, 200)]
json.dump(show, open(sys.argv[2], "w"))
END
"$BACKPOT" plan "$dir/long.json" -q --only cue-sheet -o "$dir/long"
note $? "a show whose graphics are longer than a page is not planned"
pdftotext -raw "$dir/long/cue-sheet.pdf" - | grep -o 'line1[0-9][0-9]' > "$dir/lines"
seq -f 'line%g' 100 199 | cmp -s - "$dir/lines"
note $? "lines of the graphics are missing, twice or out of order"

# ISO 216 A4: 210 x 297 mm; US Letter: 8.5 x 11 in.
out=$dir/paper
for letter in a4 letter; do
    "$BACKPOT" plan "$SRC/shows/harbour-breakfast.json" --paper $letter -o "$out" > "$dir/said" 2>&1
    show="$letter"
    if [ $letter = a4 ]; then upright='595.276 x 841.89' across='841.89 x 595.276'; else
        upright='612 x 792' across='792 x 612'
    fi
    paper prep-sheet "$upright"
    paper labels "$upright"
    paper tray-map "$upright"
    paper chance "$upright"
    paper cue-sheet "$across"
    paper timeline "$across"
done

# Without a font Pango draws blank pages and reports success; the program must not.
mkdir "$dir/no-fonts"
printf '%s' "<fontconfig><dir>$dir/no-fonts</dir></fontconfig>" > "$dir/fonts.conf"
FONTCONFIG_FILE=$dir/fonts.conf "$BACKPOT" plan "$SRC/shows/harbour-breakfast.json" \
    -o "$dir/none" > "$dir/said" 2>&1
[ $? -eq 1 ] && grep -q 'no font' "$dir/said" && [ ! -e "$dir/none/cue-sheet.pdf" ]
note $? "blank pages without fonts"

total
