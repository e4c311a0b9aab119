#!/usr/bin/env bash
# package.sh BUILD: makes the Debian package from a release build and looks at what is in it.
set -eu

build=$1
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT

(cd "$build" && cpack -G DEB -B "$scratch" >"$scratch/cpack.txt" 2>&1) || {
    cat "$scratch/cpack.txt"
    exit 1
}
package=$(echo "$scratch"/holdwell_*.deb)
contents=$(dpkg-deb --contents "$package" | awk '{print $6}')
for file in \
    ./usr/bin/holdwell \
    ./usr/share/applications/holdwell.desktop \
    ./usr/share/icons/hicolor/scalable/apps/holdwell.svg \
    ./usr/share/man/man1/holdwell.1.gz \
    ./usr/share/bash-completion/completions/holdwell \
    ./usr/share/zsh/vendor-completions/_holdwell \
    ./usr/share/doc/holdwell/copyright \
    ./usr/share/doc/holdwell/changelog.gz \
    ./usr/share/holdwell/demo-sessions/README.md; do
    grep -qxF "$file" <<<"$contents" || {
        echo "the package lacks $file"
        exit 1
    }
done
if grep -qE '\.(a|h|cpp)$' <<<"$contents"; then
    echo "the package holds files that only a build needs"
    exit 1
fi
# Found by dpkg-shlibdeps in the program itself.
dpkg-deb --field "$package" Depends | grep -q libsndfile1 || {
    echo "the package does not depend on libsndfile1"
    exit 1
}
dpkg-deb --extract "$package" "$scratch/root"
desktop-file-validate "$scratch/root/usr/share/applications/holdwell.desktop"
"$scratch/root/usr/bin/holdwell" --version
