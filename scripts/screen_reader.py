#!/usr/bin/env python3
"""The window from outside, as a screen reader meets it: over AT-SPI, on a screen of its own.

usage: scripts/screen_reader.py [PROGRAM]     target/debug/phasewright is the usual program

On every sheet: each control has a name; sliders, fields of numbers and edges tell a value within
their range; F6 goes round the named regions; Tab meets named stops within the window, and within
a region as one reads. On the Formula sheet a new breach is read out without being asked. Prints
what was counted, then each fault; exit 1 if there is one. Where something that it needs is
missing it says so aloud and checks nothing.

needs: Xvfb, xdotool, dbus-daemon, gdbus, at-spi2-core, python3-pyatspi
"""

import os
import pathlib
import shutil
import subprocess
import sys
import tempfile
import time

ROOT = pathlib.Path(__file__).resolve().parent.parent
LAUNCHERS = ["/usr/libexec/at-spi-bus-launcher", "/usr/lib/at-spi2-core/at-spi-bus-launcher"]
SIZE = (1280, 800)
SHEETS = ["Formula", "Side by side", "Aim", "Make", "Label", "Shelf", "Trials"]
# Roles of what can be used, by the names of AT-SPI.
CONTROLS = {
    "button", "check box", "combo box", "entry", "link", "list item", "menu item", "page tab",
    "push button", "radio button", "slider", "spin button", "text", "toggle button",
}
WITH_RANGE = {"slider", "spin button"}
# More stops of Tab than this are not gone through.
TABS = 200


def missing():
    """What is needed and not there."""
    for tool in ["Xvfb", "xdotool", "dbus-daemon", "gdbus"]:
        if not shutil.which(tool):
            yield tool
    if not any(map(os.path.exists, LAUNCHERS)):
        yield "at-spi2-core"
    try:
        import pyatspi  # noqa: F401
    except ImportError:
        yield "python3-pyatspi"


class Window:
    """The program on a screen and a session bus of its own."""

    def __init__(self, program):
        self.started = []
        self.home = tempfile.mkdtemp(prefix="screen-reader-")
        hidden = ("XDG_", "DBUS", "WAYLAND", "AT_SPI")
        env = {k: v for k, v in os.environ.items() if not k.startswith(hidden)}
        env |= {"HOME": self.home, "LIBGL_ALWAYS_SOFTWARE": "1"}
        for name in ["CONFIG_HOME", "DATA_HOME", "CACHE_HOME", "STATE_HOME", "RUNTIME_DIR"]:
            folder = os.path.join(self.home, name)
            os.makedirs(folder, mode=0o700)
            env["XDG_" + name] = folder
        self.env = env
        read, write = os.pipe()
        size = f"{SIZE[0]}x{SIZE[1]}x24"
        command = ["Xvfb", "-displayfd", str(write), "-screen", "0", size, "-nolisten", "tcp"]
        self.start(command, pass_fds=[write])
        env["DISPLAY"] = ":" + os.read(read, 16).decode().strip()
        bus = self.start(
            ["dbus-daemon", "--session", "--nofork", "--print-address=1"], stdout=subprocess.PIPE
        )
        env["DBUS_SESSION_BUS_ADDRESS"] = bus.stdout.readline().decode().strip()
        self.start([next(filter(os.path.exists, LAUNCHERS)), "--launch-immediately"])
        time.sleep(1)
        switch = "org.a11y.Bus --object-path /org/a11y/bus --method " \
            "org.freedesktop.DBus.Properties.Set org.a11y.Status IsEnabled <true>"
        subprocess.run(
            ["gdbus", "call", "--session", "--dest", *switch.split()], env=env, capture_output=True
        )
        os.environ.clear()
        os.environ.update(env)
        self.listen()
        program = self.start([program])
        for _ in range(120):
            self.wait(0.5)
            found = self.xdotool("search", "--onlyvisible", "--name", "Phasewright").split()
            if found:
                break
            if program.poll() is not None:
                raise SystemExit("the program ended by itself")
        else:
            raise SystemExit("no window after a minute")
        for words in ["windowmove {} 0 0", f"windowsize {{}} {SIZE[0]} {SIZE[1]}", "windowfocus {}"]:
            self.xdotool(*words.format(found[-1]).split())
        self.wait(2)

    def start(self, command, stdout=subprocess.DEVNULL, pass_fds=()):
        """Starts something that ends with the window."""
        process = subprocess.Popen(
            command, env=self.env, stdout=stdout, stderr=subprocess.DEVNULL, pass_fds=pass_fds
        )
        self.started.append(process)
        return process

    def end(self):
        for process in reversed(self.started):
            process.terminate()
            process.wait(10)
        shutil.rmtree(self.home, ignore_errors=True)

    def xdotool(self, *words):
        return subprocess.run(
            ["xdotool", *words], env=self.env, capture_output=True, text=True
        ).stdout

    def listen(self):
        """Hears what gets the cursor and what is read out."""
        import pyatspi
        from gi.repository import GLib

        self.atspi, self.loop = pyatspi, GLib.MainContext.default()
        # What was there a moment ago may be gone.
        self.gone = (NotImplementedError, GLib.GError)
        self.cursor, self.moves, self.heard = None, 0, []
        listen = pyatspi.Registry.registerEventListener
        listen(self.on_focus, "object:state-changed:focused")
        listen(lambda event: self.heard.append(str(event.any_data)), "object:announcement")

    def on_focus(self, event):
        if event.detail1 and event.source.getRoleName() == "frame":
            # Between the last stop and the first nothing has the cursor, for one frame of drawing.
            self.cursor = None
        elif event.detail1:
            self.cursor, self.moves = event.source, self.moves + 1
        elif event.source == self.cursor:
            self.cursor = None

    def wait(self, seconds):
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            while self.loop.iteration(False):
                pass
            time.sleep(0.01)

    def key(self, key, seconds=0.2):
        self.xdotool("key", key)
        self.wait(seconds)

    def moved_by(self, key):
        """What has the cursor after a key that moves it, however slow the machine is."""
        moves, end = self.moves, time.monotonic() + 2
        self.key(key, 0.05)
        while self.moves == moves and time.monotonic() < end:
            self.wait(0.02)
        self.wait(0.05)
        return self.cursor

    def root(self):
        desktop = self.atspi.Registry.getDesktop(0)
        for application in desktop:
            if application and "phasewright" in application.name.lower():
                return application
        raise SystemExit("the program is not on the bus of assistive programs")

    def nodes(self):
        """Everything that is shown, in the order of the tree."""
        todo = [self.root()]
        while todo:
            node = todo.pop()
            try:
                node.getRoleName()
                children = [node.getChildAtIndex(i) for i in range(node.childCount)]
            except self.gone:
                continue
            yield node
            todo += [child for child in reversed(children) if child]

    def place(self, node):
        try:
            box = node.queryComponent().getExtents(self.atspi.WINDOW_COORDS)
        except self.gone:
            return None
        return (box.x, box.y, box.width, box.height)


def words(node):
    return f"{node.getRoleName()} “{node.name}”"


def look(window, faults):
    """Names and ranges of what a sheet shows; how many controls and values there are."""
    controls = values = 0
    for node in window.nodes():
        role = node.getRoleName()
        if role in CONTROLS:
            controls += 1
            if not node.name.strip():
                faults.append(f"{words(node)} at {window.place(node)} has no name")
        if role in WITH_RANGE:
            values += 1
            try:
                value = node.queryValue()
            except NotImplementedError:
                faults.append(f"{words(node)} tells no value")
                continue
            low, now, high = value.minimumValue, value.currentValue, value.maximumValue
            if not low <= now <= high or low == high:
                faults.append(f"{words(node)} tells {now} of {low} to {high}")
    return controls, values


def round_the_regions(window, faults):
    """The names of the regions that F6 goes through."""
    names = []
    for _ in range(15):
        node = window.moved_by("F6")
        name = node.name if node else ""
        if name in names:
            break
        if not name:
            faults.append(f"F6 after “{names[-1] if names else ''}” gives the cursor to nothing named")
        names.append(name)
    if len(names) < 3:
        faults.append(f"F6 knows {names} only")
    return names


def out_of_sight(place):
    x, y, width, height = place
    return x + width <= 0 or y + height <= 0 or x >= SIZE[0] or y >= SIZE[1]


def by_tab(window, faults):
    """The stops of the Tab key, once round; which of them go against the order of reading."""
    stops, against, first, before = 0, [], None, None
    for _ in range(TABS):
        node = window.moved_by("Tab")
        if node is None:
            faults.append(f"Tab after “{before[0] if before else ''}” loses the cursor")
            continue
        if node == first:
            break
        first = first or node
        stops += 1
        name, place = node.name, window.place(node)
        if not name.strip():
            faults.append(f"Tab stops at {words(node)} without a name")
        if place and out_of_sight(place):
            # What is scrolled to may still be on its way.
            window.wait(0.5)
            place = window.place(node)
            # A row that is drawn anew has no place any more.
            if place and out_of_sight(place):
                faults.append(f"Tab stops at {words(node)}, which is out of sight at {place}")
        # Upwards without going to the right: a step back in reading.
        if before and place and place[1] + place[3] <= before[1][1] and place[0] < before[1][0]:
            against.append(f"“{before[0]}” → “{name}”")
        before = (name, place) if place else before
    return stops, against


def breach(window, faults):
    """What is read out when a preservative goes over its limit."""
    window.key("ctrl+1", 1)
    wanted = "Sodium benzoate percent"
    field = next((n for n in window.nodes() if n.name == wanted), None)
    if field is None:
        faults.append(f"there is no field “{wanted}”")
        return []
    field.queryComponent().grabFocus()
    window.wait(0.5)
    window.heard.clear()
    window.key("ctrl+a")
    window.xdotool("type", "9")
    window.key("Return", 2)
    heard = [said for said in window.heard if "Breach" in said]
    if not heard:
        faults.append(f"a new breach is not read out; heard: {window.heard}")
    window.key("ctrl+z", 1)
    return heard


def main():
    lacking = list(missing())
    if lacking:
        print(f"NOT CHECKED: {', '.join(lacking)} is missing here", file=sys.stderr)
        return 0
    program = sys.argv[1] if len(sys.argv) > 1 else ROOT / "target/debug/phasewright"
    window, faults = Window(str(program)), []
    try:
        for place, sheet in enumerate(SHEETS, 1):
            here = []
            window.key(f"ctrl+{place}", 1.5)
            controls, values = look(window, here)
            regions = round_the_regions(window, here)
            stops, against = by_tab(window, here)
            print(f"{sheet}: {controls} controls, {values} values, {stops} stops of Tab")
            print(f"    regions: {', '.join(regions)}")
            if against:
                print(f"    up and to the left by Tab: {'; '.join(against)}")
            faults += [f"{sheet}: {fault}" for fault in here]
        for said in breach(window, faults):
            print(f"read out: {said}")
    finally:
        window.end()
    for fault in faults:
        print(f"FAULT {fault}")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
