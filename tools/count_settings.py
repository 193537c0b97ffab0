#!/usr/bin/env python3
"""Counts the numbers that dsp/ and src/compare go by: settings that can be handed in, constants that cannot, and numbers
written into the code.

Usage: count_settings.py SOURCE_FOLDER

Settings are the members with a default of every struct whose name ends in one of SETTINGS; constants are `constexpr`
numbers outside functions' tables; literals are floating-point numbers in .cpp files other than 0, 0.5, 1, 2 and 10 that
stand in no constant. The three are counts of lines of text, good for before and after.
"""
import re
import sys
from pathlib import Path

SETTINGS = ("Settings", "Limits", "Rules", "Oddness", "Search", "Scatter")
STRUCT = re.compile(r"struct (\w+) \{(.*?)\n\s*\};", re.S)
MEMBER = re.compile(r"^\s+(?:double|std::size_t|int|unsigned|Level|Frequency) \w+\s*(?:=\s*[^;]+|\{[^}]+\});", re.M)
CONSTANT = re.compile(r"constexpr (?:\w+::)*\w+(?:<[^>]*>)? \w+\s*(?:=|\{)")
LITERAL = re.compile(r"(?<![\w.])(\d+\.\d+(?:e-?\d+)?|\d+e-?\d+)F?\b")
COMMON = {0.0, 0.5, 1.0, 2.0, 10.0}


def without_comments(text):
    return re.sub(r"//[^\n]*", "", text)


def count(folder):
    settings = constants = literals = 0
    for file in sorted([*folder.glob("**/*.hpp"), *folder.glob("**/*.cpp")]):
        text = without_comments(file.read_text(encoding="utf-8"))
        for name, body in STRUCT.findall(text):
            if name.endswith(SETTINGS):
                settings += len(MEMBER.findall(body))
        for line in text.splitlines():
            if CONSTANT.search(line):
                constants += 1
            elif file.suffix == ".cpp":
                literals += sum(float(number) not in COMMON for number in LITERAL.findall(line))
    return settings, constants, literals


def main():
    root = Path(sys.argv[1])
    print(f"{'':12} {'settings':>9} {'constants':>9} {'literals':>9}")
    for name in ("dsp", "src/compare"):
        print(f"{name:12} {'{:9} {:9} {:9}'.format(*count(root / name))}")


if __name__ == "__main__":
    main()
