#!/usr/bin/python3
"""The measuring figures are what their names promise, and the same each time."""
import unittest
from xml.etree import ElementTree

import make_figure

SVG = "{http://www.w3.org/2000/svg}"


class MakeFigure(unittest.TestCase):
    def test_counts(self):
        for size in ("S", "M"):
            with self.subTest(size):
                n_parts, n_paths, _ = make_figure.SIZES[size]
                root = ElementTree.fromstring(make_figure.make_figure(size, 1).encode())
                groups = root.findall(SVG + "g")
                self.assertEqual([group.get("id") for group in groups], [f"part-{n + 1}" for n in range(n_parts)])
                self.assertEqual(len(list(root.iter(SVG + "path"))), n_paths)
                self.assertTrue(all(len(group) >= n_paths * (1 - make_figure.FILLER_SHARE) // n_parts for group in groups))

    def test_filler_lies_between_parts(self):
        root = ElementTree.fromstring(make_figure.make_figure("S", 1).encode())
        drawn = [child.tag == SVG + "g" for child in root if child.tag in (SVG + "g", SVG + "path")]
        runs = sum(1 for before, after in zip(drawn, drawn[1:]) if before and not after)
        self.assertEqual(runs, 6)  # after each fifth part of 30

    def test_same_seed_same_file(self):
        self.assertEqual(make_figure.make_figure("S", 3), make_figure.make_figure("S", 3))
        self.assertNotEqual(make_figure.make_figure("S", 3), make_figure.make_figure("S", 4))

    def test_overlap_is_met(self):
        for size in ("M", "LO"):
            with self.subTest(size):
                n_parts, _, overlap = make_figure.SIZES[size]
                self.assertAlmostEqual(make_figure.measure_overlap(make_figure.make_parts(n_parts, overlap, 1)), overlap, delta=0.05)

    def test_overlap_is_counted(self):
        """Two plates of the same place lie twice over each point; apart, once."""
        here, there = (make_figure.Part(n, x, 300, 100, make_figure.random.Random(0)) for n, x in enumerate((300, 900)))
        for part in (here, there):
            part.kind, part.axis, part.sections = "plate", 0, [(-0.1, 0.1, 0.5)]
        self.assertEqual(make_figure.measure_overlap([here, there]), 1)
        self.assertEqual(make_figure.measure_overlap([here, here]), 2)


if __name__ == "__main__":
    unittest.main()
