#!/usr/bin/env python3
"""Prints the reports of the demo with a real browser and counts the pages.

Usage: check_print.py PROGRAM SOURCE_FOLDER      status 77 when there is no Chromium

The report of a comparison promises two A4 pages, that of a visit of up to three looks as well, in type of 9 pt or
more.
"""
import re
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

SKIPPED = 77


def pages_of(report, browser, folder):
    printed = report.with_suffix(".pdf")
    subprocess.run([browser, "--headless", "--no-sandbox", "--disable-gpu", f"--user-data-dir={folder / 'profile'}",
                    f"--print-to-pdf={printed}", "--no-pdf-header-footer", report.as_uri()],
                   check=True, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    # page objects stand uncompressed in what Chromium writes; the tree of pages is /Pages
    return len(re.findall(rb"/Type\s*/Page\b(?!s)", printed.read_bytes()))


def main():
    program, root = sys.argv[1], Path(sys.argv[2])
    browser = shutil.which("chromium")
    if browser is None:
        print("Chromium is not installed; nothing was printed.")
        return SKIPPED
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)

        def retap(*arguments):
            subprocess.run([program, *map(str, arguments)], check=True, stdin=subprocess.DEVNULL,
                           stdout=subprocess.DEVNULL)

        visit, comparison = folder / "visit.html", folder / "comparison.html"
        store = ("--store", folder / "visits.db")
        retap("visit", "import", root / "recordings/demo-visit.json", *store)
        retap("visit", "report", 1, visit, *store)
        takes = root / "recordings"
        retap("compare", takes / "before.flac", takes / "after-high-100um.flac", "--report", comparison)
        pages = {report.name: pages_of(report, browser, folder) for report in (visit, comparison)}
        print("pages:", pages)
        return 0 if pages["comparison.html"] == 2 and pages["visit.html"] == 2 else 1


if __name__ == "__main__":
    sys.exit(main())
