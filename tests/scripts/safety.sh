# safety.sh - food safety as a user meets it: a soup planned a day ahead, stops, acceptances, allergies.
#
# The show is invented. Limits: FDA Food Code 3-501.14 (two-stage cooling), 3-403.11 (reheating),
# 3-302.11 (raw before ready-to-eat), as tests/safety/published.csv has them.
set -u
: "${SRC:?}" "${BACKPOT:?}"
. "$SRC/tests/support/script.sh"
show=$SRC/tests/safety/shows/day-ahead.json

# plan NAME WANT SED...: plan the show changed by sed, ending with status WANT.
plan() {
    name=$1 want=$2
    shift 2
    sed "$@" "$show" > "$dir/$name.json"
    status=0
    "$BACKPOT" plan "$dir/$name.json" -o "$dir/$name" > "$dir/$name.out" 2> "$dir/$name.err" || status=$?
    check "$name: status $status, not $want" test "$status" -eq "$want"
}
says() { check "$1 does not say \"$2\"" grep -qF -- "$2" "$dir/$1"; }
never() { check "$1 says \"$2\"" sh -c '! grep -qF -- "$1" "$2"' sh "$2" "$dir/$1"; }
read_pdf() { pdftotext "$dir/$1/$2.pdf" - | tr -s ' \n' '  ' > "$dir/$1/$2.txt"; }

# Over ice it is within both limits; the evening before, the call is on Wednesday.
plan ice 0 -e ''
says ice.out '21 °C (70 °F) after 21 min, 5 °C (41 °F) after 50 min; the probe decides'
says ice.out '[FDA Food Code 3-501.14(A)(2)]'
says ice.out 'Nuno: Wed '
never ice.out 'STOP'
read_pdf ice prep-sheet
for words in 'Probe log' 'Received: chicken thighs at most 5 °C (41 °F)' \
    'Simmer the soup: core at least 80 °C' 'down to 21 °C (70 °F) within 2 h' \
    'heat it to 74 °C (165 °F) and begin again' 'Kept cold: at most 5 °C (41 °F)' \
    'Bring the soup to the boil: core at least 74 °C' 'Initials' \
    'To heed, food by the limits of FDA Food Code 2022'; do
    says ice/prep-sheet.txt "$words"
done

# In the refrigerator it is not: a stop that names the section and three cures; nothing is written.
plan cold 7 -e 's/"in": "ice bath"/"in": "refrigerator"/'
for words in 'FDA Food Code 3-501.14(A)(1)' 'shallow pans, at most 3 cm deep' 'stir it in an ice bath' \
    'cook a smaller batch' 'accept the stop by name'; do
    says cold.err "$words"
done
says cold.out 'STOPPED: food safety forbids this plan'
check 'a plan that is stopped was written' test ! -e "$dir/cold"

# Each of the cures cures it.
plan shallow 0 -e 's/"in": "ice bath", "depth": "6 cm"/"in": "refrigerator", "depth": "3 cm"/'
plan deeper 7 -e 's/"in": "ice bath", "depth": "6 cm"/"in": "refrigerator", "depth": "35 mm"/'

# Somebody answers for it by name, and is printed on the sheets.
why='"by": "Ines Faro, kitchen manager", "why": "chilled in our blast chiller, procedure 4"'
accept="\"safety\": {\"accept\": [{\"rule\": \"3-501.14(A)(1)\", \"dish\": \"soup\", $why}]},"
plan accepted 0 -e 's/"in": "ice bath"/"in": "refrigerator"/' -e "s/\"kitchen\": {/$accept \"kitchen\": {/"
says accepted.out 'ACCEPTED by Ines Faro, kitchen manager: chilled in our blast chiller, procedure 4'
for sheet in prep-sheet labels cue-sheet; do
    read_pdf accepted $sheet
    says accepted/$sheet.txt 'Ines Faro, kitchen manager'
done
# ... of another rule, stage or dish it counts for nothing, and is said to.
for other in 's/3-501.14(A)(1)/3-501.14(A)(2)/' 's/"soup", "by"/"soup", "stage": "raw", "by"/'; do
    plan other 7 -e 's/"in": "ice bath"/"in": "refrigerator"/' \
        -e "s/\"kitchen\": {/$accept \"kitchen\": {/" -e "$other"
    says other.out 'and there is none; take it out'
done

# One board: raw chicken, then parsley that nobody cooks. With a second, one is marked.
says ice.out 'cutting board goes from raw food ("Cut the chicken") to ready-to-eat food ("Chop the parsley")'
plan boards 0 -e 's/"count": 1, "board": true/"count": 2, "board": true/'
says boards.out 'mark one of them for raw food'
plan no-board 0 -e 's/, "board": true//'
never no-board.out 'ready-to-eat food'

# Who is allergic to what they would eat of stops it; to something else not.
plan allergic 7 -e 's/"tasters": \["Rui"\]/"tasters": [{"name": "Rui", "allergies": ["milk"]}]/'
says allergic.err 'Rui is allergic to milk'
plan other-allergy 0 -e 's/"tasters": \["Rui"\]/"tasters": [{"name": "Rui", "allergies": ["lupin"]}]/'
read_pdf other-allergy cue-sheet
says other-allergy/cue-sheet.txt 'Rui (allergic: lupin)'
why='"by": "Rui", "why": "I only smell it"'
spared="\"safety\": {\"accept\": [{\"rule\": \"taster's allergy\", \"dish\": \"soup\", $why}]},"
plan spared 0 -e 's/"tasters": \["Rui"\]/"tasters": [{"name": "Rui", "allergies": ["milk"]}]/' \
    -e "s/\"kitchen\": {/$spared \"kitchen\": {/"
read_pdf spared cue-sheet
says spared/cue-sheet.txt 'Rui: I only smell it'

# A refrigerator that is too warm by the one code is cold enough by another, invented, in a file.
plan warm 7 -e 's/"temperature": "3 C"/"temperature": "6 C"/'
says warm.err 'FDA Food Code 3-501.16(A)(2)'
cat > "$dir/town.json" << 'END'
{"backpot_limits": 1, "id": "town", "title": "Harbour Town by-law", "base": "us-food-code",
 "rows": [{"limit": "hold cold", "celsius": "8 C", "rule": "By-law 4", "source": "made up"}]}
END
plan by-law 0 -e 's/"temperature": "3 C"/"temperature": "6 C"/' \
    -e 's/"kitchen": {/"safety": {"limits": "town.json"}, "kitchen": {/'
says by-law.out 'by the limits of Harbour Town by-law'

total 0
