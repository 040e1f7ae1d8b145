# tests/scripts/install.sh - what `make install` puts in place works from there, and
# `make uninstall` takes all of it away.
set -u
: "${BACKPOT:?}" "${SRC:?}"
[ -z "${SAN-}" ] || { # a library with sanitizers is not for installing
    echo "1 passed, 0 failed"
    exit 0
}
. "$SRC/tests/support/script.sh"
# The environment of the outer make is not for the inner one; nor is what it measures.
install() {
    env -u MAKEFLAGS -u MFLAGS -u MAKELEVEL -u COVER make -C "$SRC" --no-print-directory "$@" \
        PREFIX=/opt/backpot DESTDIR="$dir/root"
}
at=$dir/root/opt/backpot

check "install" install install
for file in bin/backpot lib/libbackpot.a lib/libbackpot.so lib/pkgconfig/backpot.pc \
    include/backpot/backpot.h share/man/man1/backpot.1 share/backpot/show.schema.json \
    share/bash-completion/completions/backpot share/zsh/site-functions/_backpot \
    share/backpot/shows/harbour-breakfast.json; do
    check "$file is there" [ -s "$at/$file" ]
done
check "the program runs from there" "$at/bin/backpot" check \
    "$at/share/backpot/shows/harbour-breakfast.json"
check "manual page" sh -c 'MANPATH=$1/share/man man -w backpot | grep -qF "$1"' sh "$at"
check "its paths are those after moving" grep -q '^prefix=/opt/backpot$' \
    "$at/lib/pkgconfig/backpot.pc"

cat > "$dir/user.c" << 'END'
#include <backpot/backpot.h>
#include <stdio.h>
int main(int argc, char **argv)
{
    static bp_errors errs;
    bp_show *show = NULL;
    bp_code rc = argc == 2 ? bp_show_open(&show, argv[1], &errs) : BP_EVALUE;
    puts(bp_code_text(rc));
    bp_show_free(show);
    return rc != BP_OK;
}
END
export PKG_CONFIG_PATH="$at/lib/pkgconfig" PKG_CONFIG_SYSROOT_DIR=
flags() {
    pkg-config --define-variable=prefix="$at" "$@" backpot
}
# shellcheck disable=SC2046 # lists of words
check "a program builds against the shared library" \
    cc -std=c11 -o "$dir/shared" "$dir/user.c" $(flags --cflags --libs)
check "and asks for it by its soname" sh -c 'readelf -d "$1" | grep -q "libbackpot\.so\.0"' sh \
    "$dir/shared"
check "and runs" env LD_LIBRARY_PATH="$at/lib" "$dir/shared" \
    "$at/share/backpot/shows/harbour-breakfast.json"
# A program that uses every function of the public headers, built where nothing but what is installed can
# be found.
mkdir "$dir/clean" && cd "$dir/clean" || exit 1
printf '#include <backpot/backpot.h>\n' > all.h.c
# shellcheck disable=SC2046
check "the public headers compile alone" cc -std=c11 -Wall -Wextra -Werror -fsyntax-only -aux-info declared \
    $(flags --cflags) all.h.c
sed -n "s|^/\* $at/include/backpot/.*[ *]\(bp_[a-z0-9_]*\) (.*|\1|p" declared | LC_ALL=C sort -u > names
nm -D --defined-only "$at/lib/libbackpot.so" |
    sed -n 's/.* T \(bp_[a-z0-9_]*\)@.*/\1/p' | LC_ALL=C sort -u > exported
check "what the headers declare is what the library exports" diff names exported
check "and is not nothing" [ "$(wc -l < names)" -ge 70 ]
{
    printf '#include <backpot/backpot.h>\n#include <stdio.h>\n'
    printf 'int main(void)\n{\n    size_t n = 0;\n    void (*f[])(void) = {\n'
    sed 's/.*/        (void (*)(void))&,/' names
    printf '    };\n    for (size_t i = 0; i < sizeof f / sizeof *f; i++)\n        n += f[i] != NULL;\n'
    printf '    printf("%%zu functions\\n", n);\n    return n < 70;\n}\n'
} > every.c
# shellcheck disable=SC2046
check "a program with all of them builds" \
    cc -std=c11 -Wall -Wextra -Werror -Wno-cast-function-type -o every every.c $(flags --cflags --libs)
check "and runs" env LD_LIBRARY_PATH="$at/lib" ./every
for header in "$at"/include/backpot/*.h; do
    name=backpot/$(basename "$header")
    [ "$name" = backpot/backpot.h ] || check "$name is part of backpot/backpot.h" \
        grep -qF "#include \"$name\"" "$at/include/backpot/backpot.h"
done
cd / || exit 1
rm -f "$at"/lib/libbackpot.so*
# shellcheck disable=SC2046
check "a program builds against the static library" \
    cc -std=c11 -o "$dir/static" "$dir/user.c" $(flags --cflags --libs --static)
check "and runs alone" "$dir/static" "$at/share/backpot/shows/harbour-breakfast.json"

check "install again" install install
check "only public names leave the shared library" sh -c \
    '! nm -D --defined-only "$1" | grep -v " BACKPOT_0$" | grep -v " bp_"' sh \
    "$at/lib/libbackpot.so"
check "uninstall" install uninstall
check "nothing is left" [ -z "$(find "$dir/root" ! -type d)" ]

total
