#!/usr/bin/env bash
# start.sh BUILD: the start script on a machine without microphone and display, with everything
# already built in BUILD.
set -eu

build=$1
root=$(cd "$(dirname "${BASH_SOURCE[0]}")/../.." && pwd)
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT

# No sound server to be found, no display, and nobody's settings.
start() {
    env -u DISPLAY -u WAYLAND_DISPLAY -u PULSE_SERVER HOME="$scratch" XDG_RUNTIME_DIR="$scratch" \
        XDG_CONFIG_HOME="$scratch" HOLDWELL_BUILD="$build" bash "$root/app/start.sh" "$@"
}

expect() {
    grep -qF "$1" "$scratch/out.txt" || {
        echo "missing: $1"
        cat "$scratch/out.txt"
        exit 1
    }
}

start --help >"$scratch/out.txt"
expect "bash app/start.sh --demo"

start --version >"$scratch/out.txt"
expect "holdwell "

# A start when everything is there, on a recorded demonstration that is played in real time.
start >"$scratch/out.txt" 2>&1 </dev/null
expect "No microphone was found"
expect "There is no display here"
expect "Held for "
# It is quick because nothing is installed and nothing is built.
if grep -qi "install" "$scratch/out.txt"; then
    echo "something was installed by a second start"
    exit 1
fi
grep -q "no work to do" "$build/start-log.txt" || {
    echo "something was built by a second start"
    cat "$build/start-log.txt"
    exit 1
}
