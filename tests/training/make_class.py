#!/usr/bin/python3
"""Fills a record with an invented class: make_class.py PAWL RECORD PEOPLE JOBS. Each of PEOPLE does JOBS rebuilds of the pump in tests/report.

Apprentices are invented. Each gets faster by a rate of their own, near 80 % for twice as many jobs; some guess the seal's lip wrong and turn it round at first, some push the
seal too deep once or twice, some have to do a step again, some are turned back at the hold. In every second job of the first three people a fault was planted, which is caught
or not. The last of a class of three or more has been away for over a year. The same numbers come out each time, but for the moments at which seals were made.
"""
import datetime
import math
import os
import random
import subprocess
import sys
import tempfile

ROOT = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "..")
HEADER = "at,step,item,answer,instrument,person,source,lot,deviation,accepted-by,note\n"
NAMES = ["Aldra Pascoe", "Benesek Trevail", "Carenza Moyle", "Denzel Rosewarne", "Elowen Kitto", "Ferris Angove", "Gerens Polglase", "Hedra Nance",
         "Ives Trembath", "Jenna Carlyon", "Kitto Penrose", "Lowena Hosking"]
TRAINER = "Old Tamsin"
PIN = "4071"
FAULTS = [("the lip turned round", "sense"), ("a seal of another size in the kit", "which"), ("4.9 mm written into the book as in", "statement")]


class Sheet:
    """Lines of a bench sheet, each some minutes after the one before."""

    def __init__(self, start, person, pace):
        self.lines, self.at, self.person, self.pace = [], start, person, pace

    def add(self, minutes, step, item, answer="", person=None, note="", tool=""):
        self.at += datetime.timedelta(seconds=round(60 * minutes * self.pace))
        self.lines.append(f"{self.at:%Y-%m-%dT%H:%M:%S}+00:00,{step},{item},{answer},{tool},{person or self.person},,,,,{note}")


def make_sheet(person, number, chance, is_away):
    """The numberth job, from 1, of a person with these chances."""
    rate = 0.74 + 0.012 * person
    start = datetime.datetime(2024 if is_away else 2026, 1, 5, 8, 0) + datetime.timedelta(days=7 * number, hours=person % 4)
    sheet = Sheet(start, NAMES[person], number ** math.log2(rate) * chance.uniform(0.97, 1.03))
    slips = chance.random() < 0.55 / number
    deep = chance.random() < 0.5 / number
    deeper = chance.random() < 0.4
    is_turned_back = chance.random() < 0.4 / number
    sheet.add(0, "job", "serial", str(5000 + 12 * number + person))
    sheet.add(0, "job", "variant", "rh")
    sheet.add(0, "job", "ask-first", "yes")
    sheet.add(3, "look", "condition", "Oil on the flange")
    sheet.add(2, "look", "depth-found", "4.1", tool="gauge")
    sheet.add(1, "look", "done")
    sheet.add(6, "strip", "rotor-decision", "reuse")
    sheet.add(1, "strip", "done")
    sheet.add(2, "soak", "bath", "start", note="paraffin")
    sheet.at += datetime.timedelta(minutes=40)
    sheet.add(0, "soak", "bath", "end")
    sheet.add(1, "soak", "done")
    sheet.add(4, "rotor-in", "rotor-either", "right")
    sheet.add(1, "rotor-in", "spins", "free")
    sheet.add(2, "rotor-in", "end-float", "0.06")
    sheet.add(1, "rotor-in", "done")
    sheet.add(0, "seal-in", "guess lip", "wrong" if slips else "right")
    if slips:
        sheet.add(3, "seal-in", "lip", "wrong")
    sheet.add(3, "seal-in", "lip", "right")
    if deep:
        sheet.add(2, "seal-in", "depth", "4.8", tool="gauge")
        if deeper:
            sheet.add(2, "seal-in", "depth", "4.6", tool="gauge")
    sheet.add(2, "seal-in", "depth", "4.1", tool="gauge")
    sheet.add(1, "seal-in", "done")
    if chance.random() < 0.3 / number:
        sheet.add(1, "seal-in", "reopen", note="the lip was nicked")
        sheet.add(4, "seal-in", "lip", "right")
        sheet.add(2, "seal-in", "depth", "4.0", tool="gauge")
        sheet.add(1, "seal-in", "done")
    if is_turned_back:
        sheet.add(2, "seal-in", "reopen", person=TRAINER, note="the lip is dry")
        sheet.add(3, "seal-in", "lip", "right")
        sheet.add(2, "seal-in", "depth", "4.1", tool="gauge")
        sheet.add(1, "seal-in", "done")
    sheet.add(1, "seal-in", "release", "trainer", person=TRAINER)
    sheet.add(2, "close", "leak", "0.5 psi")
    sheet.add(1, "close", "done")
    return HEADER + "\n".join(sheet.lines) + "\n"


def run(*arguments, lines=""):
    """The command, with lines for what it asks. A finding is none here: some readings are out."""
    done = subprocess.run(arguments, input=lines, capture_output=True, text=True, check=False)
    if done.returncode == 2:
        sys.exit(done.stderr)
    return done.stdout


def plant(pawl, record, serial, person, number):
    """A fault, sealed at the hold and opened: caught by everybody in the later ones, and by every second person in the first."""
    fault, kind = FAULTS[(person + number) % len(FAULTS)]
    planted = run(pawl, "train", "plant", serial, "seal-in", "--by", TRAINER, "--record", record, lines=f"{PIN}\n{fault}\n")
    code = planted.split()[1]
    found = "yes" if number > 2 or person % 2 == 0 else "no"
    run(pawl, "train", "open", serial, code, "--found", found, "--kind", kind, "--learner", NAMES[person], "--by", TRAINER, "--record", record,
        lines=f"{PIN}\n{fault}\n")


def main():
    pawl, record, people, jobs = sys.argv[1], sys.argv[2], int(sys.argv[3]), int(sys.argv[4])
    chance = random.Random(20261125)
    run(pawl, "people", "add", TRAINER, "--role", "trainer", "--record", record)
    run(pawl, "people", "pin", TRAINER, "--record", record, lines=f"{PIN}\n{PIN}\n")
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "sheet.csv")
        for person in range(people):
            for number in range(1, jobs + 1):
                with open(path, "w", encoding="utf-8") as file:
                    file.write(make_sheet(person, number, chance, people > 2 and person == people - 1))
                run(pawl, "work", os.path.join(ROOT, "tests", "report", "pump.xml"), "--answers", path, "--record", record)
                if person < 3 and number % 2 == 0:
                    plant(pawl, record, str(5000 + 12 * number + person), person, number)


if __name__ == "__main__":
    main()
