#!/usr/bin/python3
"""Drives a GTK 4 program from outside, as a person does: looks through accessibility, points, types, waits, takes pictures.

    with Desk("out") as desk:
        desk.start([program, file])
        desk.click("button", "Next")
        desk.wait("label", "Step 2")
        desk.close()

A desk is a display, a session bus, an accessibility bus and an empty home of its own; nothing of the machine's user is touched,
and everything it starts ends with it. GLib warnings end the program (G_DEBUG=fatal-warnings).

    drive.py PROGRAM [ARGUMENT...]      prints the accessible tree of its first window, and leaves a picture in drive-look.png
"""
import contextlib
import fnmatch
import os
import shutil
import signal
import subprocess
import sys
import tempfile
import time

from gi.repository import Gio, GLib

from screen import Screen
from tree import ATSPI, Bus

# A slow build (sanitizers) stretches every limit.
PATIENCE = float(os.environ.get("PAWL_DRIVE_PATIENCE", "1"))
LIMIT_SECONDS = 20 * PATIENCE
BUS_CONFIGURATION = """<!DOCTYPE busconfig PUBLIC "-//freedesktop//DTD D-Bus Bus Configuration 1.0//EN"
 "http://www.freedesktop.org/standards/dbus/1.0/busconfig.dtd">
<busconfig><type>session</type><keep_umask/><listen>unix:path=%s</listen><auth>EXTERNAL</auth>
<policy context="default"><allow send_destination="*" eavesdrop="true"/><allow eavesdrop="true"/><allow own="*"/></policy>
</busconfig>
"""
# What stays of the caller's surroundings: all else could change what the program does.
KEPT = ("PATH", "LD_LIBRARY_PATH", "TMPDIR", "XDG_DATA_DIRS", "ASAN_OPTIONS", "UBSAN_OPTIONS", "LSAN_OPTIONS")


class Missed(Exception):
    """Something that should have come true did not."""


class Desk:
    def __init__(self, out_dir=".", size=(1280, 900)):
        self.out_dir, self.size = out_dir, size
        self.dir = self.screen = self.bus = self.program = None
        self.helpers, self.environment, self.argv = [], {}, []

    # ---- the desk itself

    def __enter__(self):
        try:
            self._lay_out()
        except BaseException:
            self.clear()
            raise
        return self

    def __exit__(self, kind, problem, trace):
        if isinstance(problem, Exception):
            self._report_trouble()
        self.clear()
        return False

    def _lay_out(self):
        os.makedirs(self.out_dir, exist_ok=True)
        self.dir = tempfile.mkdtemp(prefix="pawl-drive-")
        environment = {name: os.environ[name] for name in KEPT if name in os.environ}
        for variable, folder in (("HOME", "home"), ("XDG_RUNTIME_DIR", "run"), ("XDG_DATA_HOME", "data"), ("XDG_STATE_HOME", "state"),
                                 ("XDG_CONFIG_HOME", "config"), ("XDG_CACHE_HOME", "cache")):
            environment[variable] = self.path(folder)
            os.mkdir(self.path(folder), 0o700)
        environment.update(LC_ALL="C.UTF-8", TZ="UTC", GDK_BACKEND="x11", GSK_RENDERER="cairo", GSETTINGS_BACKEND="memory",
                           GTK_USE_PORTAL="0", GIO_USE_VFS="local", GIO_USE_VOLUME_MONITOR="unix", GTK_IM_MODULE="gtk-im-context-simple")
        os.mkdir(self.path("config/gtk-4.0"))
        with open(self.path("config/gtk-4.0/settings.ini"), "w", encoding="utf-8") as settings:
            settings.write("[Settings]\ngtk-enable-animations=0\ngtk-cursor-blink=0\n")
        self.environment = environment

        reader, writer = os.pipe()
        self._help("Xvfb", ["Xvfb", "-displayfd", str(writer), "-screen", "0", "%dx%dx24" % self.size, "-nolisten", "tcp", "-noreset"],
                   pass_fds=(writer,))
        os.close(writer)
        with os.fdopen(reader) as numbers:
            environment["DISPLAY"] = ":" + numbers.readline().strip()
        if environment["DISPLAY"] == ":":
            raise Missed("Xvfb did not start: " + self._tail("Xvfb"))
        self.screen = Screen(environment["DISPLAY"])

        # No service files: nothing installed on the machine can be started into this bus.
        environment["DBUS_SESSION_BUS_ADDRESS"] = "unix:path=" + self.path("run/bus")
        with open(self.path("bus.conf"), "w", encoding="utf-8") as configuration:
            configuration.write(BUS_CONFIGURATION % self.path("run/bus"))
        self._help("dbus-daemon", ["dbus-daemon", "--config-file=" + self.path("bus.conf"), "--nofork", "--nopidfile"])
        self.until("a session bus", lambda: os.path.exists(self.path("run/bus")))
        self._help("at-spi-bus-launcher", ["/usr/libexec/at-spi-bus-launcher", "--launch-immediately"])
        self.bus = Bus(self.until("an accessibility bus", self._ask_bus_address))
        self._help("at-spi2-registryd", ["/usr/libexec/at-spi2-registryd"])
        self.until("the accessibility registry", lambda: self.bus.has_owner(ATSPI + "Registry"))

    def path(self, name):
        return os.path.join(self.dir, name)

    def _help(self, name, argv, **more):
        with open(self.path(name + ".log"), "wb") as log:
            self.helpers.append(subprocess.Popen(argv, env=self.environment, stdin=subprocess.DEVNULL, stdout=log, stderr=log, **more))

    def _ask_bus_address(self):
        flags = Gio.DBusConnectionFlags.AUTHENTICATION_CLIENT | Gio.DBusConnectionFlags.MESSAGE_BUS_CONNECTION
        try:
            session = Gio.DBusConnection.new_for_address_sync(self.environment["DBUS_SESSION_BUS_ADDRESS"], flags, None, None)
            session.set_exit_on_close(False)
            address, = session.call_sync("org.a11y.Bus", "/org/a11y/bus", "org.a11y.Bus", "GetAddress", None, None,
                                         Gio.DBusCallFlags.NO_AUTO_START, 5000, None).unpack()
            session.close_sync(None)
            return address
        except GLib.Error:
            return None

    def clear(self):
        """Ends all that was started, newest first."""
        if self.program is not None and self.program.poll() is None:
            self.program.kill()
            self.program.wait()
        for connection in (self.bus, self.screen):
            with contextlib.suppress(Exception):
                if connection is not None:
                    connection.close()
        for helper in reversed(self.helpers):
            helper.terminate()
            try:
                helper.wait(10)
            except subprocess.TimeoutExpired:
                helper.kill()
                helper.wait()
        self.helpers, self.bus, self.screen = [], None, None
        if self.dir is not None:
            shutil.rmtree(self.dir, ignore_errors=True)
            self.dir = None

    def _report_trouble(self):
        with contextlib.suppress(Exception):
            self.picture("trouble.png")
            print("# picture: " + os.path.join(self.out_dir, "trouble.png"))
            self.print_tree("# ")
        with contextlib.suppress(Exception):
            print("# last words of the program: " + self._tail("program"))

    def _tail(self, name):
        with open(self.path(name + ".log"), encoding="utf-8", errors="replace") as log:
            return log.read()[-4000:].replace("\n", "\n# ")

    # ---- the program

    def start(self, argv):
        """Starts the program and returns when its window is there and accessible."""
        environment = dict(self.environment, G_DEBUG="fatal-warnings")
        # What GTK, fonts and the theme still hold when the window closes would drown any leak of ours; the unit tests look for those.
        if "ASAN_OPTIONS" in environment:
            environment["ASAN_OPTIONS"] += ":detect_leaks=0"
        self.argv = list(argv)
        with open(self.path("program.log"), "ab") as log:
            self.program = subprocess.Popen(self.argv, env=environment, cwd=self.path("home"), stdin=subprocess.DEVNULL, stdout=log, stderr=log)
        self.until("a window", self.screen.windows)
        self.until("an accessible window", lambda: any(window.children for program in self.bus.read().children for window in program.children))
        # The size is ours, so that what is in view does not depend on what the program likes best.
        self.screen.resize(self.screen.windows()[-1], *self.size)
        self.settle()

    def close(self):
        """Closes the window as a window manager does; the program must end by itself, with status 0."""
        self.screen.ask_to_close(self.screen.windows()[-1])
        try:
            status = self.program.wait(LIMIT_SECONDS)
        except subprocess.TimeoutExpired:
            raise Missed("the program did not end after its window was closed") from None
        if status != 0:
            raise Missed(f"the program ended with status {status}")

    def kill(self):
        """The power goes."""
        self.program.send_signal(signal.SIGKILL)
        self.program.wait()

    def settle(self):
        """Each turn of the program's main loop handles one call; a few calls outlast the events that were queued before them."""
        time.sleep(0.03)
        with contextlib.suppress(GLib.Error):
            for ref in self.bus.applications():
                for _ in range(12):
                    self.bus.call(ref, ATSPI + "Accessible", "GetState")

    # ---- looking

    def until(self, what, fact, limit=LIMIT_SECONDS):
        """Waits until fact() is true and returns what it gave."""
        end = time.monotonic() + limit
        while True:
            value = fact()
            if value:
                return value
            if self.program is not None and self.program.poll() is not None:
                raise Missed(f"waiting for {what}, but the program ended with status {self.program.returncode}")
            for helper in self.helpers:
                if helper.poll() is not None:
                    raise Missed(f"waiting for {what}, but {helper.args[0]} ended: " + self._tail(os.path.basename(helper.args[0])))
            if time.monotonic() > end:
                raise Missed(f"no {what} within {limit:.0f} s")
            time.sleep(0.05)

    def find_all(self, role=None, name=None):
        """Nodes of a role ("button", "text box", "label"; as GTK calls them) with a name; the name may hold wildcards."""
        return [node for node in self.bus.read().walk() if role in (None, node.role)
                and (name is None or node.name == name or fnmatch.fnmatchcase(node.name, name))]

    def find(self, role=None, name=None):
        """The first one that is really in view, else None. Hidden pages stay in the tree, so what is in view must be tried."""
        return next((node for node in self.find_all(role, name) if self.reach(node) is not None), None)

    def wait(self, role=None, name=None, limit=LIMIT_SECONDS):
        """The first such node in view, waited for."""
        return self.until(f'{role or "anything"} named "{name or "*"}" in view', lambda: self.find(role, name), limit)

    def wait_gone(self, role, name):
        self.until(f'end of {role} named "{name}"', lambda: self.find(role, name) is None)

    def find_overlaps(self):
        """Pairs of texts in view that are drawn over each other."""
        shown = [(node, self._clip(node)) for node in self.find_all("label") if node.name and self.reach(node) is not None]
        return [(str(a), str(b)) for i, (a, one) in enumerate(shown) for b, other in shown[i + 1:]
                if min(one[0] + one[2], other[0] + other[2]) - max(one[0], other[0]) > 2
                and min(one[1] + one[3], other[1] + other[3]) - max(one[1], other[1]) > 2]

    def _clip(self, node):
        """The place of what is seen of the node: what scrolls ends at the edge of its pane."""
        left, top, width, height = self.bus.place(node)
        pane = self._find_pane(node)
        if pane is None:
            return left, top, width, height
        x, y, wide, high = self.bus.place(pane)
        right, bottom = min(left + width, x + wide), min(top + height, y + high)
        left, top = max(left, x), max(top, y)
        return left, top, right - left, bottom - top

    @staticmethod
    def _find_pane(node):
        return next((one for one in node.ancestors() if any(child.role == "scroll bar" for child in one.children)), None)

    def reach(self, node):
        """A point of the screen where a click really meets the node; None when it is hidden, covered or scrolled away."""
        point = self._meet(node)
        return point and self.to_screen(node, point)

    def to_screen(self, node, point):
        """A point of the node's window, on the screen; None when the window is gone."""
        frame = self.bus.place(node.window)
        if frame is None:
            return None
        windows = [window for window in self.screen.windows() if window.title == node.window.name] or self.screen.windows()
        if not windows:
            return None
        left, top = self.screen.frame_border(windows[-1], frame[2], frame[3])
        return windows[-1].x + left + point[0] - frame[0], windows[-1].y + top + point[1] - frame[1]

    def _meet(self, node):
        """A point of the node, in its window, where the program says that the node is what is shown."""
        place = self.bus.place(node)
        if not place or place[2] <= 0 or place[3] <= 0:
            return None
        inside = {one.ref for one in node.walk()}
        points = [(place[0] + place[2] * across, place[1] + place[3] * down) for across, down in ((.5, .5), (.2, .5), (.8, .5), (.5, .2), (.5, .8))]
        hits = [self.bus.at_point(node.window, *point) for point in points]
        for point, hit in zip(points, hits):
            if hit in inside:
                return point
        # GTK 4.8 finds nothing at all inside an entry or a switch; then the nearest label or button tells whether that page is shown.
        if hits[0] is None and node.role in ("text box", "checkbox") and self._has_neighbour_in_view(node):
            return points[0]
        return None

    def _has_neighbour_in_view(self, node):
        for ancestor in node.ancestors():
            neighbours = [one for one in ancestor.walk() if one.role in ("label", "button") and node not in one.ancestors()]
            if neighbours:
                return any(self._meet(one) for one in neighbours)
        return False

    def picture(self, name):
        self.screen.save_picture(os.path.join(self.out_dir, name))

    def print_tree(self, before=""):
        def show(node, depth):
            flags = "".join(" " + state for state in sorted(node.states - {"enabled", "sensitive", "visible"}))
            text = self.bus.text(node) if node.role != "label" else None
            line = str(node) + ("" if text is None else f" text={text!r}") + flags + ("" if "sensitive" in node.states else " insensitive")
            print(before + "  " * depth + line.replace("\n", "⏎"))
            for child in node.children[:40]:
                show(child, depth + 1)
            if len(node.children) > 40:
                print(before + "  " * depth + f"  and {len(node.children) - 40} more")
        for program in self.bus.read().children:
            show(program, 0)

    # ---- doing

    def click(self, role, name, limit=LIMIT_SECONDS):
        """A real click on the first such thing in view that is sensitive, brought into view with the wheel when it is scrolled away."""
        def ready():
            node = self.find(role, name)
            return node if node is not None and "sensitive" in node.states else None
        if self.find(role, name) is None:
            self._scroll_to(role, name)
        node = self.until(f'sensitive {role} named "{name}" in view', ready, limit)
        self.screen.point(*self.reach(node))
        self.settle()  # hovering changes things; a press in that instant can be lost
        self.screen.press_button()
        self.settle()
        return node

    def _scroll_to(self, role, name):
        for node in self.find_all(role, name):
            pane = self._find_pane(node)
            where = pane and self.reach(pane)
            for _ in range(60 if where else 0):
                if self.reach(node) is not None:
                    return
                below = self.bus.place(node)[1] > self.bus.place(pane)[1]
                self.screen.point(*where)
                self.screen.press_button(5 if below else 4)
                self.settle()

    def key(self, *combinations):
        for combination in combinations:
            self.screen.focus_top()
            self.screen.key(combination)
            self.settle()

    def type(self, text):
        """Types into whatever has the keyboard."""
        self.screen.focus_top()
        for letter in text:
            self.screen.key(letter)
        self.settle()

    def fill(self, name, text):
        """Clicks into a text box and replaces what is there."""
        self.click("text box", name)
        self.key("ctrl+a")
        self.type(text)
        self.until(f'"{text}" in "{name}"', lambda: self.bus.text(self.find("text box", name)) == text)


def look(argv):
    with Desk() as desk:
        desk.start(argv)
        desk.print_tree()
        desk.picture("drive-look.png")


if __name__ == "__main__":
    if len(sys.argv) < 2:
        sys.exit(__doc__)
    look(sys.argv[1:])
