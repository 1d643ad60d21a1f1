#!/usr/bin/env bash
# Installs the package for Debian on a bare system and starts it there: a command, the man page,
# then the window. With an archive, unpacks that too, once the package is gone again, and starts
# it from the folder it was unpacked into. The bare system is a folder, made by debootstrap if it
# is not there.
#
# usage (as root): scripts/test_package.sh PACKAGE.deb FOLDER [ARCHIVE.tar.gz]
# needs: debootstrap, Xvfb, xdotool
set -euo pipefail
package=$(realpath "$1")
bare=$(realpath -m "$2")
archive=${3:+$(realpath "$3")}
suite=${SUITE:-bookworm}
picture=${PICTURE:-/tmp/package.png}
example=$(realpath "$(dirname "$0")/../examples/oat-and-juniper-shower-gel.formula.ron")

if [ ! -x "$bare/usr/bin/apt-get" ]; then
    debootstrap --variant=minbase "$suite" "$bare"
fi
cp /etc/resolv.conf "$bare/etc/resolv.conf" 2>/dev/null || true
cp "$package" "$bare/tmp/package.deb"
cp "$example" "$bare/tmp/example.formula.ron"
enter=(chroot "$bare" /usr/bin/env -i PATH=/usr/bin:/bin:/usr/sbin:/sbin HOME=/tmp/home DEBIAN_FRONTEND=noninteractive)
in_bare() { "${enter[@]}" "$@"; }

screen=:97
Xvfb $screen -screen 0 1280x800x24 > /dev/null 2>&1 &
server=$!
trap 'kill $server 2>/dev/null || true' EXIT

# opens PROGRAM PICTURE: the window of a program in the bare system opens and is drawn
opens() {
    # Not by the function: ending its shell would leave the window on the screen, to be taken
    # for the next one.
    "${enter[@]}" DISPLAY=$screen XDG_RUNTIME_DIR=/tmp "$1" /tmp/example.formula.ron &
    local window=$!
    for _ in $(seq 100); do
        if DISPLAY=$screen xdotool search --onlyvisible --name Phasewright > /dev/null 2>&1; then
            echo "the window is there"
            sleep 2
            if command -v import > /dev/null; then DISPLAY=$screen import -window root "$2"; fi
            kill $window
            wait $window || true
            return 0
        fi
        kill -0 $window 2>/dev/null || { echo "it ended by itself" >&2; return 1; }
        sleep 0.1
    done
    echo "no window after ten seconds" >&2
    kill $window
    return 1
}

echo "== what it brings along"
before=$(in_bare dpkg-query -W | wc -l)
in_bare apt-get update -qq
in_bare apt-get install -y -qq --no-install-recommends /tmp/package.deb > /dev/null
echo "$(($(in_bare dpkg-query -W | wc -l) - before)) packages, $(in_bare dpkg-query -W -f '${Installed-Size}' phasewright) KiB of its own"

echo "== a command"
in_bare phasewright --version
in_bare phasewright check /tmp/example.formula.ron > /dev/null && echo "checked"
in_bare test -e /usr/share/man/man1/phasewright.1.gz || in_bare sh -c "grep -q man /etc/dpkg/dpkg.cfg.d/* && echo 'man pages are left out by this system'"
in_bare test -e /usr/share/applications/phasewright.desktop && echo "desktop entry there"

echo "== the window"
opens phasewright "$picture"
in_bare apt-get purge -y -qq phasewright > /dev/null
in_bare sh -c '! command -v phasewright' && echo "and gone again"

if [ -n "$archive" ]; then
    echo "== the archive"
    in_bare rm -rf /tmp/elsewhere
    in_bare mkdir -p /tmp/elsewhere
    tar -xzf "$archive" -C "$bare/tmp/elsewhere"
    program=$(cd "$bare" && find tmp/elsewhere -type f -name phasewright -perm -u+x | head -1)
    in_bare "/$program" --version
    in_bare "/$program" check /tmp/example.formula.ron > /dev/null && echo "checked"
    opens "/$program" "${picture%.png}-archive.png"
fi
