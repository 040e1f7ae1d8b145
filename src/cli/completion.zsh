#compdef backpot
# zsh completion of backpot; a test holds it against the program's own tables.

local -a commands outputs
commands=(
    'after:hold the log of a day against its plan, and learn from it'
    'check:report what is wrong with a show file'
    'draft:say what could be shown in each slot without beats, and what it costs'
    'help:explain the program or one command'
    'lengths:say what each slot becomes at every length, and when time is lost on air'
    'live:run the clock of a slot, or of the kitchen'\''s day, full screen'
    'mend:something went wrong: plan anew from then on, moving little'
    'new:write a small show to start from'
    'plan:plan a show; write its sheets, labels, lists, calendars and data'
    'schema:print the JSON Schema (2020-12) of a show file'
)
outputs=(cue-sheet prep-sheet timeline-pdf timeline-svg chance labels tray-map tray-text strike-sheet strike-list pack-sheet pack-list pack-csv pull-sheet pull-list pull-csv calendar json)

if (( CURRENT == 2 )); then
    _alternative 'commands:command:{_describe command commands}' \
        'options:option:((--help\:"explain the program" --version\:"print the version"))'
    return
fi
local command=$words[2]
shift words
(( CURRENT-- ))
case $command in
plan)
    _arguments -s \
        '(-o --output)'{-o,--output}'[write the files into this folder]:folder:_files -/' \
        "--only[write these files and no others]:names:_values -s , name $outputs" \
        "--without[leave these files out]:names:_values -s , name $outputs" \
        '--paper[instead of what the show says]:size:(a4 letter)' \
        '--seconds[go on searching so long]:seconds:' \
        '--chance[hold on so many days in a hundred]:days in a hundred:' \
        '--days[play the day so often]:days:' \
        '--seed[play other days]:seed:' \
        '(-q --quiet)'{-q,--quiet}'[print no summary]' \
        '(-h --help)'{-h,--help}'[explain the command]' \
        ':show:_files -g "*.json"' ;;
after)
    _arguments -s \
        '--report[write the last of the days on one page]:file:_files -g "*.pdf"' \
        '--learn[write the learned times into the show and its recipes]' \
        '(-q --quiet)'{-q,--quiet}'[do not tell what was planned and done]' \
        '(-h --help)'{-h,--help}'[explain the command]' \
        ':show:_files -g "*.json"' '*:log:_files -g "*.log"' ;;
check)
    _arguments -s \
        '(-q --quiet)'{-q,--quiet}'[say nothing of a file without mistakes]' \
        '(-h --help)'{-h,--help}'[explain the command]' \
        '*:show:_files -g "*.json"' ;;
draft)
    _arguments -s \
        '--list[at most so many drafts of a segment]:number:(1 2 3 4 5 6 7 8 9)' \
        '(-h --help)'{-h,--help}'[explain the command]' \
        ':show:_files -g "*.json"' ;;
lengths)
    _arguments -s \
        '--lose[losses to tell of]:times:' \
        '--slot[tell of this length alone]:length:' \
        '(-h --help)'{-h,--help}'[explain the command]' \
        ':show:_files -g "*.json"' ;;
live)
    _arguments -s \
        '(-l --log)'{-l,--log}'[keep the log there]:log:_files -g "*.log"' \
        '(-k --kitchen)'{-k,--kitchen}'[the prep day instead]' \
        '(-r --rehearse)'{-r,--rehearse}'[run now, whatever the date]' \
        '--air[rehearse this appearance]:appearance:' \
        '--from[rehearse from this beat, or time, on]:from:' \
        '--speed[rehearse so many times as fast]:times:' \
        '(-h --help)'{-h,--help}'[explain the command]' \
        ':show:_files -g "*.json"' ;;
mend)
    _arguments -s \
        '(-l --log)'{-l,--log}'[take the past from this log]:log:_files -g "*.log"' \
        '(-o --output)'{-o,--output}'[write the files into this folder]:folder:_files -/' \
        '(-q --quiet)'{-q,--quiet}'[do not say what moved]' \
        '(-h --help)'{-h,--help}'[explain the command]' \
        ':show:_files -g "*.json"' '*:mishap:' ;;
new)
    _arguments -s \
        '--title[title of the show]:title:' \
        '--date[day of the show]:date:' \
        '--zone[IANA time zone]:zone:_time_zone' \
        '--hit[clock time at which the segment starts]:time:' \
        '--slot[length of the segment]:length:' \
        '--cooks[how many cooks]:number:' \
        '--burners[how many burners]:number:' \
        '--ovens[how many ovens]:number:' \
        '(-f --force)'{-f,--force}'[replace a file that is there]' \
        '(-h --help)'{-h,--help}'[explain the command]' \
        ':file:_files -g "*.json"' ;;
schema)
    _arguments -s '(-h --help)'{-h,--help}'[explain the command]' ;;
help)
    _arguments -s '(-h --help)'{-h,--help}'[explain the command]' \
        ':command:(after check draft help lengths live mend new plan schema)' ;;
esac
