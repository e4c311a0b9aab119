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
# Resident memory by what it belongs to, in kB: TOTAL PROGRAM LIBRARIES RENDERER PICTURES HEAP.
# RENDERER: the files of Mesa, LLVM and what they load. PICTURES: shared with the display. HEAP:
# everything without a file, the renderer's own included (see the note at the end).
kilobytes() {
    awk '/^[0-9a-f]+-/ {
             kind = "heap"
             if ($6 ~ /^\//) kind = "libraries"
             if ($6 ~ /\/holdwell$/) kind = "program"
             if ($6 ~ /LLVM|\/dri\/|gallium|libz3|libGLX_mesa|libglapi/) kind = "renderer"
             if ($6 ~ /^\/SYSV/) kind = "pictures"
         }
         $1 == "Rss:" { all += $2; of[kind] += $2 }
         END { print all, of["program"] + 0, of["libraries"] + 0, of["renderer"] + 0,
                     of["pictures"] + 0, of["heap"] + 0 }' "/proc/$coach_pid/smaps"
}

# LABEL SECONDS
watch() {
    local before after hz
    hz=$(getconf CLK_TCK)
    before=$(ticks)
    sleep "$2"
    after=$(ticks)
    kilobytes | awk -v label="$1" -v t=$((after - before)) -v hz="$hz" -v s="$2" '{
        printf "%-18s %5.1f %% of a core, %6.1f MB resident: program %.1f, libraries %.1f, " \
               "heap %.1f, renderer %.1f, its pictures %.1f\n",
            label, 100 * t / hz / s, $1 / 1024, $2 / 1024, $3 / 1024, $6 / 1024, $4 / 1024,
            $5 / 1024 }'
}

Xvfb -displayfd 3 -screen 0 1280x800x24 -nolisten tcp 3>"$scratch/number" 2>/dev/null &
display_pid=$!
for _ in $(seq 50); do [ -s "$scratch/number" ] && break; sleep 0.1; done
DISPLAY=:$(cat "$scratch/number")
export DISPLAY
export XDG_CONFIG_HOME=$scratch/config XDG_DATA_HOME=$scratch/data
mkdir -p "$XDG_CONFIG_HOME/holdwell"
echo "cautions = read" >"$XDG_CONFIG_HOME/holdwell/settings"

"$build/app/holdwell" --demo "$recording" >/dev/null 2>&1 &
coach_pid=$!
sleep 3
kill -0 "$coach_pid" || { echo "the window did not open" >&2; exit 1; }
watch "a hold under way" 10
sleep 10
watch "nothing happens" 10
# With LLVM some 14 MB of the heap are the renderer's as well (heaptrack: what it allocates while it
# is loaded and compiles); all that is ours in it, letters and records included, is below 3 MB.
