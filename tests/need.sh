# tests/need.sh PACKAGE... - install the Debian packages that are missing; silent when none is.
#
# Runs as root or through a sudo that asks nothing. Elsewhere it can only say what is needed.
set -eu

command -v dpkg-query > /dev/null || {
    echo "This is not Debian: install what these packages are called here: $*" >&2
    exit 0 # the build finds out what is really missing
}
have=$(dpkg-query -W -f '${db:Status-Status} ${Package}\n' "$@" 2> /dev/null || true)
missing=
for package in "$@"; do
    case "
$have
" in
    *"
installed $package
"*) ;;
    *) missing="$missing $package" ;;
    esac
done
[ -n "$missing" ] || exit 0

root=
if [ "$(id -u)" -ne 0 ]; then
    if ! sudo -n true 2> /dev/null; then
        echo "These packages are missing, and only root can install them:" >&2
        echo "    apt-get install$missing" >&2
        exit 1
    fi
    root="sudo -n"
fi

mkdir -p build
log=build/install.log
install_all() {
    # shellcheck disable=SC2086 # lists of words
    $root env DEBIAN_FRONTEND=noninteractive apt-get install -y -q -o DPkg::Lock::Timeout=300 \
        --no-install-recommends $missing < /dev/null >> "$log" 2>&1
}
: > "$log"
echo "installing$missing"
# The package lists of a fresh system are empty or old: fetch them only when they are in the way.
install_all || {
    $root apt-get update -q < /dev/null >> "$log" 2>&1 && install_all
} || {
    cat "$log" >&2
    echo "installing failed" >&2
    exit 1
}
