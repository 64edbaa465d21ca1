#!/usr/bin/python3
"""Every source with words to translate stands in po/POTFILES.in, nothing else does, and each translation is well formed."""
import os
import re
import subprocess
import tempfile
import unittest

ROOT = os.environ["PAWL_SOURCE_ROOT"]
MARKED = {".c": re.compile(r"\b(?:N_|C_|_|ngettext|g_dngettext) ?\("), ".ui": re.compile(r'translatable="(?:yes|true)"')}

KEYWORDS = ["--keyword=_", "--keyword=N_", "--keyword=C_:1c,2", "--keyword=ngettext:1,2", "--keyword=g_dngettext:2,3"]


def list_words(name):
    with open(os.path.join(ROOT, "po", name), encoding="utf-8") as file:
        return [line.strip() for line in file if line.strip() and not line.startswith("#")]


def list_marked():
    found = []
    for folder, _, names in os.walk(os.path.join(ROOT, "src")):
        for name in names:
            pattern = MARKED.get(os.path.splitext(name)[1])
            path = os.path.join(folder, name)
            if pattern:
                with open(path, encoding="utf-8") as file:
                    if pattern.search(file.read()):
                        found.append(os.path.relpath(path, ROOT))
    return sorted(found)


class Po(unittest.TestCase):
    def test_potfiles_is_complete(self):
        listed = [name for name in list_words("POTFILES.in") if name.startswith("src/")]
        self.assertEqual(sorted(listed), list_marked(), "po/POTFILES.in should list these files, sorted")

    def test_each_language_has_all(self):
        with tempfile.TemporaryDirectory() as folder:
            template, merged = os.path.join(folder, "pawl.pot"), os.path.join(folder, "merged.po")
            subprocess.run(["xgettext", "--from-code=UTF-8", *KEYWORDS, "-o", template, *list_marked()], cwd=ROOT, check=True)
            for language in list_words("LINGUAS"):
                with self.subTest(language):
                    subprocess.run(["msgmerge", "-q", "-N", "-o", merged, os.path.join(ROOT, "po", language + ".po"), template], check=True)
                    left = subprocess.run(["msgattrib", "--untranslated", "--no-obsolete", merged], check=True, capture_output=True, text=True)
                    self.assertEqual(left.stdout, "", "these have no translation")

    def test_each_language(self):
        for language in list_words("LINGUAS"):
            with self.subTest(language):
                result = subprocess.run(["msgfmt", "--check", "-o", os.devnull, os.path.join(ROOT, "po", language + ".po")],
                                        check=False, capture_output=True, text=True)
                self.assertEqual((result.returncode, result.stderr), (0, ""))


if __name__ == "__main__":
    unittest.main()
