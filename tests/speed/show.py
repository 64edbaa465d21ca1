#!/usr/bin/python3
"""One table of what was measured: show.py FOLDER SIZE...

Reads SIZE.json (bench-figure), SIZE-browser.json (browser.py, when there is one) and start.json (first_paint.py) of the folder.
"""
import json
import os
import sys

# What the window is asked to reach against the browser, as value to value.
MOST_OF_BROWSER = {"first-opening": 1.7, "second-opening": 1.0}
START_GOAL = 1.3
HEAD = ("figure", "what", "value", "to redraw", "processor", "goal", "met", "Chromium", "to Chromium", "how it was written")


def read(folder, name):
    path = os.path.join(folder, name + ".json")
    if not os.path.exists(path):
        return None
    with open(path, encoding="utf-8") as file:
        return json.load(file)


def put(value, unit):
    return f"{value:.1f} {unit}" if abs(value) < 100 else f"{value:.0f} {unit}"


def say_met(met):
    return "" if met is None else "yes" if met else "no"


def list_rows(size, found, browser):
    """Rows of one figure, as texts."""
    other = {row["key"]: row for row in browser or []}
    for row in found["rows"]:
        goal, met, beside = row.get("goal", ""), row.get("met"), other.get(row["key"])
        if beside is not None and row["key"] in MOST_OF_BROWSER:
            most = MOST_OF_BROWSER[row["key"]]
            goal, met = f"≤ {most:g} of Chromium", row["value"] <= most * beside["value"]
        yield (size, row["what"], put(row["value"], row["unit"]), f"{row['ratio']:.4f}" if "ratio" in row else "",
               f"{row['processor']:.1f} ms" if "processor" in row else "", goal, say_met(met),
               put(beside["value"], beside["unit"]) if beside else "", f"{row['value'] / beside['value']:.2f}" if beside else "",
               beside["how"] if beside else "")


def list_start(found):
    yield ("", "start to first paint", put(found["pawl"], "ms"), "", "", "", "", "", "", "")
    yield ("", "the same of a window with nothing in it", put(found["blank"], "ms"), "", "", "", "", "", "", "")
    yield ("", "start, to the window with nothing in it", f"{found['ratio']:.2f}", "", "", f"≤ {START_GOAL}", say_met(found["ratio"] <= START_GOAL), "", "", "")


def print_table(rows):
    columns = [n for n in range(len(HEAD)) if any(row[n] for row in rows)]
    widths = {n: max(len(row[n]) for row in [HEAD] + rows) for n in columns}
    for row in [HEAD] + rows:
        print("  ".join(row[n].rjust(widths[n]) if n in (2, 3, 4, 7, 8) else row[n].ljust(widths[n]) for n in columns).rstrip())


def main(folder, *sizes):
    rows = []
    for size in sizes:
        rows += list_rows(size, read(folder, size), read(folder, size + "-browser"))
    start = read(folder, "start")
    if start is not None:
        rows += list_start(start)
    print_table(rows)


if __name__ == "__main__":
    main(*sys.argv[1:])
