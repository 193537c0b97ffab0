#!/usr/bin/env python3
"""A PostgreSQL server for the tests, in a folder of its own, on a Unix socket alone.

Usage: server.py start NOTE    makes and starts it, and writes where it is to the file NOTE; without PostgreSQL the note says why not
       server.py stop NOTE     stops it by the id in the note and takes its folder away; also what an earlier run left

The note has lines: folder, login of the owner. Nothing is synced: what it holds is gone after the tests anyway.
"""
import glob
import os
import pwd
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path

OWNER = "owner"


def program(name):
    """Debian keeps those of the server out of PATH."""
    places = sorted(glob.glob("/usr/lib/postgresql/*/bin"), key=lambda place: int(place.split("/")[4]), reverse=True)
    return next((found for found in (shutil.which(name, path=place) for place in places) if found), shutil.which(name))


def user():
    """The server refuses to run as root; then it runs as nobody, who has no rights anywhere."""
    if os.geteuid() != 0:
        return {}, None
    nobody = pwd.getpwnam("nobody")
    return {"user": nobody.pw_uid, "group": nobody.pw_gid, "extra_groups": []}, nobody


def wait_until(true, seconds=60):
    for _ in range(seconds * 20):
        if true():
            return True
        time.sleep(0.05)
    return False


def start(note):
    stop(note)
    initdb, postgres = program("initdb"), program("postgres")
    if not initdb or not postgres:
        note.write_text("none\nPostgreSQL is not installed; install postgresql-15\n")
        return 0
    folder = Path(tempfile.mkdtemp(prefix="retap-pg-"))
    as_user, nobody = user()
    if nobody:
        os.chown(folder, nobody.pw_uid, nobody.pw_gid)
    folder.chmod(0o711)  # the sockets are reached by whoever runs the tests
    data = folder / "data"
    made = subprocess.run([initdb, "-D", data, "-U", OWNER, "-A", "trust", "-E", "UTF8", "--locale=C", "--no-sync"],
                          stdout=subprocess.PIPE, stderr=subprocess.STDOUT, cwd=folder, **as_user)
    if made.returncode != 0:
        sys.stdout.buffer.write(made.stdout)
        shutil.rmtree(folder)
        return 1
    # These two need a password.
    rules = data / "pg_hba.conf"
    rules.write_text("local all locked,locked_too scram-sha-256\nlocal all all trust\n")
    return launch(note, folder)


def launch(note, folder):
    """On data that is there; also after a kill."""
    as_user, _ = user()
    data = folder / "data"
    with open(folder / "log", "ab") as log:
        server = subprocess.Popen(
            [program("postgres"), "-D", data, "-k", folder, "-c", "listen_addresses=", "-c", "fsync=off", "-c", "full_page_writes=off",
             "-c", "synchronous_commit=off", "-c", "shared_buffers=32MB", "-c", "max_connections=40", "-c", "autovacuum=off"],
            stdin=subprocess.DEVNULL, stdout=log, stderr=log, cwd=folder, start_new_session=True, **as_user)
    note.write_text(f"{folder}\n{server.pid}\n")
    ready = program("pg_isready")
    if not wait_until(lambda: server.poll() is not None or
                      subprocess.run([ready, "-q", "-h", folder, "-U", OWNER], check=False).returncode == 0) or server.poll() is not None:
        print((folder / "log").read_text())
        stop(note)
        return 1
    return 0


def kill_and_restart(note):
    """As when power fails, but that what was written reaches the disk. (The system's cache outlives a killed program.)"""
    folder, pid = Path(note.read_text().splitlines()[0]), int(note.read_text().splitlines()[1])
    os.kill(pid, signal.SIGKILL)
    wait_until(lambda: not is_server(pid, folder))
    for child in children_of(folder):  # they notice by themselves, but not at once
        try:
            os.kill(child, signal.SIGKILL)
        except ProcessLookupError:
            pass
    wait_until(lambda: not children_of(folder))
    (folder / "data" / "postmaster.pid").unlink(missing_ok=True)
    return launch(note, folder)


def children_of(folder):
    """Processes that work in the folder's data, whatever they call themselves."""
    found = []
    for process in Path("/proc").iterdir():
        try:
            if process.name.isdigit() and os.readlink(process / "cwd") == str(folder / "data"):
                found.append(int(process.name))
        except OSError:
            continue
    return found


def is_server(pid, folder):
    """That the number still belongs to the server that was started, and not to a later process."""
    try:
        return str(folder).encode() in Path(f"/proc/{pid}/cmdline").read_bytes()
    except OSError:
        return False


def stop(note):
    lines = note.read_text().splitlines() if note.exists() else []
    if len(lines) == 2 and lines[0] != "none":
        folder = Path(lines[0])
        # A test may have killed it and started it again.
        pids = {int(lines[1])}
        try:
            pids.add(int((folder / "data" / "postmaster.pid").read_text().splitlines()[0]))
        except (OSError, ValueError, IndexError):
            pass
        for pid in pids:
            if is_server(pid, folder):
                os.kill(pid, signal.SIGQUIT)  # at once, without writing anything back
                wait_until(lambda pid=pid: not is_server(pid, folder))
        shutil.rmtree(folder, ignore_errors=True)
    note.unlink(missing_ok=True)
    return 0


if __name__ == "__main__":
    if len(sys.argv) != 3 or sys.argv[1] not in ("start", "stop"):
        sys.exit(__doc__)
    sys.exit({"start": start, "stop": stop}[sys.argv[1]](Path(sys.argv[2])))
