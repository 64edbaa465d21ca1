#!/usr/bin/python3
"""Writes a procedure for a measuring figure: make_procedure.py SIZE [-o FILE]. The figure SIZE.svg has to stand beside it.

Ten parts come off in each step and go on again in the opposite order, so that the window can be tried on as many parts as a figure has.
"""
import argparse
import sys

import make_figure

PARTS_A_STEP = 10
FRAME = """<?xml version="1.0" encoding="UTF-8"?>
<procedure xmlns="urn:pawl:procedure:1" id="measuring-{id}" revision="1" xml:lang="en">
  <title>Measuring procedure {size}</title>
  <unit maker="Pellow &amp; Daunt" model="{size}">Unit of {n} parts, to measure with</unit>
  <statement>Invented unit, to measure the program with.</statement>
  <author>Pawl project</author>
  <licence>CC0-1.0</licence>
  <book id="sheet" title="Measuring sheet (invented)" edition="1"/>
  <verified how="on-paper" by="Pawl project" date="2026-11-25">Made by a program, nothing built.</verified>
  <attended>1 h</attended>
  <tools>
    <tool id="spanner" name="Spanner"/>
  </tools>
  <supplies><none/></supplies>
  <cautions>
    <caution id="drips" signal="notice" topic="waste"><hazard>Oil drips.</hazard><consequence>Stains.</consequence><avoid>Hold a tin under it.</avoid></caution>
  </cautions>
  <figure file="{size}.svg"/>
  <parts>
    <part id="part-1" item="1" name="Part 1" stays="yes"/>
{parts}
  </parts>
  <phase id="teardown" title="Take apart">
{off}
  </phase>
  <phase id="reassembly" title="Put together">
{on}
  </phase>
</procedure>
"""
PART = '    <part id="part-{n}" item="{n}" name="Part {n}" slide="{x},{y}" symmetric="yes"/>'
OFF = '    <step id="off-{n}" attended="1 min" tools="spanner"{cautions} remove="{parts}"{needs}><do>Take off parts {first} to {last}.</do></step>'
ON = '    <step id="on-{n}" attended="1 min" tools="spanner" install="{parts}"{needs}><do>Put on parts {first} to {last}.</do></step>'


def make_procedure(size):
    n_parts = make_figure.SIZES[size][0]
    numbers = list(range(n_parts, 1, -1))  # the topmost comes off first; part 1 stays
    groups = [numbers[n:n + PARTS_A_STEP] for n in range(0, len(numbers), PARTS_A_STEP)]

    def names(group):
        return " ".join(f"part-{n}" for n in group)
    parts = [PART.format(n=n, x=-12 - n % 20, y=-7 - n % 11) for n in range(2, n_parts + 1)]
    off = [OFF.format(n=n, parts=names(group), first=group[0], last=group[-1], cautions=' cautions="drips"' if n == 0 else "",
                      needs=f' needs="off-{n - 1}"' if n > 0 else "") for n, group in enumerate(groups)]
    on = [ON.format(n=n, parts=names(group[::-1]), first=group[-1], last=group[0],
                    needs=f' needs="on-{n - 1}"' if n > 0 else "") for n, group in enumerate(groups[::-1])]
    return FRAME.format(id=size.lower(), size=size, n=n_parts, parts="\n".join(parts), off="\n".join(off), on="\n".join(on))


def main():
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("size", choices=make_figure.SIZES)
    parser.add_argument("-o", "--output", help="file to write, instead of stdout")
    given = parser.parse_args()
    procedure = make_procedure(given.size)
    if given.output is None:
        sys.stdout.write(procedure)
    else:
        with open(given.output, "w", encoding="utf-8") as file:
            file.write(procedure)


if __name__ == "__main__":
    main()
