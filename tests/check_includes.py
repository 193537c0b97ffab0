#!/usr/bin/env python3
"""Holds the sources to the order of the layers, by what they include.

Usage: check_includes.py SOURCE_FOLDER     prints each breach as FILE:LINE: what is wrong; status 1 when there is one
       check_includes.py --self-test       checks the checker on sources with known breaches
"""
import re
import sys
import tempfile
from pathlib import Path

# Lowest first: a layer includes itself and those before it.
LAYERS = ["dsp", "audio", "bite", "compare", "chart", "visit", "report", "lesson", "chairside", "commands"]
# The rooms of dsp/, lowest first, in the same way; what lies in dsp/ itself is above all of them.
ROOMS = ["base", "filters", "stream", "onset", "find", "run", "contacts", "landing", "measure"]
# Headers of src/ itself, below every layer of it.
BASE = {"error.hpp", "aside_file.hpp", "utf8.hpp"}
# What dsp/ must not know: no device, file, clock, thread or printing. (JSON, SQL and HTTP are outside libraries; <cstdio>
# is let through for snprintf.)
NOT_IN_DSP = {"chrono", "ctime", "filesystem", "format", "fstream", "future", "iostream", "iomanip", "istream",
              "mutex", "ostream", "print", "sstream", "stop_token", "syncstream", "thread"}
DSP_LIBRARIES = {"kissfft", "eigen"}
# Outside libraries, by how their headers begin.
LIBRARIES = {"kiss_fft": "kissfft", "kissfft": "kissfft", "Eigen/": "eigen", "eigen3/": "eigen", "sndfile": "libsndfile",
             "samplerate": "libsamplerate", "portaudio": "portaudio", "pa_": "portaudio", "boost/": "boost", "CLI/": "cli11",
             "nlohmann/": "nlohmann-json", "libav": "ffmpeg", "libsw": "ffmpeg", "alsa/": "alsa", "jack/": "jack", "openssl/": "openssl", "soci/": "soci", "sqlite3": "sqlite", "microhttpd": "libmicrohttpd", "zlib": "zlib"}
# POSIX and Linux, which are no library of anybody's.
SYSTEM = re.compile(r"(sys|netinet|arpa|linux|net)/\w+\.h|(unistd|fcntl|poll|pwd|netdb|termios|dirent|signal|spawn|errno|"
                    r"stdlib|string|strings)\.h")
INCLUDE = re.compile(r'\s*#\s*include\s*([<"])([^>"]+)[>"]')


def layer_of(name):
    """The layer of a file or an include path, None outside of them."""
    first = name.split("/")[0]
    return first if first in LAYERS else None


def room_of(name):
    """The number of the room of dsp/ that a file or an include path lies in, None outside of dsp/."""
    parts = name.split("/")
    if parts[0] != "dsp":
        return None
    if len(parts) == 2:
        return len(ROOMS)
    return ROOMS.index(parts[1]) if parts[1] in ROOMS else -1


def faults_of_room(own, header):
    """What is wrong with an include from room number `own` of dsp/."""
    target = room_of(header)
    if own is None or target is None:
        return []
    if -1 in (own, target):
        return [f'"{header}" or this file lies in a room of dsp/ that is not listed']
    if target > own:
        return [f"room {ROOMS[own]} must not use {header}, which is above it"]
    return []


def library_of(header):
    return next((library for start, library in LIBRARIES.items() if header.startswith(start)), None)


def breaches(root):
    wrappers = {}
    found = []
    for file in sorted([*root.glob("dsp/**/*.[ch]pp"), *root.glob("src/**/*.[ch]pp")]):
        if "node_modules" in file.parts:
            continue
        name = str(file.relative_to(root))
        own = layer_of(name.removeprefix("src/"))
        for number, line in enumerate(file.read_text(encoding="utf-8").splitlines(), 1):
            match = INCLUDE.match(line)
            if not match:
                continue
            quoted, header = match.group(1) == '"', match.group(2)
            where = f"{name}:{number}: "
            if quoted:
                found += [where + fault for fault in faults_of_own_header(own, file, header)]
                found += [where + fault for fault in faults_of_room(room_of(name), header)]
                continue
            library = library_of(header)
            if library:
                wrappers.setdefault(library, {})[name] = where
                if own == "dsp" and library not in DSP_LIBRARIES:
                    found.append(f"{where}dsp/ must not use {library}")
            elif own == "dsp" and header in NOT_IN_DSP:
                found.append(f"{where}dsp/ must not use <{header}>")
            elif "." in header and (own == "dsp" or not SYSTEM.fullmatch(header)):
                found.append(f"{where}<{header}> is neither standard nor of a library known here")
    for library, files in wrappers.items():
        if len(files) > 1:
            found.append(f"{library} is included by {len(files)} files and should be by one wrapper: {', '.join(files)}")
    return found


def faults_of_own_header(own, file, header):
    target = layer_of(header)
    if target is None:
        if own == "dsp":
            return [f'dsp/ must not use "{header}"']
        if header not in BASE and not (file.parent / header).is_file():
            return [f'"{header}" is of no layer']
        return []
    if own is None or LAYERS.index(target) > LAYERS.index(own):
        return [f"{own or 'the base'} must not use {target}, which is above it"]
    return []


def self_test():
    sources = {
        "dsp/a.cpp": '#include "dsp/run/a.hpp"\n#include <vector>\n#include <kiss_fft.h>\n',
        "dsp/base/b.cpp": '#include "audio/x.hpp"\n#include <fstream>\n#include <sndfile.h>\n#include "error.hpp"\n',
        "dsp/find/c.cpp": '#include "dsp/base/b.hpp"\n#include "dsp/run/d.hpp"\n#include "dsp/top.hpp"\n#include <portaudio.h>\n',
        "dsp/cellar/d.cpp": '#include "dsp/base/b.hpp"\n',
        "src/audio/c.cpp": '#include "error.hpp"\n#include "dsp/a.hpp"\n#include "visit/v.hpp"\n#include <sndfile.h>\n',
        "src/visit/d.cpp": "#include <unistd.h>\n#include <strange.h>\n",
    }
    expected = [
        "dsp/base/b.cpp:1: dsp must not use audio, which is above it",
        "dsp/base/b.cpp:2: dsp/ must not use <fstream>",
        "dsp/base/b.cpp:3: dsp/ must not use libsndfile",
        'dsp/base/b.cpp:4: dsp/ must not use "error.hpp"',
        'dsp/cellar/d.cpp:1: "dsp/base/b.hpp" or this file lies in a room of dsp/ that is not listed',
        "dsp/find/c.cpp:2: room find must not use dsp/run/d.hpp, which is above it",
        "dsp/find/c.cpp:3: room find must not use dsp/top.hpp, which is above it",
        "dsp/find/c.cpp:4: dsp/ must not use portaudio",
        "src/audio/c.cpp:3: audio must not use visit, which is above it",
        "src/visit/d.cpp:2: <strange.h> is neither standard nor of a library known here",
        "libsndfile is included by 2 files and should be by one wrapper: dsp/base/b.cpp, src/audio/c.cpp",
    ]
    with tempfile.TemporaryDirectory() as folder:
        for name, text in sources.items():
            path = Path(folder) / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")
        got = breaches(Path(folder))
    assert got == expected, "\n".join(["got:", *got, "expected:", *expected])


def main():
    if sys.argv[1:] == ["--self-test"]:
        self_test()
        return 0
    found = breaches(Path(sys.argv[1]))
    print("\n".join(found) or "every include points down, and each outside library has one wrapper")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
