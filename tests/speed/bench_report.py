#!/usr/bin/python3
"""How long a report takes: bench_report.py PAWL FIGURE.svg [--browser] [--quick]

A job of 100 steps, 98 readings and 40 photos of 1600x1200 is entered into a record, then its full report is written as PDF; with --browser,
Chromium prints the same tables, photos and figure from one HTML page, each time as a program that has to start. Medians of five, by the clock, in turns.
--quick does it once with 6 steps and 2 photos, to see that it runs.
"""
import argparse
import base64
import html
import json
import os
import random
import shutil
import statistics
import struct
import subprocess
import tempfile
import time
import zlib

import make_figure
import make_procedure

STEP = """    <step id="step-{n}" attended="1 min" needs="{before}"><do>Measure bore {n} and look at its rim.</do>
      <reading id="bore-{n}" name="Bore {n}" limits="20.00..20.05 mm" unit="mm" source="sheet p. {n}"><says>What is the diameter?</says></reading>
      <check id="rim-{n}" kind="free" name="Rim {n}" source="sheet p. {n}">Does the plug turn freely?</check>
    </step>"""


def write_procedure(path, figure, n_steps):
    size = os.path.splitext(os.path.basename(figure))[0]
    n_parts = make_figure.SIZES[size][0]
    parts = [make_procedure.PART.format(n=n, x=-12 - n % 20, y=-7 - n % 11) for n in range(2, n_parts + 1)]
    names = " ".join(f"part-{n}" for n in range(2, n_parts + 1))
    off = f'    <step id="step-1" attended="1 min" tools="spanner" cautions="drips" remove="{names}"><do>Take off all parts.</do></step>'
    steps = [STEP.format(n=n, before=f"step-{n - 1}") for n in range(2, n_steps)]
    on = f'    <step id="step-{n_steps}" attended="1 min" tools="spanner" install="{names}" needs="step-{n_steps - 1}"><do>Put on all parts.</do></step>'
    with open(path, "w", encoding="utf-8") as file:
        file.write(make_procedure.FRAME.format(id="report", size=size, n=n_parts, parts="\n".join(parts), off="\n".join([off, *steps]), on=on))
    return n_parts


def write_photo(path, seed, width=1600, height=1200):
    """A picture with as many colours as a photo, and about its size."""
    noise = random.Random(seed).randbytes(width * 3 + height * 7)
    rows = b"".join(b"\0" + noise[y * 7:y * 7 + width * 3] for y in range(height))

    def chunk(name, data):
        return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))
    with open(path, "wb") as file:
        file.write(b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)) + chunk(b"IDAT", zlib.compress(rows, 6))
                   + chunk(b"IEND", b""))


def write_answers(folder, n_steps, n_photos):
    lines = ["item,step,answer,person,note", "work-order,job,R-100,Jenna Tregear,", "serial,job,100,Jenna Tregear,"]
    for n in range(1, n_steps + 1):
        if 1 < n < n_steps:
            lines += [f"bore-{n},step-{n},20.0{n % 5},Jenna Tregear,", f"rim-{n},step-{n},free,Jenna Tregear,"]
        if n <= n_photos:
            write_photo(os.path.join(folder, f"photo-{n}.png"), n)
            lines.append(f"photo,step-{n},photo-{n}.png,Jenna Tregear,Bore {n} as found")
        lines.append(f"done,step-{n},,Jenna Tregear,")
    lines.append("sign,,fitter,Jenna Tregear,Done as recorded here")
    with open(os.path.join(folder, "answers.csv"), "w", encoding="utf-8") as file:
        file.write("\n".join(lines) + "\n")


def write_page(folder, figure, n_steps, n_photos, n_parts):
    """The same as one page of HTML: plain tables, printed on A4."""
    with open(figure, encoding="utf-8") as file:
        drawing = base64.b64encode(file.read().encode()).decode()

    def table(heads, rows):
        body = "".join("<tr>" + "".join(f"<td>{html.escape(cell)}</td>" for cell in row) + "</tr>" for row in rows)
        return "<table><thead><tr>" + "".join(f"<th>{head}</th>" for head in heads) + "</tr></thead>" + body + "</table>"
    inner = range(2, n_steps)
    when = "2026-11-25 09:00"
    text = ["<title>Record of work</title><style>@page{size:A4;margin:16mm} body{font:8.5pt 'DejaVu Sans'} table{width:100%;border-collapse:collapse}"
            "td,th{border-bottom:.3pt solid #aaa;text-align:left} tr{break-inside:avoid} img.photo{width:30%;height:110pt;object-fit:contain}</style>",
            "<h1>Record of work</h1>", f'<img style="width:100%" src="data:image/svg+xml;base64,{drawing}">',
            "<h2>Readings</h2>", table(["Characteristic", "Limits", "As found", "As left", "Verdict", "Instrument", "By"],
                                       [[f"Bore {n}", f"20.00..20.05 mm sheet p. {n}", "–", f"20.0{n % 5} mm", "in", "not stated", f"Jenna Tregear {when}"] for n in inner]),
            "<h2>Checks</h2>", table(["Check", "What was tried", "Result", "By", "When"],
                                     [[f"Rim {n}", "Does the plug turn freely? Accepted: free.", "free", "Jenna Tregear", when] for n in inner]),
            "<h2>Parts</h2>", table(["Item", "Part", "Qty", "What became of it"], [[str(n), f"Part {n}", "1", "refitted"] for n in range(1, n_parts + 1)]),
            "<h2>Steps</h2>", table(["Step", "What was to be done", "State", "By", "When"],
                                    [[str(n), f"Measure bore {n} and look at its rim.", "done", "Jenna Tregear", when] for n in range(1, n_steps + 1)]),
            "<h2>Photos</h2>"]
    text += [f'<img class="photo" src="photo-{n}.png"> Bore {n} as found' for n in range(1, min(n_photos, n_steps) + 1)]
    with open(os.path.join(folder, "report.html"), "w", encoding="utf-8") as file:
        file.write("<!doctype html><meta charset=utf-8>" + "".join(text))


def run(*command):
    begin = time.monotonic()
    result = subprocess.run(command, capture_output=True, text=True, check=False)
    seconds = time.monotonic() - begin
    if result.returncode != 0:
        raise SystemExit(f"{' '.join(command)}: {result.stdout}{result.stderr}")
    return seconds


def measure(arguments, folder):
    n_steps, n_photos, n_times = (6, 2, 1) if arguments.quick else (100, 40, 5)
    shutil.copy(arguments.figure, folder)
    procedure, record = os.path.join(folder, "report.xml"), os.path.join(folder, "report.db")
    n_parts = write_procedure(procedure, arguments.figure, n_steps)
    write_answers(folder, n_steps, n_photos)
    run(arguments.pawl, "work", procedure, "--answers", os.path.join(folder, "answers.csv"), "--record", record)
    commands = {f"pawl report, --print {print_}": [arguments.pawl, "report", "R-100", "--record", record, "--print", print_, "-o", os.path.join(folder, f"{print_}.pdf")]
                for print_ in ("full", "customer")}
    pdfs = [os.path.join(folder, "full.pdf"), os.path.join(folder, "customer.pdf")]
    if arguments.browser:
        write_page(folder, arguments.figure, n_steps, n_photos, n_parts)
        pdfs.append(os.path.join(folder, "chromium.pdf"))
        commands["Chromium, the same as HTML"] = ["chromium", "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer", f"--user-data-dir={folder}/profile",
                                                  f"--print-to-pdf={pdfs[-1]}", f"file://{folder}/report.html"]
    times = {name: [] for name in commands}
    for _ in range(n_times):
        for name, command in commands.items():
            times[name].append(run(*command))
    return [{"what": name, "seconds": statistics.median(times[name]), "bytes": os.path.getsize(pdf)} for name, pdf in zip(commands, pdfs)], n_steps, n_photos


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("pawl")
    parser.add_argument("figure")
    parser.add_argument("--browser", action="store_true")
    parser.add_argument("--quick", action="store_true")
    parser.add_argument("--json", action="store_true")
    arguments = parser.parse_args()
    with tempfile.TemporaryDirectory(prefix="pawl-report-") as folder:
        rows, n_steps, n_photos = measure(arguments, folder)
    if arguments.json:
        print(json.dumps(rows))
        return
    print(f"report of {n_steps} steps and {n_photos} photos, from the start of the program to the PDF, median")
    for row in rows:
        print(f"{row['what']:<32} {row['seconds']:8.2f} s {row['bytes'] / 1e6:8.2f} MB")


if __name__ == "__main__":
    main()
