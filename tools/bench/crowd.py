"""How the page fares beside a crowd: 500 connections that say nothing, 500 that say it slowly, and 500 that want the live
events, half of them with the cookie of a browser that was let in.

  crowd.py RETAP [OF_EACH] [REQUESTS]

Starts RETAP chairside with a store of its own and stops it again. Who is cut off comes back a second later. Meanwhile the
page and the list of visits are asked for in turns, twenty times a second, each on a connection of its own as a browser
does. Prints how long the answers took, how many of the crowd were connected, and the server's largest memory. The crowd
is a process on the same machine, so that its own work counts too.
"""
import datetime
import multiprocessing
import os
import resource
import select
import socket
import subprocess
import sys
import tempfile
import time
import urllib.parse

retap = sys.argv[1]
of_each = int(sys.argv[2]) if len(sys.argv) > 2 else 500
requests = int(sys.argv[3]) if len(sys.argv) > 3 else 200
resource.setrlimit(resource.RLIMIT_NOFILE, (min(20000, resource.getrlimit(resource.RLIMIT_NOFILE)[1]),) * 2)
browser = "User-Agent: crowd\r\n"
kinds = ("silent", "slow", "events", "events let in")


def crowd(port: int, cookie: str, counts: "multiprocessing.Array") -> None:
    """Never returns. counts: how many of each kind are connected, and how many connections were cut off so far."""
    events = f"GET /api/events HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\n{browser}"
    words = {"silent": "", "slow": "GET / HTTP/1.1\r\nX: ", "events": events + "\r\n", "events let in": events + cookie + "\r\n"}
    away = [(0.0, kind) for number in range(of_each) for kind in ("silent", "slow", kinds[2 + number % 2])]
    here: dict[int, tuple[socket.socket, str]] = {}
    poll = select.epoll()
    next_word = 0.0
    while True:
        now = time.monotonic()
        while away and away[0][0] <= now:
            kind = away.pop(0)[1]
            member = socket.create_connection(("127.0.0.1", port))
            member.setblocking(False)
            try:
                member.send(words[kind].encode())
            except OSError:
                pass  # cut off already, which the next look tells
            here[member.fileno()] = (member, kind)
            poll.register(member.fileno(), select.EPOLLIN | select.EPOLLRDHUP)
            counts[kinds.index(kind)] += 1
        for number, _ in poll.poll(0.02):
            member, kind = here[number]
            try:
                gone = not member.recv(65536)
            except BlockingIOError:
                continue
            except OSError:
                gone = True
            if gone:
                poll.unregister(number)
                member.close()
                del here[number]
                away.append((time.monotonic() + 1, kind))
                counts[kinds.index(kind)] -= 1
                counts[-1] += 1
        if now >= next_word:
            next_word = now + 1
            for member, kind in here.values():
                if kind == "slow":
                    try:
                        member.send(b"x")
                    except OSError:
                        pass


def ask(port: int, path: str, cookie: str) -> tuple[float, bytes]:
    """How many seconds the answer took, and the answer: nothing when it was cut off."""
    began = time.perf_counter()
    reply = b""
    with socket.create_connection(("127.0.0.1", port), timeout=30) as page:
        page.sendall(f"GET {path} HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\n{browser}{cookie}\r\n".encode())
        try:
            while piece := page.recv(1 << 20):
                reply += piece
        except ConnectionResetError:
            pass
    return time.perf_counter() - began, reply


def memory_mb(pid: int) -> float:
    with open(f"/proc/{pid}/status", encoding="ascii") as status:
        return next(int(line.split()[1]) / 1024 for line in status if line.startswith("VmHWM"))


def trial(name: str, port: int, cookie: str, pid: int) -> None:
    times = []
    refused = 0
    for number in range(requests):
        seconds, reply = ask(port, ("/", "/api/visits")[number % 2], cookie)
        times.append(1000 * seconds)
        refused += 0 if b" 200 " in reply.split(b"\r\n", 1)[0] else 1
        time.sleep(0.05)
    times.sort()
    print(f"{name}: {requests} requests, {refused} of them without an answer, median {times[len(times) // 2]:.1f} ms, nineteen in twenty within "
          f"{times[len(times) * 19 // 20]:.1f} ms, slowest {times[-1]:.1f} ms; {memory_mb(pid):.0f} MB", flush=True)


def measure(server: subprocess.Popen) -> None:
    address = next(line.strip() for line in iter(server.stdout.readline, "") if "http://" in line)
    port = urllib.parse.urlsplit(address).port
    opened = ask(port, address.split(f":{port}", 1)[1], "")[1].decode()
    cookie = "Cookie: " + opened.split("Set-Cookie: ", 1)[1].split(";", 1)[0] + "\r\n"
    trial("alone", port, cookie, server.pid)
    counts = multiprocessing.Array("i", len(kinds) + 1)
    process = multiprocessing.Process(target=crowd, args=(port, cookie, counts), daemon=True)
    process.start()
    try:
        time.sleep(5)
        before, began = counts[-1], time.monotonic()
        trial("in the crowd", port, cookie, server.pid)
        print("connected at the end: " + ", ".join(f"{counts[number]} {kind}" for number, kind in enumerate(kinds))
              + f"; {(counts[-1] - before) / (time.monotonic() - began):.0f} a second were cut off and came back")
    finally:
        process.terminate()


with tempfile.TemporaryDirectory() as folder:
    environment = {**os.environ, "HOME": folder, "XDG_RUNTIME_DIR": folder, "XDG_STATE_HOME": folder}
    print(f"{datetime.date.today()}, {os.cpu_count()} cores, load {os.getloadavg()[0]:.1f} before; {of_each} of each kind", flush=True)
    with subprocess.Popen([retap, "chairside", "--no-browser", "--store", folder + "/visits.db"], stdout=subprocess.PIPE,
                          env=environment, text=True) as running:
        try:
            measure(running)
        finally:
            running.terminate()
