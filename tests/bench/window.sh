#!/usr/bin/env bash
# What the window costs: resident memory, and the share of one core, while a demonstration is heard
# and drawn, and while nothing happens. Under a virtual display, where the drawing itself is done by
# the processor and LLVM is loaded for it: on a desktop with a graphics card both are less.
#
#   tests/bench/window.sh BUILD [RECORDING]    BUILD: a build folder; RECORDING: heard for 15 s
set -euo pipefail

build=${1:?usage: tests/bench/window.sh BUILD [RECORDING]}
root=$(cd "$(dirname "${BASH_SOURCE[0]}")/../.." && pwd)
recording=${2:-$root/demo-sessions/1-good-hold.flac}
scratch=$(mktemp -d)
display_pid=
coach_pid=

clean_up() {
    for pid in $coach_pid $display_pid; do kill "$pid" 2>/dev/null || true; done
    wait 2>/dev/null || true
    rm -rf "$scratch"
}
trap clean_up EXIT

# Seconds of processor time so far, in hundredths.
ticks() { awk '{print $14 + $15}' "/proc/$coach_pid/stat"; }
kilobytes() { awk -v name="$1:" '$1 == name {print $2}' "/proc/$coach_pid/status"; }
# Of the code and data of the software renderer: mapped files of Mesa, LLVM and what they load.
renderer_kilobytes() {
    awk '/^[0-9a-f]+-/ {of_renderer = $0 ~ /LLVM|dri|gallium|libz3|libGLX_mesa/}
         $1 == "Rss:" && of_renderer {sum += $2}
         END {print sum + 0}' "/proc/$coach_pid/smaps"
}

# LABEL SECONDS
watch() {
    local before after hz
    hz=$(getconf CLK_TCK)
    before=$(ticks)
    sleep "$2"
    after=$(ticks)
    awk -v label="$1" -v t=$((after - before)) -v hz="$hz" -v s="$2" \
        -v rss="$(kilobytes VmRSS)" -v renderer="$(renderer_kilobytes)" 'BEGIN {
        printf "%-18s %5.1f %% of a core, %6.1f MB resident, of it %.1f MB the renderer\n",
            label, 100 * t / hz / s, rss / 1024, renderer / 1024 }'
}

Xvfb -displayfd 3 -screen 0 1280x800x24 -nolisten tcp 3>"$scratch/number" 2>/dev/null &
display_pid=$!
for _ in $(seq 50); do [ -s "$scratch/number" ] && break; sleep 0.1; done
export DISPLAY=:$(cat "$scratch/number")
export XDG_CONFIG_HOME=$scratch/config XDG_DATA_HOME=$scratch/data
mkdir -p "$XDG_CONFIG_HOME/holdwell"
echo "cautions = read" >"$XDG_CONFIG_HOME/holdwell/window.conf"

"$build/app/holdwell" --demo "$recording" >/dev/null 2>&1 &
coach_pid=$!
sleep 3
kill -0 "$coach_pid" || { echo "the window did not open" >&2; exit 1; }
watch "a hold under way" 10
sleep 10
watch "nothing happens" 10
