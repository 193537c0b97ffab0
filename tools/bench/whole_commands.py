#!/usr/bin/env python3
"""Measures whole commands: wall time, CPU time and peak memory, beside aubioonset on the same file.

Usage: whole_commands.py RETAP [RUNS]
"""
import array
import datetime
import math
import multiprocessing
import os
import platform
import random
import statistics
import subprocess
import sys
import tempfile
import time
import wave
from pathlib import Path

RATE = 48000


def strike(gain, rng):
    """30 ms of two damped modes; their pitch and decay scatter a little from tap to tap."""
    low, high = 1900 * rng.uniform(0.98, 1.02), 5200 * rng.uniform(0.98, 1.02)
    slow = 700 * rng.uniform(0.9, 1.1)
    return [gain * (math.exp(-slow * n / RATE) * math.sin(2 * math.pi * low * n / RATE)
                    + 0.7 * math.exp(-1500 * n / RATE) * math.sin(2 * math.pi * high * n / RATE))
            for n in range(int(0.03 * RATE))]


def make_take(path, seconds, seed=48):
    """Runs of eight taps at 2.6 a second with a pause of a second between them, over noise 60 dB below their peaks."""
    rng = random.Random(seed)
    noise = array.array("h", (round(rng.gauss(0.0, 10.0)) for _ in range(RATE)))
    samples = noise * seconds
    at, tap = 0.5, 0
    while at < seconds - 0.5:
        start = int(at * RATE)
        for n, value in enumerate(strike(0.3 * rng.uniform(0.7, 1.3), rng)):
            samples[start + n] += round(32767 * value)
        tap += 1
        at += 0.385 * rng.uniform(0.95, 1.05) + (1.0 if tap % 8 == 0 else 0.0)
    with wave.open(str(path), "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(RATE)
        file.writeframes(samples.tobytes())
    return tap


def measure(command):
    """Wall seconds, CPU seconds and peak memory in MB of one run."""
    start = time.perf_counter()
    with subprocess.Popen(command, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL) as child:
        _, status, usage = os.wait4(child.pid, 0)
        child.returncode = os.waitstatus_to_exitcode(status)
    wall = time.perf_counter() - start
    if child.returncode != 0:
        raise SystemExit(f"{command[0]} ended with status {child.returncode}")
    return wall, usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024


def median_of(commands, runs):
    """The commands in turns, `runs` times after one to warm up; the median of each figure for each command."""
    for command in commands:
        measure(command)
    results = [[measure(command) for command in commands] for _ in range(runs)]
    return [tuple(statistics.median(figure) for figure in zip(*(run[i] for run in results))) for i in range(len(commands))]


def processor():
    lines = Path("/proc/cpuinfo").read_text(encoding="utf-8").splitlines()
    names = [line.split(":", 1)[1].strip() for line in lines if line.startswith("model name")]
    return f"{names[0] if names else platform.machine()}, {len(names) or os.cpu_count()} cores seen"


def main():
    retap, runs = sys.argv[1], int(sys.argv[2]) if len(sys.argv) > 2 else 5
    load = os.getloadavg()[0]
    print(f"{datetime.date.today()}, {processor()}, load {load:.1f} before the start, median of {runs} runs")
    with tempfile.TemporaryDirectory() as folder:
        long, short, brief = (Path(folder) / name for name in ("600s.wav", "60s.wav", "5s.wav"))
        # In a process of its own: a program's peak counts from before its start, when it still was a copy of this one.
        with multiprocessing.Pool(1) as maker:
            taps, *_ = maker.starmap(make_take, [(long, 600), (short, 60), (brief, 5)])
        ours, theirs, minute, pair = median_of(
            [[retap, "inspect", str(long), "--json"], ["aubioonset", "-B", "512", "-H", "64", "-i", str(long)],
             [retap, "inspect", str(short), "--json"], [retap, "compare", str(brief), str(brief)]], runs)
    print(f"{'':44}{'wall s':>8}{'CPU s':>8}{'peak MB':>9}")
    for name, figures in ((f"retap inspect, 600 s with {taps} taps", ours), ("aubioonset -B 512 -H 64, same file", theirs),
                          ("retap inspect, 60 s", minute), ("retap compare, two takes of 5 s", pair)):
        print(f"{name:44}{figures[0]:8.3f}{figures[1]:8.3f}{figures[2]:9.1f}")
    print(f"retap to aubioonset: {ours[0] / theirs[0]:.2f} of its wall time, {ours[1] / theirs[1]:.2f} of its CPU time, "
          f"{ours[2] / theirs[2]:.2f} of its memory")
    print(f"ten minutes to one: {ours[2] / minute[2]:.2f} times the memory")


if __name__ == "__main__":
    main()
