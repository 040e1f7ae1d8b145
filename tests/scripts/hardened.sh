# tests/scripts/hardened.sh - what the release build promises of the program and the shared library, read
# from the files by binutils' readelf: they lie anywhere, their tables are read-only once they run,
# no stack can be run, stacks are guarded, copies are checked, jumps land only where they may.
set -u
: "${BACKPOT:?}" "${SRC:?}" "${BUILD:?}"
. "$SRC/tests/support/script.sh"
if [ -n "${SAN:-}" ] || readelf -sW "$BACKPOT" | grep -q gcov; then
    echo "not a release build: nothing to look at"
    exit 0
fi
for file in "$BACKPOT" "$BUILD"/libbackpot.so.0; do
    name=${file##*/}
    readelf -hldnW "$file" > "$dir/elf"
    readelf --dyn-syms -W "$file" > "$dir/names"
    grep -q 'Type: *DYN' "$dir/elf"
    note $? "$name lies at a fixed address"
    grep -q 'GNU_RELRO' "$dir/elf" && grep -q 'BIND_NOW\|FLAGS_1.*NOW' "$dir/elf"
    note $? "$name: its tables can be written"
    grep 'GNU_STACK' "$dir/elf" | grep -q ' RW  *0x'
    note $? "$name: its stack can be run"
    grep -q '__stack_chk_fail' "$dir/names"
    note $? "$name: its stacks are not guarded"
    grep -q '__snprintf_chk\|__memcpy_chk\|__vsnprintf_chk' "$dir/names"
    note $? "$name: its copies are not checked"
    case $(uname -m) in
    x86_64 | i?86)
        # (Debian's own start-up files are not marked for it, so the whole file cannot be.)
        [ "$(objdump -d --no-show-raw-insn "$file" | grep -c endbr64)" -gt 100 ]
        note $? "$name: its jumps may land anywhere"
        ;;
    esac
done
total 5
