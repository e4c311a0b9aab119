#!/usr/bin/env bash
# The installation of packages, with an apt, a dpkg and a sudo that only write down what they are
# asked: sudo is said before it is used, nothing is done when nothing is missing, and an Ubuntu
# without "universe" is told what to do.
set -eu

root=$(cd "$(dirname "${BASH_SOURCE[0]}")/../.." && pwd)
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
mkdir "$scratch/bin"

# program NAME LINE...: a stand-in.
program() {
    local name=$1
    shift
    printf '%s\n' '#!/bin/bash' "$@" >"$scratch/bin/$name"
    chmod +x "$scratch/bin/$name"
}
# shellcheck disable=SC2016  # for the stand-ins to expand
program apt-get '[ "$1" = indextargets ] && printf "$PARTS" && exit' 'echo "apt-get $*" >>"$CALLS"' \
    '[[ " $* " != *" install "* ]]'
# shellcheck disable=SC2016
program dpkg-query '[ -n "$INSTALLED" ] || exit 1' 'shift 2' 'printf "installed %s\n" "$@"'
# shellcheck disable=SC2016
program sudo 'grep -q "installed with sudo" "$OUT" || echo "sudo, unannounced" >>"$CALLS"' 'exec "$@"'
program id 'echo 1000'

# install INSTALLED PARTS: what is said and done; its status is that of the installation.
install() {
    : >"$scratch/calls.txt"
    # shellcheck disable=SC2016
    env PATH="$scratch/bin:$PATH" CALLS="$scratch/calls.txt" OUT="$scratch/out.txt" \
        INSTALLED="$1" PARTS="$2" root="$root" log="$scratch/log.txt" \
        bash -c 'source "$root/app/packages.sh" && install_missing build run' >"$scratch/out.txt"
}
fail() {
    echo "$1"
    cat "$scratch/out.txt" "$scratch/log.txt"
    exit 1
}

install yes '' || fail "nothing is missing, and yet it failed"
[ "$(cat "$scratch/calls.txt" "$scratch/out.txt")" = "" ] || fail "something was done for nothing"

install '' 'Ubuntu main\nUbuntu restricted\n' && fail "an installation that failed was not noticed"
grep -q 'sudo add-apt-repository universe' "$scratch/out.txt" || fail "universe is not named"
grep -q ' install .*libaubio-dev' "$scratch/calls.txt" || fail "the packages were not asked for"
grep -q 'unannounced' "$scratch/calls.txt" && fail "sudo is used before it is said"

for parts in 'Ubuntu main\nUbuntu universe\n' 'Debian main\n' ''; do
    install '' "$parts" && fail "an installation that failed was not noticed"
    grep -q universe "$scratch/out.txt" && fail "universe is named where it is not missing: $parts"
done
echo "packages are asked for, and what is said is right"
