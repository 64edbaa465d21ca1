"""The X side of the driver: a real pointer, real keys, pictures. No window manager is needed or expected."""
import struct
import time
import zlib

from Xlib import X, XK, Xatom
from Xlib.display import Display
from Xlib.error import XError
from Xlib.ext import xtest
from Xlib.protocol import event

NAMES = {"ctrl": "Control_L", "alt": "Alt_L", "shift": "Shift_L", "enter": "Return", "esc": "Escape", "backspace": "BackSpace"}
PRESS_SECONDS = 0.04  # a shorter press can be lost while a window is being mapped


class Window:
    """A mapped top-level window, in screen pixels."""

    def __init__(self, window, x, y, width, height, title):
        self.window, self.x, self.y, self.width, self.height, self.title = window, x, y, width, height, title


class Screen:
    def __init__(self, name):
        self.display = Display(name)
        self.root = self.display.screen().root

    def close(self):
        self.display.close()

    # ---- windows

    def windows(self):
        """Mapped windows of programs, lowest first; popups are left out."""
        found = []
        for window in self.root.query_tree().children:
            try:
                attributes = window.get_attributes()
                if attributes.map_state != X.IsViewable or attributes.override_redirect or not window.get_wm_class():
                    continue
                place = window.get_geometry()
                title = window.get_full_text_property(self.display.intern_atom("_NET_WM_NAME")) or ""
                found.append(Window(window, place.x, place.y, place.width, place.height, title))
            except XError:  # gone meanwhile
                continue
        return found

    def frame_border(self, window, inner_width, inner_height):
        """Where the content starts in a window: the client-side shadow, or an even border when nothing composites."""
        try:
            extents = window.window.get_full_property(self.display.intern_atom("_GTK_FRAME_EXTENTS"), Xatom.CARDINAL)
        except XError:
            extents = None
        if extents is not None and any(extents.value):
            return extents.value[0], extents.value[2]
        return (window.width - inner_width) / 2, (window.height - inner_height) / 2

    def resize(self, window, width, height):
        window.window.configure(x=0, y=0, width=width, height=height)
        self.display.sync()

    def ask_to_close(self, window):
        """What a window manager does when its close button is pressed."""
        message = event.ClientMessage(window=window.window, client_type=self.display.intern_atom("WM_PROTOCOLS"),
                                      data=(32, [self.display.intern_atom("WM_DELETE_WINDOW"), X.CurrentTime, 0, 0, 0]))
        window.window.send_event(message)
        self.display.sync()

    def focus_top(self):
        """Without a window manager the keys go nowhere after a dialog closes, unless somebody hands them on."""
        windows = self.windows()
        if windows and self.display.get_input_focus().focus != windows[-1].window:
            windows[-1].window.set_input_focus(X.RevertToParent, X.CurrentTime)
            self.display.sync()

    # ---- pointer and keys

    def point(self, x, y):
        xtest.fake_input(self.display, X.MotionNotify, x=int(x), y=int(y))
        self.display.sync()

    def press_button(self, number=1):
        xtest.fake_input(self.display, X.ButtonPress, number)
        self.display.sync()
        time.sleep(PRESS_SECONDS)
        xtest.fake_input(self.display, X.ButtonRelease, number)
        self.display.sync()

    def drag(self, across, down, steps=8):
        """From where the pointer is, with the first button held."""
        start = self.root.query_pointer()
        xtest.fake_input(self.display, X.ButtonPress, 1)
        self.display.sync()
        for step in range(1, steps + 1):
            time.sleep(PRESS_SECONDS / 2)
            self.point(start.root_x + across * step // steps, start.root_y + down * step // steps)
        time.sleep(PRESS_SECONDS)
        xtest.fake_input(self.display, X.ButtonRelease, 1)
        self.display.sync()

    def key(self, combination):
        """One key with its modifiers: "Return", "ctrl+z", "7"."""
        *modifiers, last = combination.split("+") if len(combination) > 1 else [combination]
        code, needs_shift = self._find_key(last)
        held = [self._find_key(name)[0] for name in modifiers + (["shift"] if needs_shift else [])]
        for one in held + [code]:
            xtest.fake_input(self.display, X.KeyPress, one)
        for one in [code] + held[::-1]:
            xtest.fake_input(self.display, X.KeyRelease, one)
        self.display.sync()

    def _find_key(self, name):
        symbol = ord(name) if len(name) == 1 and ord(name) < 256 else XK.string_to_keysym(NAMES.get(name.lower(), name))
        for code, level in self.display.keysym_to_keycodes(symbol):
            if level < 2:
                return code, level == 1
        raise ValueError(f"the test keyboard has no key {name!r}")

    # ---- pictures

    def save_picture(self, path):
        """The whole screen as a PNG file."""
        size = self.root.get_geometry()
        pixels = self.root.get_image(0, 0, size.width, size.height, X.ZPixmap, 0xffffffff).data
        rows = bytearray(size.width * size.height * 3)
        rows[0::3], rows[1::3], rows[2::3] = pixels[2::4], pixels[1::4], pixels[0::4]
        step = size.width * 3
        filtered = b"".join(b"\0" + rows[i:i + step] for i in range(0, len(rows), step))

        def chunk(tag, data):
            return struct.pack(">I", len(data)) + tag + data + struct.pack(">I", zlib.crc32(tag + data))

        with open(path, "wb") as file:
            file.write(b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", struct.pack(">IIBBBBB", size.width, size.height, 8, 2, 0, 0, 0))
                       + chunk(b"IDAT", zlib.compress(filtered)) + chunk(b"IEND", b""))
