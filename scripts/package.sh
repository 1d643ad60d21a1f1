#!/usr/bin/env bash
# Makes what is handed out: an archive that runs from any folder and, where cargo-deb is
# installed (`cargo install cargo-deb`), a package for Debian. Both end in target/packages.
#
# PROFILE=release packs the usual release build, which is made in half the time.
set -euo pipefail
cd "$(dirname "$0")/.."
profile=${PROFILE:-dist}
built=${CARGO_TARGET_DIR:-target}
version=$(cargo metadata --no-deps --format-version 1 | sed -n 's/.*"name":"phasewright","version":"\([^"]*\)".*/\1/p')
machine=$(uname -m)
name="phasewright-$version-$machine"
out=target/packages
rm -rf target/shipped "$out/$name"
mkdir -p "$out/$name/bin"

cargo build --profile "$profile" --workspace --bin phasewright --example shipped
"$built/$profile/examples/shipped" target/shipped
find target/shipped/share/man -name '*.1' -exec gzip -9nf {} +

cp "$built/$profile/phasewright" "$out/$name/bin/"
cp -r target/shipped/share "$out/$name/"
cp README.md LICENSE-MIT LICENSE-APACHE assets/notices/third_party.txt "$out/$name/"
# The same bytes from the same sources, whoever packs them.
tar --sort=name --mtime=@0 --owner=0 --group=0 --numeric-owner -C "$out" -czf "$out/$name.tar.gz" "$name"

if command -v cargo-deb >/dev/null; then
    cargo deb -p phasewright --profile "$profile" --no-build --no-strip -o "$out/"
    if command -v lintian >/dev/null; then
        lintian --fail-on error "$out"/*.deb
    fi
else
    echo "cargo-deb is not installed: no package for Debian was made" >&2
fi
ls -l "$out"
