#!/usr/bin/env bash
# Sourced by app/start.sh and tests/run.sh: installs what app/packages.txt names and is missing.
# Expects $root (the checkout) and, for its output, $log (a file).
# shellcheck disable=SC2154  # these two

# packages_of GROUP...: their packages, one a line.
packages_of() {
    local group
    for group in "$@"; do
        sed -n "s/^$group  *//p" "$root/app/packages.txt"
    done
}

# missing_packages GROUP...: those that are not installed, on one line. One query for all: a second
# start must be quick.
missing_packages() {
    local wanted installed
    wanted=$(packages_of "$@" | sort -u)
    # shellcheck disable=SC2086  # a list of names
    installed=$(dpkg-query -W -f='${db:Status-Status} ${Package}\n' $wanted 2>/dev/null |
        sed -n 's/^installed //p' | sort -u)
    comm -23 <(printf '%s\n' "$wanted") <(printf '%s\n' "$installed") | tr '\n' ' '
}

# as_root COMMAND...: with sudo if need be.
as_root() {
    if [ "$(id -u)" -eq 0 ]; then "$@"; else sudo "$@"; fi
}

# Says why before sudo asks for a password; fails when there is no way to become root.
announce_installation() {
    local missing=$1
    if [ "$(id -u)" -eq 0 ]; then
        echo "Installing what is missing (about two minutes, once)..."
        return 0
    fi
    if ! command -v sudo >/dev/null; then
        echo "Some packages are missing and this account may not install them." \
             "Please ask an administrator to run: apt-get install $missing"
        return 1
    fi
    echo "Some packages are missing: $missing"
    echo "They are now installed with sudo, which may ask for your password."
}

# Ubuntu keeps most of the packages in "universe", which may be switched off; all that apt says then
# is that it knows no such name. Needs the lists that "apt-get update" fetches.
universe_is_off() {
    local parts
    # shellcheck disable=SC2016  # apt's own variables
    parts=$(apt-get indextargets --format '$(ORIGIN) $(COMPONENT)' 2>>"$log")
    grep -q '^Ubuntu ' <<<"$parts" && ! grep -qx 'Ubuntu universe' <<<"$parts"
}

# install_missing GROUP...: does nothing, quickly, when all is there.
install_missing() {
    local missing
    if ! command -v apt-get >/dev/null || ! command -v dpkg-query >/dev/null; then
        echo "This system has no apt; if the build fails, install what app/packages.txt lists."
        return 0
    fi
    missing=$(missing_packages "$@")
    [ -n "${missing// /}" ] || return 0
    announce_installation "$missing" || return 1
    export DEBIAN_FRONTEND=noninteractive
    as_root apt-get -q -o DPkg::Lock::Timeout=300 update >>"$log" 2>&1 || true
    # "env" because sudo drops the variable.
    # shellcheck disable=SC2086  # a list of names
    as_root env DEBIAN_FRONTEND=noninteractive apt-get -q -y -o DPkg::Lock::Timeout=300 \
        -o Acquire::Retries=3 install --no-install-recommends $missing >>"$log" 2>&1 </dev/null &&
        return 0
    if universe_is_off; then
        echo "Most of these packages are in the part of Ubuntu called universe, which is switched" \
             "off here. Please run: sudo add-apt-repository universe"
    fi
    return 1
}
