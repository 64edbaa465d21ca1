#!/usr/bin/python3
"""Times programs from exec to the first frame on the screen: first_paint.py [--runs N] [--json] PAWL BLANK PROCEDURE.

Looks at one pixel of the display from outside, so that nothing is different in the program that is measured, and takes pawl and a
window with nothing in it in turn, so that both see the same machine. Needs a display of its own, with no window manager.
"""
import argparse
import json
import os
import statistics
import subprocess
import sys
import tempfile
import time

from Xlib import X
from Xlib.display import Display

BARE = 0xff00ff  # painted on the screen before each start; no program shows this, nor the black of a window before its first frame
BLACK = 0
SPOT = (400, 300)  # well inside both windows
LOOK_SECONDS = 0.001
LIMIT_SECONDS = 60


class Screen:
    def __init__(self):
        self.display = Display()
        self.root = self.display.screen().root
        self.root.change_attributes(background_pixel=BARE)

    def look(self):
        pixel = self.root.get_image(*SPOT, 1, 1, X.ZPixmap, 0xffffffff).data
        return int.from_bytes(pixel[:3], "little")

    def wait_for(self, condition, problem):
        begin = time.monotonic()
        while not condition(self.look()):
            if time.monotonic() > begin + LIMIT_SECONDS:
                raise TimeoutError(problem)
            time.sleep(LOOK_SECONDS)


def time_start(screen, command):
    """Milliseconds until the first frame of a program was on the screen. The program is ended."""
    screen.root.clear_area()
    screen.wait_for(lambda pixel: pixel == BARE, "the screen is not bare: another program is on this display")
    begin = time.monotonic()
    program = subprocess.Popen(command, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL)
    try:
        screen.wait_for(lambda pixel: pixel not in (BARE, BLACK), f"{command[0]} showed nothing in {LIMIT_SECONDS} s")
        return (time.monotonic() - begin) * 1000
    finally:
        program.terminate()
        program.wait()


def measure(pawl, blank, procedure, runs):
    """Median milliseconds of both, and of their ratio in each pair. A first pair is not counted: it warms the file cache."""
    screen = Screen()
    with tempfile.TemporaryDirectory(prefix="pawl-start-") as folder:
        command = [pawl, "--record", os.path.join(folder, "record.db"), procedure]
        pairs = [(time_start(screen, command), time_start(screen, [blank])) for _ in range(runs + 1)][1:]
    return {"pawl": statistics.median(pair[0] for pair in pairs), "blank": statistics.median(pair[1] for pair in pairs),
            "ratio": statistics.median(pair[0] / pair[1] for pair in pairs)}


def main():
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("pawl")
    parser.add_argument("blank")
    parser.add_argument("procedure")
    parser.add_argument("--runs", type=int, default=9)
    parser.add_argument("--json", action="store_true", help="rows as JSON")
    given = parser.parse_args()
    try:
        found = measure(given.pawl, given.blank, given.procedure, given.runs)
    except (OSError, TimeoutError) as problem:
        print(f"first_paint.py: {problem}", file=sys.stderr)
        return 2
    if given.json:
        print(json.dumps(found))
    else:
        print(f"first paint: pawl {found['pawl']:.0f} ms, blank window {found['blank']:.0f} ms, ratio in pairs {found['ratio']:.2f}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
