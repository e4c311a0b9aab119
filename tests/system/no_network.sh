#!/usr/bin/env bash
# no_network.sh BUILD: every command on plans and records, watched by strace: none of them opens a
# socket that could leave this computer. Built in BUILD.
set -eu

build=$1
root=$(cd "$(dirname "${BASH_SOURCE[0]}")/../.." && pwd)
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
export HOME=$scratch XDG_CONFIG_HOME=$scratch XDG_DATA_HOME=$scratch/share HOLDWELL_PLANS=$root/assets/plans

fail() {
    echo "$*" >&2
    exit 1
}

# watched COMMAND...: its system calls of the network are added to trace.txt.
watched() {
    strace -f -e trace=network -o "$scratch/one.txt" "$@" || fail "failed: $*"
    grep -q '+++ exited with' "$scratch/one.txt" || fail "strace saw nothing of: $*"
    cat "$scratch/one.txt" >>"$scratch/trace.txt"
    commands=$((commands + 1))
}

# Any socket but one to a program on the same computer (AF_UNIX).
far_sockets() {
    grep -E 'socket\(|connect\(|bind\(|sendto\(' "$1" | grep -v 'AF_UNIX' || true
}

# What is looked for is found when it is there: a shell that opens a connection to port 9.
commands=0
strace -f -e trace=network -o "$scratch/control.txt" \
    bash -c ': 2>/dev/null >/dev/tcp/127.0.0.1/9' 2>/dev/null || true
[ -n "$(far_sockets "$scratch/control.txt")" ] || fail "strace does not show a socket when there is one"

holdwell() { watched "$build/app/holdwell" "$@" >>"$scratch/out.txt"; }
home=$scratch/home
desk=$scratch/desk
printf 'a quiet passphrase\n' >"$scratch/passphrase"

holdwell plan templates
"$build/app/holdwell" plan new 1 >"$scratch/plan.json"
holdwell plan new 1
holdwell plan check "$scratch/plan.json"
holdwell plan show "$scratch/plan.json"
holdwell client add "C-17" --data "$desk"
holdwell import "$scratch/plan.json" --client "C-17" --yes --data "$desk"
holdwell export plan --client "C-17" --passphrase-file "$scratch/passphrase" \
    --out "$scratch/handed-over" --data "$desk"
holdwell client add "C-17" --data "$home"
holdwell import "$scratch/handed-over" --client "C-17" --passphrase-file "$scratch/passphrase" --yes --data "$home"
for file in "$root"/demo-sessions/clients/*.json; do
    holdwell import "$file" --yes --data "$desk"
done
code=$("$build/app/holdwell" client list --format csv --data "$desk" | sed -n '2s/,.*//p')
holdwell client list --all --data "$desk"
holdwell practice list --client "$code" --data "$desk"
holdwell export practices --client "$code" --out "$scratch/all.json" --data "$desk"
holdwell export table --client "$code" --day-numbers --out "$scratch/all.csv" --data "$desk"
holdwell report --client "$code" --out "$scratch/report.pdf" --data "$desk"
holdwell records --data "$desk"
holdwell client archive "$code" --data "$desk"
holdwell client delete "$code" --yes --data "$desk"
for file in "$scratch/report.pdf" "$scratch/all.json"; do
    [ -s "$file" ] || fail "$file was not written"
done

found=$(far_sockets "$scratch/trace.txt")
[ -z "$found" ] || fail "a socket was opened: $found"
echo "$commands commands, no socket that leaves this computer; local ones:" \
    "$(grep -c 'AF_UNIX' "$scratch/trace.txt" || true)"
