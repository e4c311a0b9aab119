#!/usr/bin/env bash
# Installs what is missing, builds, and opens the coach. See --help.
set -u

root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)

help() {
    cat <<'TEXT'
Starts Holdwell from this folder: installs what is missing, builds it, opens the coach.

  bash app/start.sh               open the coach in its window
  bash app/start.sh --demo        look around: eight weeks of an invented client; nothing is kept
  bash app/start.sh --terminal    coach here in the terminal, without a window
  bash app/start.sh --help        this page

Anything else is handed to the program: bash app/start.sh measure my-hold.wav

The first start takes some minutes, later ones a second. Without a microphone a demonstration
is played; without a display the coach speaks in the terminal. Packages are installed with apt
on Debian and Ubuntu; sudo is used only if something is missing and you are not root.
TEXT
}

mode=window
case ${1:-} in
-h | --help) help && exit 0 ;;
--demo) mode=demo ;;
--terminal) mode=terminal ;;
"") ;;
*) mode="command" ;;
esac

build=${HOLDWELL_BUILD:-$root/build-start}
if ! mkdir -p "$build" 2>/dev/null || [ ! -w "$build" ]; then
    build=${XDG_CACHE_HOME:-$HOME/.cache}/holdwell/build-start
    mkdir -p "$build" || exit 1
fi
log=$build/start-log.txt
program=$build/app/holdwell
: >"$log"
# shellcheck source=app/packages.sh
source "$root/app/packages.sh"

# fail SENTENCE: the end of the log, then what to do.
fail() {
    tail -n 15 "$log" >&2
    echo >&2
    echo "Sorry, Holdwell could not start: $1 The whole story is in $log." >&2
    exit 1
}

build_program() {
    [ -x "$program" ] || echo "Building Holdwell (some minutes, once)..." >&2
    if [ ! -f "$build/build.ninja" ]; then
        cmake -S "$root" -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=Release -DHOLDWELL_TESTS=OFF \
            >>"$log" 2>&1 || return 1
    fi
    cmake --build "$build" --target holdwell >>"$log" 2>&1
}

# The demonstration to play, if there is one.
demo_session() {
    local session
    for session in "$root"/demo-sessions/*good*.flac "$root"/demo-sessions/*.flac; do
        [ -f "$session" ] && echo "$session" && return
    done
}

install_missing build run >&2 ||
    fail "some packages could not be installed; check that this computer is online and try again."
build_program || fail "it could not be built; please send this file to the people who look after it."

# Plans to begin from.
export HOLDWELL_PLANS=$root/assets/plans
[ "$mode" = "command" ] && exec "$program" "$@"

demo=$(demo_session)
export HOLDWELL_DEMO=$demo
if [ "$mode" != demo ] && ! "$program" devices >/dev/null 2>>"$log"; then
    echo "No microphone was found, so a recorded demonstration is played instead."
    [ "$mode" = terminal ] || mode=replay
    without_microphone=yes
fi
if [ "$mode" != terminal ] && [ -z "${DISPLAY:-}" ]; then
    echo "There is no display here, so the coach speaks in the terminal."
    [ "$mode" = window ] || without_microphone=yes
    mode=terminal
fi

# open_window ARGUMENT...: a window that cannot open fails at once; then the terminal serves.
open_window() {
    local began=$SECONDS
    "$program" "$@" && exit 0
    [ $((SECONDS - began)) -le 5 ] || exit 1
    echo "The window could not be opened, so the coach speaks in the terminal."
}

case $mode in
window) open_window ;;
replay) open_window --demo "$demo" ;;
demo) open_window --example "$root/demo-sessions/clients" ;;
esac
if [ "$mode" = demo ] || [ "$mode" = replay ] || [ -n "${without_microphone:-}" ]; then
    exec "$program" coach --file "$demo"
fi
exec "$program" coach
