#!/usr/bin/env bash
# other_release.sh RELEASE [FOLDER]: what is committed, on another release of Debian, begun from
# nothing: the start script as a newcomer runs it, without microphone and display, by an account
# that has to use sudo; the same once more; then the tests. Run by hand, as root, with debootstrap
# installed and Debian's server in reach; takes about half an hour.
#
#   bash tests/system/other_release.sh trixie                in a scratch folder, removed at the end
#   bash tests/system/other_release.sh sid /var/tmp/sid      in a folder that is kept for next time
#   HOLDWELL_TESTS=--quick bash tests/system/other_release.sh trixie      with the quick tests alone
#
# HOLDWELL_MIRROR names another server: with that of Ubuntu, and its keys installed, RELEASE may be
# one of Ubuntu's.
set -eu

fail() {
    echo "$*" >&2
    exit 1
}
[ $# -ge 1 ] || fail "usage: other_release.sh RELEASE [FOLDER]"
[ "$(id -u)" -eq 0 ] || fail "please run this as root: it makes a system within this one"

# Mounts and processes of its own, which are gone when it ends however it ends.
if [ -z "${HOLDWELL_APART:-}" ]; then
    exec env HOLDWELL_APART=yes unshare --mount --pid --fork --kill-child bash "$0" "$@"
fi

release=$1
mirror=${HOLDWELL_MIRROR:-http://deb.debian.org/debian}
root=$(cd "$(dirname "${BASH_SOURCE[0]}")/../.." && pwd)
if [ $# -ge 2 ]; then
    system=$2
else
    system=$(mktemp -d --tmpdir "holdwell-$release-XXXXXX")
    trap 'umount -R "$system/proc" "$system/dev/pts" "$system/dev/shm" 2>/dev/null; rm -rf "$system"' EXIT
fi

# inside COMMAND: by root there.
inside() {
    chroot "$system" /bin/bash -c "$1"
}

# as_singer COMMAND: by the account that has to use sudo, in the folder of Holdwell.
as_singer() {
    chroot "$system" /usr/bin/env -i PATH=/usr/sbin:/usr/bin:/sbin:/bin LANG=C.UTF-8 \
        runuser -l singer -c "cd holdwell && $1" </dev/null
}

make_system() {
    [ -x "$system/usr/bin/apt-get" ] ||
        debootstrap --variant=minbase "$release" "$system" "$mirror" >"$system.txt" 2>&1 ||
        fail "debootstrap failed; $system.txt says why"
    rm -f "$system.txt"
    mount -t proc proc "$system/proc"
    mkdir -p "$system/dev/pts" "$system/dev/shm"
    mount -t devpts -o newinstance,ptmxmode=0666 devpts "$system/dev/pts"
    mount -t tmpfs tmpfs "$system/dev/shm"
    cp -L /etc/resolv.conf "$system/etc/resolv.conf"
    # A mirror that has fallen behind will do, and nothing there needs to outlive a power cut.
    echo 'Acquire::Check-Valid-Until "false";' >"$system/etc/apt/apt.conf.d/99-holdwell"
    echo force-unsafe-io >"$system/etc/dpkg/dpkg.cfg.d/holdwell"
    # Packages start no services there.
    printf '#!/bin/sh\nexit 101\n' >"$system/usr/sbin/policy-rc.d"
    chmod +x "$system/usr/sbin/policy-rc.d"
    grep -qw "$(hostname)" "$system/etc/hosts" 2>/dev/null ||
        echo "127.0.0.1 localhost $(hostname)" >>"$system/etc/hosts"
}

make_account() {
    inside 'command -v sudo >/dev/null || { apt-get -qq update && apt-get -qq -y install sudo; }' \
        >/dev/null 2>&1 || fail "sudo could not be installed"
    inside 'id singer >/dev/null 2>&1 || useradd -m -s /bin/bash singer'
    echo 'singer ALL=(ALL) NOPASSWD: ALL' >"$system/etc/sudoers.d/singer"
    mkdir -p "$system/home/singer/holdwell"
    git -C "$root" archive HEAD | tar -x -C "$system/home/singer/holdwell"
    inside 'chown -R singer: /home/singer'
}

# expect SENTENCE FILE: it was said there.
expect() {
    grep -qF "$1" "$2" || fail "$(cat "$2")" "missing: $1"
}

first_start() {
    local said=$system/home/singer/first-start.txt began=$SECONDS
    as_singer 'bash app/start.sh' >"$said" 2>&1 || fail "$(cat "$said")" "the first start failed"
    cat "$said"
    expect "No microphone was found" "$said"
    expect "There is no display here" "$said"
    expect "Held for " "$said"
    echo "The first start, with the demonstration: $((SECONDS - began)) s"
}

make_system
make_account
inside 'sed -n s/^PRETTY_NAME=//p /etc/os-release'
first_start
as_singer 'g++ --version | head -n 1'
as_singer 'bash tests/system/start.sh /home/singer/holdwell/build-start'
echo "The second start installs and builds nothing, and is quick."
as_singer "bash tests/run.sh ${HOLDWELL_TESTS:-}"
