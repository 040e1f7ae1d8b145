# goods.sh - what is fetched, as a user meets it: pantry, packs by weight, supplies, tools on the set.
#
# The show is a shipped one. By hand: two hosts taste of two dishes, so 4 spoons; 4 towels for each cook
# who is called; yogurt for 2 3/4 half cups is 1 3/8 cups, at 245 g a cup (USDA SR28 01116) 337 g.
set -u
: "${SRC:?}" "${BACKPOT:?}"
. "$SRC/tests/support/script.sh"
show=$SRC/shows/harbour-breakfast.json

# plan NAME SED...: plan the show changed by sed.
plan() {
    name=$1
    shift
    sed "$@" "$show" > "$dir/$name.json"
    "$BACKPOT" plan "$dir/$name.json" -o "$dir/$name" > "$dir/$name.out" 2> "$dir/$name.err"
    note $? "$name is planned" || cat "$dir/$name.err"
    tr -s ' ' < "$dir/$name/pull-list.txt" > "$dir/$name.txt"
}
says() { check "$1 does not say \"$2\"" grep -qF -- "$2" "$dir/$1"; }
never() { check "$1 says \"$2\"" sh -c '! grep -qF -- "$1" "$2"' sh "$2" "$dir/$1"; }

plan whole -e ''
says whole.txt 'olive oil have 500 ml, buy nothing'
says whole.txt 'smoked paprika at hand'
says whole.txt '1 1/4 cups + 2 tbsp yogurt, 1 cup = 245 g (USDA SR28 01116) (contains milk) buy 1 x 500 g tub'
says whole.txt 'or else: 4 tsp stock powder in 1 L water'
says whole.txt '4 tasting spoon, 1 a person and dish'
called=$(sed -n '/^Calls/,/^$/p' "$dir/whole.out" | grep -c ' to ')
says whole.txt "$((called * 4)) side towel, 4 a cook"
says whole.txt 'market: roots'
check 'the blender on the set is not counted for A4' \
    grep -q '^tool,,stick blender,,1,,A1 A4 A5,,,,,.$' "$dir/whole/pull-list.csv"
never whole.out 'stick blender'

# Without the weight nobody can say how many tubs; with a smaller one, two are needed.
plan unweighed -e 's/"weighs": "Yogurt[^"]*", //'
says unweighed.txt 'yogurt (contains milk) buy packs of 500 g tub, judge how many'
plan tubs -e 's/"500 g tub"/"300 g tub"/'
says tubs.txt 'buy 2 x 300 g tub'

# Less oil at hand: the rest is bought.
plan less -e 's/"olive oil", "amount": "500 ml"/"olive oil", "amount": "1 cup"/'
says less.txt 'olive oil have 1 cup, buy 1 tbsp'

# What is packed: pots go from the kitchen to the set, and are packed once; the house provides the blender.
# Two hosts taste of two dishes: 4 spoons, with the containers that are eaten from.
plan house -e 's/"name": "stick blender"/&, "provided": true/' \
    -e 's/"item": "side towel"/&, "provided": true/'
tr -s ' ' < "$dir/house/pack-list.txt" > "$dir/pack.txt"
says house.txt '[ ] 1 stick blender provided A1'
says house.txt 'side towel, 4 a cook provided'
pdftotext -layout "$dir/house/pull-list.pdf" - | tr -s ' ' > "$dir/house-page.txt"
says house-page.txt 'provided by the'
check 'the table tells what is provided' \
    [ "$(grep -c ',yes.$' "$dir/house/pull-list.csv")" -eq 2 ]
says pack.txt '[ ] 1 stick blender provided A1 '
says pack.txt "[ ] $((called * 4)) side towel, 4 a cook provided"
says pack.txt '[ ] 4 tasting spoon, 1 a person and dish brought A5 B4'
sed -n '/^Set: /,/^$/p' "$dir/pack.txt" > "$dir/pack-set.txt"
says pack-set.txt '[ ] 1 soup pot, 4 L brought A1 A2 A3 A4 A5 5 in use, 4 of them packed already'
says pack-set.txt ' 1 stick blender packed already A4'
check 'what is there already has no box' sh -c '! grep "\[ \]" "$1" | grep -v "of them packed"' \
    sh "$dir/pack-set.txt"
pdftotext -layout "$dir/house/pack-list.pdf" - | tr -s ' ' > "$dir/pack-page.txt"
for words in 'Kitchen, before the hit' 'Tasting: Two bowls' '4 tasting spoon brought A5 B4' \
    '(1) stick blender packed already A4'; do
    says pack-page.txt "$words"
done
# In all as many as on the pull list, thing by thing.
awk -F, '$1 ~ /vessel|tool|supply/ { n[$3] += $5 } END { for (i in n) print i, n[i] }' \
    "$dir/house/pull-list.csv" | sort > "$dir/pulled.txt"
awk -F, 'NR > 1 { n[$4] += $6 } END { for (i in n) print i, n[i] }' "$dir/house/pack-list.csv" |
    sort > "$dir/packed.txt"
check 'nothing is packed' [ -s "$dir/packed.txt" ]
check 'pack list and pull list differ' diff "$dir/pulled.txt" "$dir/packed.txt"
check 'the house provides two things, in three lines' \
    [ "$(grep -c ',house,' "$dir/house/pack-list.csv")" -eq 3 ]

# What the set is cleared with is packed for that, and stands on no station before.
plan tubs-too -e 's/^  "supplies": \[/&{"item": "bus tub", "per": "strike", "count": 2, "provided": true}, /'
tr -s ' ' < "$dir/tubs-too/pack-list.txt" > "$dir/pack-strike.txt"
sed -n '/^Strike: Two bowls for a cold morning, 08:24 (off air at 08:28:25)$/,/^$/p' "$dir/pack-strike.txt" \
    > "$dir/for-strike.txt"
says for-strike.txt '[ ] 2 bus tub, 2 a strike provided'
check 'the tubs are packed once' [ "$(grep -c 'bus tub' "$dir/pack-strike.txt")" -eq 1 ]
says tubs-too.txt '[ ] 2 bus tub, 2 a strike provided'
never tubs-too/tray-map.txt 'bus tub'
check 'the table tells what it is for' \
    grep -q '^strike,main,supply,bus tub,2 a strike,2,2,house' "$dir/tubs-too/pack-list.csv"

sed -e 's/^  "supplies": \[/&{"item": "bus tub", "per": "strike"}, /' \
    -e 's/"id": "hello", /&"supplies": ["bus tub"], /' "$show" > "$dir/named.json"
"$BACKPOT" check "$dir/named.json" > "$dir/named.txt" 2>&1
check 'a beat uses what the set is cleared with' [ $? -eq 2 ]
says named.txt 'named.json:94:38: beat "hello" uses "bus tub", which is for clearing the set'

# Both dishes want the one blender on the set: nothing says who has it.
plan clash -e 's/"id": "dress", /"id": "dress", "tools": ["blender"], /'
says clash.out 'CAUTION: stick blender: 2 are needed at once (A4, '
says clash.out 'and the kitchen has 1; bring more, or share one on the set by hand'
plan two -e 's/"id": "dress", /"id": "dress", "tools": ["blender"], /' \
    -e 's/"name": "stick blender", "count": 1/"name": "stick blender", "count": 2/'
never two.out 'stick blender: 2 are needed'
says two.txt '[ ] 2 stick blender'

# What beats name: a tool of its own goes with the container (B3, a spoon and a vessel), a supply stands at
# the station of its beat, one a beat; towels, 4 a cook, where a beat names them.
plan beats -e 's/"count": 1}\]/"count": 1}, {"id": "server", "name": "serving spoon", "count": 2}]/' \
    -e 's/"does": \["dress"\],/&"tools": ["server"], "vessels": ["tray"],/' \
    -e 's/"does": \["dress"\],/&"supplies": ["damp cloth", "side towel"],/' \
    -e 's/"does": \["oil"\],/"does": ["oil"], "supplies": ["damp cloth"],/' \
    -e 's/"supplies": \[$/"supplies": [{"item": "damp cloth", "per": "beat", "count": 2},/'
says beats.txt '[ ] 4 damp cloth, 2 a beat'
says beats.txt '[ ] 1 serving spoon B3'
tr -s ' ' < "$dir/beats/tray-map.txt" > "$dir/beats-map.txt"
sed -n '/B3 Roast squash/,/small bowl/p' "$dir/beats-map.txt" > "$dir/with-b3.txt"
says with-b3.txt '[ ] 1 x serving spoon'
says with-b3.txt '[ ] 1 x oven tray, 40 x 30 cm'
says beats-map.txt "[ ] $((called * 4)) x side towel: beat 6, "
check 'a cloth stands by itself at each beat that names it' \
    [ "$(grep -c '\[ \] 2 x damp cloth: beat [56], ' "$dir/beats-map.txt")" -eq 2 ]
pdftotext -raw "$dir/beats/tray-map.pdf" "$dir/beats-pdf.txt"
for words in 'serving spoon' 'damp cloth'; do
    says beats-pdf.txt "$words"
done

# The tray map, by the beats of the show: at the counter the finished bowls of the welcome, then beats 5 and
# 6 and what is tasted; at the stove pots in the order in which beats 2, 3 and 4 use them.
pdftotext -layout "$dir/whole/tray-map.pdf" "$dir/tray-map.txt"
codes() { # codes STATION: those of its table, as they stand; its heading may stand on two pages
    awk -v at="$1," '/left to right/ { on = $1 == at; next } on' "$dir/tray-map.txt" |
        grep -o '^ *[0-9][0-9]* *[A-Z][0-9][0-9]*\b' | grep -o '[A-Z][0-9]*' | tr '\n' ' '
}
check "the stove has $(codes stove)" [ "$(codes stove)" = 'A2 A3 A4 ' ]
check "the counter has $(codes counter)" [ "$(codes counter)" = 'A1 B1 B2 B3 A5 B4 ' ]
for words in '1 1/2 cup red lentils' 'beat 3, 08:25:07' 'All of it on set by 08:19' \
    '3 tbsp pumpkin seeds'; do
    says tray-map.txt "$words"
done

# On paper: every line of the list, the packs beside the box, codes broken between words only.
pdftotext -raw "$dir/whole/pull-list.pdf" "$dir/pull-pdf.txt"
pdftotext -layout "$dir/whole/pull-list.pdf" - | tr -s ' ' > "$dir/pull-page.txt"
for words in '1 x 500 g tub yogurt need 1 1/4' 'at hand olive oil need 1 cup' \
    'contains celery; or else: 4 tsp stock'     'Supplies, linen' '4 tasting spoon'; do
    says pull-page.txt "$words"
done
sed 's/^[^,]*,[^,]*,\([^,]*\),.*/\1/' "$dir/whole/pull-list.csv" | sed 1d > "$dir/items.txt"
check 'the table is empty' [ -s "$dir/items.txt" ]
while read -r item; do
    says pull-pdf.txt "$item"
done < "$dir/items.txt"
never pull-pdf.txt 'A-'

# What is struck: each container once, by when it goes as on its label; the blender is washed.
for code in A1 A2 A3 A4 A5 B1 B2 B3 B4; do
    check "$code is struck" [ "$(grep -c "^  \[ \] $code " "$dir/whole/strike-list.txt")" -eq 1 ]
done
says whole/strike-list.txt '[ ] wash 1 x stick blender'
says whole/strike-list.txt '[ ] 4 x tasting spoon'
pdftotext -raw "$dir/whole/labels.pdf" - | grep -o 'Use by [0-9:]*' | cut -d' ' -f3 | sort > "$dir/use-by.txt"
sed -n 's/.*thrown away by: \([0-9:]*\).*/\1/p' "$dir/whole/strike-list.txt" |
    grep . | sort > "$dir/struck.txt"
check 'nothing is thrown away' [ -s "$dir/struck.txt" ]
check 'labels and strike list differ' diff "$dir/use-by.txt" "$dir/struck.txt"
pdftotext -layout "$dir/whole/strike-list.pdf" - | tr -s ' ' > "$dir/strike-page.txt"
for words in 'Thrown away by' 'nobody is planned for it' 'A stricter local code comes first.'; do
    says strike-page.txt "$words"
done

# As text: the same stations, containers and trays, in the same order.
codes_of() { # codes_of STATION: of the text
    sed -n "/^$1, left to right/,/^$/p" "$dir/whole/tray-map.txt" |
        sed -n 's/^ *[0-9]*  \[ \]  \([A-Z][0-9]*\) .*/\1/p' |
        tr '\n' ' '
}
check "as text the stove has $(codes_of stove)" [ "$(codes_of stove)" = "$(codes stove)" ]
check "as text the counter has $(codes_of counter)" [ "$(codes_of counter)" = 'A1 B1 B2 B3 A5 B4 ' ]
tr -s ' ' < "$dir/whole/tray-map.txt" > "$dir/map.txt"
for words in '1 x stick blender' '2 x tasting spoon' '1 L vegetable stock' \
    'A4 Red lentil soup, mid-cook, after: simmer: beat 4, ' 'all of it on set by 08:19'; do
    says map.txt "$words"
done

total 26
