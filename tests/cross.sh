# tests/cross.sh MACHINE LAYER... - the unit suites of the layers on a machine of another kind, played by
# qemu-user: s390x (most significant byte first) or armhf (32 bit, char without a sign).
#
# Debian's cross compiler and its libraries for that machine, unpacked under build/cross and installed
# nowhere. Needs the network once.
set -eu
: "${SRC:?}"
machine=${1:?}
shift
case $machine in
s390x) triple=s390x-linux-gnu player=qemu-s390x cc=gcc-s390x-linux-gnu ;;
armhf) triple=arm-linux-gnueabihf player=qemu-arm cc=gcc-arm-linux-gnueabihf ;;
*)
    echo "known machines are s390x and armhf" >&2
    exit 2
    ;;
esac
sh "$SRC/tests/need.sh" qemu-user "$cc" "libc6-dev-$machine-cross"

at=$SRC/build/cross/$machine
root=$at/root
if ! [ -e "$at/ready" ]; then
    mkdir -p "$at/state/lists/partial" "$at/cache/archives/partial" "$root"
    : > "$at/status"
    cat > "$at/apt.conf" << END
Dir::State "$at/state";
Dir::State::status "$at/status";
Dir::Cache "$at/cache";
APT::Architecture "$machine";
APT::Architectures { "$machine"; };
APT::Sandbox::User "root";
END
    # One list that is in the way (a mirror half updated) is no reason: what is needed stands in the others.
    APT_CONFIG=$at/apt.conf apt-get update -q || echo "not all lists could be fetched; going on" >&2
    (cd "$at" && APT_CONFIG=$at/apt.conf apt-get download -q libical-dev libical3 libcjson-dev libcjson1 \
        uuid-dev libuuid1 check libsubunit0 libsubunit-dev libicu72 libstdc++6 libgcc-s1 libc6 libc6-dev \
        linux-libc-dev)
    for package in "$at"/*.deb; do
        dpkg -x "$package" "$root"
    done
    touch "$at/ready"
fi

run_make() {
    make -C "$SRC" --no-print-directory CC="$triple-gcc --sysroot=$root" LAYERS="$*" \
        PKG_CFLAGS="-I$root/usr/include/uuid" PKG_LIBS='-lical -lcjson -luuid -lm' \
        CLI_LIBS= TEST_LIBS='-lcheck -lsubunit -lrt -lpthread -lm' "$goal"
}
goal=build-tests
run_make "$@"
program=$SRC/build/variant-$triple-gcc/tests
# A player for tests/run.sh, which runs each suite by itself.
cat > "$at/tests" << END
#!/bin/sh
exec $player -L $root $program "\$@"
END
chmod +x "$at/tests"
# Played, all takes ten times as long or more.
export CK_DEFAULT_TIMEOUT=3000
SCRIPTS=none BACKPOT=none sh "$SRC/tests/run.sh" "$at/tests"
