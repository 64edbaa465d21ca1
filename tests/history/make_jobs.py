#!/usr/bin/python3
"""Fills a record with invented jobs, to look at a history: make_jobs.py PAWL RECORD N.

All are of the pump in tests/report; the seal's depth wanders about 4 mm, now and then it is out and corrected, and one was fitted by somebody else.
"""
import os
import random
import subprocess
import sys
import tempfile

ROOT = os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "..")
HEADER = "at,step,item,answer,instrument,person,source,lot,deviation,accepted-by,note\n"


def make_sheet(number, chance):
    day = f"{2021 + number // 336}-{1 + number // 28 % 12:02}-{1 + number % 28:02}"
    found = chance.gauss(4.15, 0.14)
    depth = chance.gauss(4.02, 0.035) + (0.2 if number % 41 == 17 else 0)
    lines = [f"{day}T09:00+00:00,job,serial,{4700 + number % 12},,Jenna Tregear,,,,,",
             ",job,variant,rh,,Jenna Tregear,,,,,",
             ",look,condition,Oil on the flange,,Jenna Tregear,,,,,",
             f",look,depth-found,{found:.2f},gauge,Jenna Tregear,,,,,",
             ",look,done,,,Jenna Tregear,,,,,",
             ",strip,rotor-decision,reuse,,Jenna Tregear,,,,,",
             ",strip,done,,,Jenna Tregear,,,,,",
             f"{day}T09:06+00:00,soak,bath,start,,Jenna Tregear,,,,,paraffin",
             f"{day}T09:40+00:00,soak,bath,end,,Jenna Tregear,,,,,",
             ",soak,done,,,Jenna Tregear,,,,,",
             ",rotor-in,rotor-either,right,,Jenna Tregear,,,,,",
             ",rotor-in,spins,free,,Jenna Tregear,,,,,",
             *([",rotor-in,end-float,0.14,,Jenna Tregear,,,,,"] if number % 3 == 0 else []),
             f",rotor-in,end-float,{chance.gauss(0.06, 0.008):.3f},,Jenna Tregear,,,,,{'thicker plate' if number % 3 == 0 else ''}",
             ",rotor-in,done,,,Jenna Tregear,,,,,",
             ",seal-in,lip,right,,Jenna Tregear,,,,,",
             f",seal-in,depth,{depth:.2f},gauge,Jenna Tregear,,,,,"]
    return HEADER + "\n".join(lines) + "\n"


def main():
    pawl, record, count = sys.argv[1], sys.argv[2], int(sys.argv[3])
    chance = random.Random(20261125)
    with tempfile.TemporaryDirectory() as folder:
        for number in range(count):
            path = os.path.join(folder, "sheet.csv")
            with open(path, "w", encoding="utf-8") as file:
                file.write(make_sheet(number, chance))
            done = subprocess.run([pawl, "work", os.path.join(ROOT, "tests", "report", "pump.xml"), "--answers", path, "--record", record],
                                  capture_output=True, text=True, check=False)
            if done.returncode == 2:
                sys.exit(done.stderr)


main()
