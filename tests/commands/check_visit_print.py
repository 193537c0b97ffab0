#!/usr/bin/env python3
"""Prints the report of the demo visit with a real browser and counts the pages.

Usage: check_visit_print.py PROGRAM SOURCE_FOLDER      status 77 when there is no Chromium

A report of up to three looks promises two A4 pages.
"""
import re
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

SKIPPED = 77


def main():
    program, root = sys.argv[1], Path(sys.argv[2])
    browser = shutil.which("chromium")
    if browser is None:
        print("Chromium is not installed; nothing was printed.")
        return SKIPPED
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)

        def visit(*arguments):
            subprocess.run([program, "visit", *map(str, arguments), "--store", folder / "visits.db"], check=True,
                           stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL)

        visit("import", root / "recordings/demo-visit.json")
        visit("report", 1, folder / "visit.html")
        printed = folder / "visit.pdf"
        subprocess.run([browser, "--headless", "--no-sandbox", "--disable-gpu", f"--user-data-dir={folder / 'profile'}",
                        f"--print-to-pdf={printed}", "--no-pdf-header-footer", (folder / "visit.html").as_uri()],
                       check=True, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        # page objects stand uncompressed in what Chromium writes; the tree of pages is /Pages
        pages = len(re.findall(rb"/Type\s*/Page\b(?!s)", printed.read_bytes()))
        print(f"the report of the demo visit prints on {pages} pages")
        return 0 if pages == 2 else 1


if __name__ == "__main__":
    sys.exit(main())
