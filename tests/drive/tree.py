"""The accessible tree of the programs on one AT-SPI bus, read afresh each time it is asked for.

The protocol is spoken directly over D-Bus: libatspi knows one bus per process and keeps stale copies.
"""
from gi.repository import Gio, GLib

ATSPI = "org.a11y.atspi."
PROPERTIES = "org.freedesktop.DBus.Properties"
ROOT = (ATSPI + "Registry", "/org/a11y/atspi/accessible/root")
# Bits of the state word, from the AT-SPI 2 enumeration AtspiStateType.
STATES = {1: "active", 4: "checked", 8: "enabled", 10: "expanded", 12: "focused", 20: "pressed", 23: "selected", 24: "sensitive",
          30: "visible"}
WINDOW_COORDINATES = 1  # GTK 4.8 warns when asked for the screen's


class Node:
    """One accessible object as it was when the tree was read."""

    def __init__(self, ref, parent):
        self.ref, self.parent, self.children = ref, parent, []
        self.role = self.name = self.description = ""
        self.states, self.interfaces = frozenset(), ()

    def walk(self):
        yield self
        for child in self.children:
            yield from child.walk()

    def ancestors(self):
        node = self.parent
        while node is not None:
            yield node
            node = node.parent

    @property
    def window(self):
        """The top-level window it is in: what stands right under the application."""
        node = self
        while node.parent is not None and node.parent.role != "application":
            node = node.parent
        return node

    def __str__(self):
        more = f" ({self.description})" if self.description else ""
        return f'{self.role} "{self.name}"{more}'


def clean_name(name):
    """GTK 4.8 names a button with a mnemonic "_Open Open": its own label, then that of the label inside."""
    half = len(name) // 2
    for cut in (half, half + 1):
        if name[cut:cut + 1] == " " and name[:cut].replace("_", "", 1) == name[cut + 1:]:
            return name[cut + 1:]
    return name


class Bus:
    def __init__(self, address):
        flags = Gio.DBusConnectionFlags.AUTHENTICATION_CLIENT | Gio.DBusConnectionFlags.MESSAGE_BUS_CONNECTION
        self.connection = Gio.DBusConnection.new_for_address_sync(address, flags, None, None)
        self.role_names = {}

    def close(self):
        self.connection.close_sync(None)

    def call(self, ref, interface, method, signature=None, *arguments):
        answer = self.connection.call_sync(ref[0], ref[1], interface, method, GLib.Variant(signature, arguments) if signature else None,
                                           None, Gio.DBusCallFlags.NO_AUTO_START, 30000, None)
        return answer.unpack()

    def has_owner(self, name):
        return self.call(("org.freedesktop.DBus", "/org/freedesktop/DBus"), "org.freedesktop.DBus", "NameHasOwner", "(s)", name)[0]

    def applications(self):
        return [tuple(ref) for ref in self.call(ROOT, ATSPI + "Accessible", "GetChildren")[0]]

    def read(self):
        """The root of a fresh tree. Its structure is asked for node by node; names, roles and states come from one call a program."""
        root = Node(ROOT, None)
        root.role = "desktop"
        for ref in self.applications():
            try:
                known = {tuple(item[0]): item for item in self.call((ref[0], "/org/a11y/atspi/cache"), ATSPI + "Cache", "GetItems")[0]}
                self._add(root, ref, known)
            except GLib.Error:  # the program has just ended
                continue
        return root

    def _add(self, parent, ref, known):
        node = Node(ref, parent)
        try:
            item = known.get(ref)
            if item is not None:
                node.interfaces, node.name, role, node.description, words = item[5], item[6], item[7], item[8], item[9]
            else:
                values = self.call(ref, PROPERTIES, "GetAll", "(s)", ATSPI + "Accessible")[0]
                node.name, node.description = values.get("Name", ""), values.get("Description", "")
                role, = self.call(ref, ATSPI + "Accessible", "GetRole")
                words, = self.call(ref, ATSPI + "Accessible", "GetState")
                node.interfaces, = self.call(ref, ATSPI + "Accessible", "GetInterfaces")
            node.name = clean_name(node.name)
            node.role = self._role_name(ref, role)
            node.states = frozenset(name for bit, name in STATES.items() if words[bit // 32] >> bit % 32 & 1)
            children = [] if node.role == "label" else self.call(ref, ATSPI + "Accessible", "GetChildren")[0]
        except GLib.Error:  # gone while the tree was read
            return
        parent.children.append(node)
        for child in children:
            if not child[1].endswith("/null"):
                self._add(node, tuple(child), known)

    def _role_name(self, ref, number):
        if number not in self.role_names:
            self.role_names[number] = self.call(ref, ATSPI + "Accessible", "GetRoleName")[0]
        return self.role_names[number]

    # ---- what is asked of one node when it is needed

    def text(self, node):
        """What is typed in an entry or text view, None where there is no text."""
        if ATSPI + "Text" not in node.interfaces:
            return None
        # GTK 4.8 answers "" to an end of -1, so the exact end is asked for first
        count, = self.call(node.ref, PROPERTIES, "Get", "(ss)", ATSPI + "Text", "CharacterCount")
        return self.call(node.ref, ATSPI + "Text", "GetText", "(ii)", 0, count)[0]

    def place(self, node):
        """(x, y, width, height) from its window's corner; a hidden widget may still have its old place. None without one."""
        if ATSPI + "Component" not in node.interfaces:
            return None
        try:
            return tuple(self.call(node.ref, ATSPI + "Component", "GetExtents", "(u)", WINDOW_COORDINATES)[0])
        except GLib.Error:
            return None

    def at_point(self, window, x, y):
        """The reference of what is really shown at a point of a window, None when nothing is."""
        try:
            ref = tuple(self.call(window.ref, ATSPI + "Component", "GetAccessibleAtPoint", "(iiu)", int(x), int(y), WINDOW_COORDINATES)[0])
        except GLib.Error:
            return None
        return None if ref[1].endswith("/null") else ref
