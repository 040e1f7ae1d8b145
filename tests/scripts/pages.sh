# tests/scripts/pages.sh - the manual page, README and both completions name the commands, options,
# outputs and exit statuses that the program's own tables have: no more, no fewer.
#
# The program's side is read from its help, which is printed from those tables.
set -u
: "${BACKPOT:?}" "${SRC:?}"
page=$SRC/src/cli/backpot.1
bash_file=$SRC/src/cli/completion.bash
zsh_file=$SRC/src/cli/completion.zsh
. "$SRC/tests/support/script.sh"

same() { # same WHAT WANTED FOUND
    [ -n "$2" ] && [ "$2" = "$3" ]
    note $? "$1 differ:" || {
        echo "  the program: $(echo "$2" | tr '\n' ' ')"
        echo "  there:       $(echo "$3" | tr '\n' ' ')"
    }
}

words() {
    tr -s ' ' '\n' | LC_ALL=C sort
}

part() { # part FROM UNTIL: the lines of the manual page between two headings
    awk -v from="$1" -v until="$2" '
        $0 ~ until && on { exit } on { print } $0 ~ from { on = 1 }' "$page"
}

# Options of one command, as help prints them, but for those that every command has.
options_of() {
    "$BACKPOT" help "$1" | sed -n '/^Options:/,/^$/s/^  .*\(--[a-z-]*\).*/\1/p' |
        sed 's/ .*//' | grep -v '^--help$' | words
}

commands=$("$BACKPOT" --help | sed -n '/^Commands:/,/^$/s/^  \([a-z]*\) .*/\1/p' | words)
outputs=$("$BACKPOT" help plan | sed -n 's/^  \([a-z-]*\) ([a-z-]*\.[a-z]*)$/\1/p' | words)
statuses=$("$BACKPOT" --help | sed -n '/^Exit status:/,$s/^  \([0-9]\)  *\(.*\)/\1 \2/p')

# ---- manual page
same "commands of the manual page" "$commands" \
    "$(sed -n 's/^\.SS //p' "$page" | words)"
for command in $commands; do
    options=$(options_of "$command")
    there=$(part "^\\.SS $command\$" '^\.S[SH]' |
        sed -n 's/^\.BR .*\(\\-\\-[a-z-]*\).*/\1/p' | sed 's/\\//g' | words)
    [ -n "$options$there" ] || continue
    same "options of $command in the manual page" "$options" "$there"
done
same "outputs of the manual page" "$outputs" \
    "$(part '^\.SH FILES' '^\.SH EXIT' | grep '^\.BR .*fI' |
        sed 's/"[^"]*"//g; s/^\.BR//; s/\\//g' | words | sed '/^$/d')"
same "exit statuses of the manual page" "$statuses" \
    "$(part '^\.SH EXIT STATUS' '^\.PP' | awk '
        /^\.B / { status = $2; next } /^\.TP/ { next } { print status, $0 }')"

# ---- README
same "commands of the README" "$commands" \
    "$(sed -n 's/^| `backpot \([a-z]*\).*/\1/p' "$SRC/README.md" | words)"

# ---- bash: ask the completion itself
complete_words() { # complete_words WORD...: what is offered for the last one
    bash -c 'source "$1"; shift; COMP_WORDS=(backpot "$@"); COMP_CWORD=$#
        _backpot 2> /dev/null; printf "%s\n" "${COMPREPLY[@]}"' bash "$bash_file" "$@" | words
}
same "commands of the bash completion" "$commands" "$(complete_words '' | grep -v '^--')"
for command in $commands; do
    same "options of $command in the bash completion" \
        "$( (options_of "$command"; echo --help) | sed '/^$/d' | words)" \
        "$(complete_words "$command" -)"
done
same "outputs of the bash completion" "$outputs" "$(complete_words plan --only '')"
same "the second name of a list" "labels,pull-csv
labels,pull-list
labels,pull-sheet" "$(complete_words plan --without labels,pu)"

# ---- zsh: its file, read as text
same "commands of the zsh completion" "$commands" \
    "$(sed -n "s/^    '\\([a-z]*\\):.*'\$/\\1/p" "$zsh_file" | words)"
for command in $commands; do
    options=$(options_of "$command")
    [ -n "$options" ] || continue
    same "options of $command in the zsh completion" "$options" \
        "$(sed -n "/^$command)/,/;;/p" "$zsh_file" |
            sed -n "s/^[^[]*\\(--[a-z]*\\)[[}].*/\\1/p" | grep -v '^--help$' | words)"
done
same "outputs of the zsh completion" "$outputs" \
    "$(sed -n 's/^outputs=(\(.*\))$/\1/p' "$zsh_file" | words)"
check "zsh reads the completion" zsh -n "$zsh_file"
total
