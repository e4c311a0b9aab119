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

began=$(date +%s%N)
start >"$scratch/out.txt" 2>&1 </dev/null &
coach=$!
# The demonstration is played in real time; its first lines come at once.
for _ in $(seq 40); do
    grep -q "Listening to" "$scratch/out.txt" && break
    sleep 0.05
done
took_ms=$((($(date +%s%N) - began) / 1000000))
wait "$coach"
expect "No microphone was found"
expect "There is no display here"
expect "Held for "
if [ "$took_ms" -gt 2000 ]; then
    echo "a second start took $took_ms ms"
    exit 1
fi
