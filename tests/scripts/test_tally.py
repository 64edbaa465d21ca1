#!/usr/bin/python3
"""Runs meson on a project of a few shell tests whose outcomes are known, and checks what scripts/tally.py makes of its records."""
import os
import subprocess
import sys
import tempfile
import unittest

TALLY = os.path.join(os.environ["PAWL_SOURCE_ROOT"], "scripts", "tally.py")

GOOD_TAP = ("tap", "echo 1..2; echo ok 1 one; echo ok 2 two")
# Meson names a test otherwise in a project with several suites than in one with a single suite: both happen below.
# name -> (protocol, shell command), and what must be counted: (passed, failed, skipped)
CASES = {
    "a TAP test counts each case": (GOOD_TAP, (2, 0, 0)),
    "a TAP case that fails or is skipped is no pass": (("tap", "echo 1..3; echo ok 1 a; echo not ok 2 b; echo 'ok 3 c # SKIP'"), (1, 1, 1)),
    "a TAP test that dies after its last case has failed": (("tap", "echo 1..1; echo ok 1 a; exit 3"), (1, 1, 0)),
    "a TAP test that stops before its plan has failed": (("tap", "echo 1..3; echo ok 1 a"), (1, 1, 0)),
    "a TAP test that never ends has failed": (("tap", "echo 1..1; echo ok 1 a; sleep 60"), (1, 1, 0)),
    "a plain test counts once": (("exitcode", "exit 0"), (1, 0, 0)),
    "a plain test that fails": (("exitcode", "exit 1"), (0, 1, 0)),
    "a plain test that never ends has failed": (("exitcode", "sleep 60"), (0, 1, 0)),
    "a plain test that is skipped is no pass": (("exitcode", "exit 77"), (0, 0, 1)),
}


def run_project(folder, tests):
    """Runs the tests with meson and returns the build folder."""
    lines = ["project('p', meson_version: '>= 1.0')", "sh = find_program('sh')"]
    for number, (protocol, command) in enumerate(tests):
        with open(os.path.join(folder, f"t{number}.sh"), "w", encoding="utf-8") as script:
            script.write(command + "\n")
        lines.append(f"test('t{number}', sh, args: files('t{number}.sh'), protocol: '{protocol}', suite: 's{number % 2}', timeout: 1)")
    with open(os.path.join(folder, "meson.build"), "w", encoding="utf-8") as file:
        file.write("\n".join(lines) + "\n")
    build = os.path.join(folder, "build")
    subprocess.run(["meson", "setup", build, folder], check=True, capture_output=True)
    subprocess.run(["meson", "test", "-C", build], check=False, capture_output=True, stdin=subprocess.DEVNULL)
    return build


def run_tally(*builds):
    return subprocess.run([sys.executable, TALLY, *builds], check=False, capture_output=True, text=True)


class Tally(unittest.TestCase):
    def check(self, tests, passed, failed, skipped):
        with tempfile.TemporaryDirectory() as folder:
            result = run_tally(run_project(folder, tests))
        line = f"{passed} passed, {failed} failed" + (f", {skipped} skipped" if skipped else "")
        self.assertEqual(result.stdout.splitlines()[-1], line)
        self.assertEqual(result.returncode, 1 if failed or not passed else 0)

    def test_each_outcome(self):
        for name, (test, counts) in CASES.items():
            with self.subTest(name):
                self.check([test], *counts)

    def test_adds_up(self):
        self.check([test for test, _ in CASES.values()], *(sum(column) for column in zip(*(counts for _, counts in CASES.values()))))

    def test_two_builds(self):
        with tempfile.TemporaryDirectory() as one, tempfile.TemporaryDirectory() as other:
            result = run_tally(run_project(one, [GOOD_TAP]), run_project(other, [GOOD_TAP]))
        self.assertEqual((result.stdout.splitlines()[-1], result.returncode), ("4 passed, 0 failed", 0))

    def test_no_record_is_no_success(self):
        with tempfile.TemporaryDirectory() as one, tempfile.TemporaryDirectory() as other:
            result = run_tally(run_project(one, [GOOD_TAP]), other)
        self.assertEqual((result.stdout.splitlines()[-1], result.returncode), ("2 passed, 0 failed", 1))

    def test_nothing_ran_is_no_success(self):
        with tempfile.TemporaryDirectory() as folder:
            self.assertEqual(run_tally(run_project(folder, [])).returncode, 1)


if __name__ == "__main__":
    unittest.main()
