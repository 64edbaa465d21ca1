#!/usr/bin/python3
"""Adds up what meson recorded of its last test run in each build folder: tally.py BUILD...

Each case of a TAP test counts by itself, any other test as one. The last line is "N passed, N failed", with ", N skipped" when
some were. Exit status 1 when anything failed, when nothing ran, or when a folder has no record of a run.

Both of meson's records are needed: the JUnit file has the cases, but calls a test that timed out no failure; the JSON file has
the outcome of each test.
"""
import json
import os
import sys
import xml.etree.ElementTree as ElementTree

GOOD = ("OK", "EXPECTEDFAIL")


def read_cases(path):
    """Test name as the JSON file has it -> (passed, failed, skipped) of its cases, for the tests that have cases."""
    counts = {}
    for suite in ElementTree.parse(path).getroot().iter("testsuite"):
        project, dot, name = suite.get("name").partition(".")
        if not dot:
            continue
        cases = list(suite.iter("testcase"))
        failed = sum(1 for case in cases if case.find("failure") is not None or case.find("error") is not None)
        skipped = sum(1 for case in cases if case.find("skipped") is not None)
        counts[name] = (len(cases) - failed - skipped, failed, skipped)
    return counts


def count_test(outcome, cases):
    """(passed, failed, skipped) of one test, from meson's word for it and its cases, if any."""
    if cases is None:
        return (int(outcome in GOOD), int(outcome not in GOOD and outcome != "SKIP"), int(outcome == "SKIP"))
    passed, failed, skipped = cases
    if outcome not in GOOD and outcome != "SKIP" and failed == 0:  # ended badly after its last case
        failed = 1
    return (passed, failed, skipped)


def tally(build):
    """(passed, failed, skipped) of one build folder, and the names of the tests that failed."""
    logs = os.path.join(build, "meson-logs")
    cases = read_cases(os.path.join(logs, "testlog.junit.xml"))
    total, bad = [0, 0, 0], []
    with open(os.path.join(logs, "testlog.json"), encoding="utf-8") as lines:
        for line in lines:
            test = json.loads(line)
            counts = count_test(test["result"], cases.get(test["name"]))
            if counts[1]:
                bad.append(f"{test['name']} ({test['result'].lower()})")
            total = [a + b for a, b in zip(total, counts)]
    return total, bad


def main(builds):
    total, incomplete = [0, 0, 0], False
    for build in builds:
        try:
            counts, bad = tally(build)
        except (OSError, ValueError, ElementTree.ParseError) as problem:
            print(f"{build}: no record of a test run: {problem}")
            incomplete = True
            continue
        print(f"{build}: {counts[0]} passed, {counts[1]} failed, {counts[2]} skipped")
        for name in bad:
            print(f"  failed: {name}")
        total = [a + b for a, b in zip(total, counts)]
    passed, failed, skipped = total
    print(f"{passed} passed, {failed} failed" + (f", {skipped} skipped" if skipped else ""))
    return 1 if failed or incomplete or passed == 0 else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
