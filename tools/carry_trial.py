#!/usr/bin/env python3
"""Carries invented visits from a chair to a clinic over a bad network, and looks whether all of it arrives, once and in order.

Usage: carry_trial.py RETAP [--visits N] [--entries N] [--cut-after BYTES] [--delay MS] [--kills N] [--seed N]

Starts a PostgreSQL server of its own (tests/school/server.py) and a relay before it that holds every piece back for up to --delay
and cuts every connection after about --cut-after bytes. The server is killed --kills times in the middle and started again. Carrying is
begun again until it is through. Prints what it took; status 1 when anything is missing, doubled or changed, 77 without PostgreSQL.
"""
import argparse
import hashlib
import json
import os
import random
import selectors
import signal
import socket
import sqlite3
import subprocess
import sys
import tempfile
import threading
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "tests" / "school"))
import server  # noqa: E402


class Relay:
    """One thread; every connection has a number of bytes after which it is cut."""

    def __init__(self, folder, target, cut_after, delay_s, seed):
        self.target, self.cut_after, self.delay_s, self.random, self.cuts = target, cut_after, delay_s, random.Random(seed), 0
        self.listener = socket.socket(socket.AF_UNIX)
        self.listener.bind(str(folder / ".s.PGSQL.5432"))
        self.listener.listen()
        threading.Thread(target=self.accept, daemon=True).start()

    def accept(self):
        while True:
            client, _ = self.listener.accept()
            upstream = socket.socket(socket.AF_UNIX)
            try:
                upstream.connect(self.target)
            except OSError:  # the server was killed
                client.close()
                continue
            limit = self.random.randint(self.cut_after // 2, self.cut_after * 3 // 2) if self.cut_after else None
            threading.Thread(target=self.pass_on, args=(client, upstream, limit), daemon=True).start()

    def pass_on(self, client, upstream, limit):
        pick, passed = selectors.DefaultSelector(), 0
        pick.register(client, selectors.EVENT_READ, upstream)
        pick.register(upstream, selectors.EVENT_READ, client)
        try:
            while True:
                for key, _ in pick.select():
                    piece = key.fileobj.recv(65536)
                    if not piece:
                        return
                    if self.delay_s:
                        time.sleep(self.random.uniform(0, self.delay_s))
                    passed += len(piece)
                    if limit and passed > limit:
                        self.cuts += 1
                        key.data.sendall(piece[: len(piece) // 2])  # in the middle of a message
                        return
                    key.data.sendall(piece)
        except OSError:
            pass
        finally:
            client.close()
            upstream.close()


def chained(before, uid, row):
    """As src/visit/chain.hpp describes it."""
    number, kind, look, at, by, corrects, reason, body, inherited = row
    parts = [before, uid, str(number), kind, look or "", at, by, "" if corrects is None else str(corrects), reason or "", body]
    if inherited is not None:
        parts.append(inherited)
    content = b"retap.entry/1\n" + b"".join(b"%d:%s\n" % (len(p.encode()), p.encode()) for p in parts)
    return hashlib.sha256(content).hexdigest()


def make_chair(retap, folder, visits, entries, seed):
    """One visit by the program; the others are the same under other uids."""
    store = folder / "chair.db"
    run = lambda *words: subprocess.run([retap, "visit", *words, "--store", store], check=True, stdout=subprocess.PIPE)
    run("new", "C-2207", "--teeth", "26", "--numbering", "iso", "--worker", "A. Student", "--supervisor", "B. Teacher")
    for _ in range(entries - 1):
        run("feel", "1", "before", "--numb", "no", "--says", "comfortable")
    base = sqlite3.connect(store)
    columns = [c[1] for c in base.execute("PRAGMA table_info(visit)") if c[1] not in ("id", "uid")]
    row = base.execute(f"SELECT {', '.join(columns)} FROM visit").fetchone()
    said = base.execute("SELECT number, kind, look, at, by, corrects, reason, body, inherited FROM entry ORDER BY number").fetchall()
    numbers = random.Random(seed)
    for _ in range(visits - 1):
        uid, digest = f"{numbers.getrandbits(128):032x}", ""
        visit = base.execute(f"INSERT INTO visit (uid, {', '.join(columns)}) VALUES (?{', ?' * len(columns)})", (uid, *row)).lastrowid
        for entry in said:
            digest = chained(digest, uid, entry)
            base.execute("INSERT INTO entry (visit_id, number, kind, look, at, by, corrects, reason, body, inherited, digest) "
                         "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)", (visit, *entry, digest))
    base.commit()
    heads = dict(base.execute("SELECT v.uid, e.digest FROM visit v JOIN entry e ON e.visit_id = v.id WHERE e.number = ?", (len(said),)))
    base.close()
    return store, heads


def main():
    options = argparse.ArgumentParser()
    options.add_argument("retap", type=Path)
    options.add_argument("--visits", type=int, default=500)
    options.add_argument("--entries", type=int, default=20)
    options.add_argument("--cut-after", type=int, default=300_000)
    options.add_argument("--delay", type=float, default=1)
    options.add_argument("--kills", type=int, default=3)
    options.add_argument("--seed", type=int, default=1)
    given = options.parse_args()
    with tempfile.TemporaryDirectory(prefix="retap-carry-") as name:
        folder = Path(name)
        note = folder / "server"
        if server.start(note) != 0:
            return 1
        try:
            if note.read_text().startswith("none"):
                print("skipped:", note.read_text().splitlines()[1])
                return 77
            return trial(given, folder, note)
        finally:
            server.stop(note)


def trial(given, folder, note):
    home = note.read_text().splitlines()[0]
    retap = given.retap.resolve()
    at = lambda login, database, host=home: f"postgresql://{login}@/{database}?host={host}"
    subprocess.run([server.program("createdb"), "-h", home, "-U", server.OWNER, "clinic"], check=True)
    school = lambda *words, login=server.OWNER: subprocess.run(
        [retap, "school", *words, "--store", at(login, "clinic")], check=True, stdout=subprocess.PIPE).stdout
    school("init")
    school("person", "astudent", "--name", "A. Student", "--role", "student")
    school("person", "ecoord", "--name", "E. Coordinator", "--role", "coordinator")
    store, heads = make_chair(retap, folder, given.visits, given.entries, given.seed)
    relay = Relay(folder, f"{home}/.s.PGSQL.5432", given.cut_after, given.delay / 1000, given.seed)
    query = lambda sql: subprocess.run([server.program("psql"), "-h", home, "-U", server.OWNER, "-At", "clinic", "-c", sql],
                                       check=True, stdout=subprocess.PIPE, text=True).stdout.split()
    total = given.visits * given.entries
    kill_at = [total * (k + 1) // (given.kills + 1) for k in range(given.kills)]
    begun, tries, kills, last = time.monotonic(), 0, 0, ""
    while tries < 10_000:
        tries += 1
        carrying = subprocess.Popen([retap, "school", "carry", "--json", "--clinic", at("astudent", "clinic", folder), "--store", store],
                                    stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
        while kill_at and carrying.poll() is None:
            if int(query("SELECT count(*) FROM retap.entry")[0]) >= kill_at[0]:
                kill_at.pop(0)
                kills += 1
                server.kill_and_restart(note)
            time.sleep(0.05)
        out, last = carrying.communicate()
        if carrying.returncode == 0 and not json.loads(out)["told"]:
            break
        if carrying.returncode not in (0, 5):
            print(f"carrying ended with {carrying.returncode}: {last}")
            return 1
    seconds = time.monotonic() - begun
    there = dict(line.split("|") for line in query(
        f"SELECT v.uid, e.digest FROM retap.visit v JOIN retap.entry e ON e.visit_id = v.id WHERE e.number = {given.entries}"))
    count = int(query("SELECT count(*) FROM retap.entry")[0])
    school("verify", login="ecoord")
    kept = json.loads(subprocess.run([retap, "school", "kept", "--json", "--store", store], check=True, stdout=subprocess.PIPE).stdout)
    whole = there == heads and count == total and all(v["plain"] == "kept in the clinic" for v in kept["visits"])
    print(f"{total} entries of {given.visits} visits: {count} in the clinic, {'all as they were written' if whole else 'NOT what was written'}; "
          f"{tries} tries, {relay.cuts} cuts, {kills} kills of the server, {seconds:.0f} s")
    if not whole and last:
        print("the last try said:", last)
    return 0 if whole and kills == given.kills else 1


if __name__ == "__main__":
    sys.exit(main())
