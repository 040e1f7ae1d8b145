# bash completion of backpot; a test holds it against the program's own tables.

_backpot_files() {
    # Folders, and files that end as asked.
    COMPREPLY=()
    local name
    while IFS= read -r name; do
        [[ -d $name || $name == *"$2" ]] && COMPREPLY+=("$name")
    done < <(compgen -f -- "$1")
    compopt -o filenames 2> /dev/null
}

_backpot_words() {
    mapfile -t COMPREPLY < <(compgen -W "$2" -- "$1")
}

_backpot() {
    local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD - 1]}
    local commands="after check draft help lengths live mend new plan schema"
    local outputs="cue-sheet prep-sheet timeline-pdf timeline-svg chance labels tray-map tray-text
        strike-sheet strike-list pack-sheet pack-list pack-csv pull-sheet pull-list pull-csv calendar json"
    if ((COMP_CWORD == 1)); then
        _backpot_words "$word" "$commands --help --version"
        return
    fi
    case $before in
    --only | --without)
        # Names already there stand before the last comma.
        local head=
        [[ $word == *,* ]] && head=${word%,*},
        _backpot_words "${word##*,}" "$outputs"
        COMPREPLY=("${COMPREPLY[@]/#/$head}")
        return ;;
    --paper)
        _backpot_words "$word" "a4 letter"
        return ;;
    -o | --output)
        mapfile -t COMPREPLY < <(compgen -d -- "$word")
        compopt -o filenames 2> /dev/null
        return ;;
    --zone)
        local zones
        zones=$(cut -f 3 /usr/share/zoneinfo/zone.tab 2> /dev/null |
            grep '^[A-Z][A-Za-z_]*/')
        _backpot_words "$word" "$zones UTC"
        return ;;
    -l | --log)
        _backpot_files "$word" .log
        return ;;
    --report)
        _backpot_files "$word" .pdf
        return ;;
    --list | --lose | --seconds | --chance | --days | --seed | --air | --from | --speed | --title | --date | --hit | --slot | --cooks | --burners | --ovens)
        return ;;
    esac
    case ${COMP_WORDS[1]}:$word in
    plan:-*) _backpot_words "$word" "--output --only --without --paper --seconds --chance --days --seed --quiet --help" ;;
    live:-*) _backpot_words "$word" "--log --kitchen --rehearse --air --from --speed --help" ;;
    mend:-*) _backpot_words "$word" "--log --output --quiet --help" ;;
    draft:-*) _backpot_words "$word" "--list --help" ;;
    after:-*) _backpot_words "$word" "--report --learn --quiet --help" ;;
    check:-*) _backpot_words "$word" "--quiet --help" ;;
    lengths:-*) _backpot_words "$word" "--lose --slot --help" ;;
    new:-*) _backpot_words "$word" \
        "--title --date --zone --hit --slot --cooks --burners --ovens --force --help" ;;
    schema:-* | help:-*) _backpot_words "$word" "--help" ;;
    after:*) if ((COMP_CWORD == 2)); then
        _backpot_files "$word" .json
    else
        _backpot_files "$word" .log
    fi ;;
    plan:* | check:* | draft:* | lengths:* | live:* | mend:* | new:*) _backpot_files "$word" .json ;;
    help:*) _backpot_words "$word" "$commands" ;;
    esac
}
complete -F _backpot backpot
