#!/usr/bin/env python3
"""Seeds for the fuzz targets: small valid inputs of each kind, made by arithmetic.

  make_seeds.py FOLDER RECORDINGS
"""
import json
import math
import struct
import sys
import zlib
from pathlib import Path

folder = Path(sys.argv[1])


def put(target: str, name: str, content: bytes | str) -> None:
    place = folder / target
    place.mkdir(parents=True, exist_ok=True)
    (place / name).write_bytes(content.encode() if isinstance(content, str) else content)


def clicks(rate: int, channels: int, bits: int, frames: int) -> list[int]:
    """A click that rings, eight times a second, over a little noise; alike in all channels, which take turns."""
    values = []
    for frame in range(frames):
        at = frame % (rate // 8)
        value = math.exp(-at / (rate * 0.004)) * math.sin(at * 2 * math.pi * 1800 / rate) * 0.4 + ((frame * 7919) % 13 - 6) * 1e-5
        values += [int(value * (2 ** (bits - 1) - 1))] * channels
    return values


def wav(rate: int, channels: int, bits: int, frames: int, comment: bytes = b"") -> bytes:
    width = bits // 8
    data = b"".join(value.to_bytes(width, "little", signed=True) for value in clicks(rate, channels, bits, frames))
    head = struct.pack("<4sIHHIIHH", b"fmt ", 16, 1, channels, rate, rate * channels * width, channels * width, bits)
    info = b""
    if comment:
        comment += b"\0" * (len(comment) % 2)
        info = struct.pack("<4sI4s4sI", b"LIST", 12 + len(comment), b"INFO", b"ICMT", len(comment)) + comment
    body = b"WAVE" + head + info + struct.pack("<4sI", b"data", len(data)) + data
    return b"RIFF" + struct.pack("<I", len(body)) + body


def aiff(rate: int, frames: int) -> bytes:
    data = b"".join(value.to_bytes(2, "big", signed=True) for value in clicks(rate, 1, 16, frames))
    shift = 63 - (rate.bit_length() - 1)
    extended = struct.pack(">HQ", 16383 + 63 - shift, rate << shift)  # 80 bits, the highest of the fraction written out
    body = b"AIFFCOMM" + struct.pack(">IhIh", 18, 1, frames, 16) + extended + b"SSND" + struct.pack(">III", 8 + len(data), 0, 0) + data
    return b"FORM" + struct.pack(">I", len(body)) + body


def remainder(content: bytes, polynomial: int, bits: int) -> bytes:
    rest = 0
    for byte in content:
        rest ^= byte << (bits - 8)
        for _ in range(8):
            rest = (rest << 1) ^ (polynomial if rest >> (bits - 1) else 0)
            rest &= (1 << bits) - 1
    return rest.to_bytes(bits // 8, "big")


def flac(rate: int, frames: int) -> bytes:
    """One block of samples as they are, after RFC 9639 from memory; libsndfile reads it."""
    info = struct.pack(">HH", frames, frames) + bytes(6) + ((rate << 44) | (0 << 41) | (15 << 36) | frames).to_bytes(8, "big") + bytes(16)
    head = bytes([0xFF, 0xF8, 0x70, 0x08, 0x00]) + struct.pack(">H", frames - 1)  # rate of the stream, mono, 16 bit, block 0
    head += remainder(head, 0x07, 8)
    frame = head + b"\x02" + b"".join(value.to_bytes(2, "big", signed=True) for value in clicks(rate, 1, 16, frames))
    return b"fLaC\x80\0\0\x22" + info + frame + remainder(frame, 0x8005, 16)


note = "retap capture: 1\ntake: cafe\ndevice: Pick-up\nstarted: 2031-05-14 10:32:07\nended by: enough taps\nkept: around the taps\n" \
       "recovered: no\nlost frames: 12\ndevice overflows: 1\njoins: 4000 pause 9000; 8000 gap 12\njoins left out: 1\nwarning: loud\n"

for rate in (8000, 44100, 48000):
    for channels in (1, 2):
        put("sound", f"{rate}-{channels}.wav", wav(rate, channels, 16 if channels == 1 else 24, rate // 40))
put("sound", "taps.wav", wav(8000, 1, 16, 8000))
put("sound", "with-note.wav", wav(8000, 1, 16, 400, note.encode()))
put("sound", "mono.aiff", aiff(44100, 400))
put("sound", "mono.flac", flac(44100, 400))
put("sound", "no-sound.txt", "not a sound")
for recording in sorted(Path(sys.argv[2]).glob("*.flac"))[:1]:
    put("sound", recording.name, recording.read_bytes()[:4000])

put("capture_note", "usual", note)
put("capture_note", "escaped", note.replace("Pick-up", "two\\nlines \\\\ and more"))


def journal(records: list[tuple[int, int, int, bytes]], channels: int = 1) -> bytes:
    text = f"take: cafe\ndestination: /tmp/take.wav\nrate_hz: 8000\nchannels: {channels}\ndevice: Pick-up\nstarted: now\nkeep: taps\n".encode()
    out = b"RTPJRNL1" + struct.pack("<II", len(text), zlib.crc32(text)) + text
    for number, (kind, position, frames, payload) in enumerate(records):
        head = struct.pack("<IIQQQII", 0x4B4C4252, kind, number, position, frames, len(payload), 0)
        out += head[:-4] + struct.pack("<I", zlib.crc32(payload, zlib.crc32(head))) + payload
    return out


samples = struct.pack("<400f", *[math.exp(-i / 40) * math.sin(i) for i in range(400)])
usual = [(1, 1000, 400, samples), (3, 1000, 0, b""), (2, 1400, 7, b""), (1, 1400, 400, samples), (1, 9000, 400, samples)]
put("journal", "usual", journal(usual))
put("journal", "stereo", journal([(1, 0, 200, samples), (3, 5, 0, b"")], channels=2))
put("journal", "far", journal([(1, 2**63, 400, samples), (3, 2**64 - 1, 0, b""), (2, 0, 2**64 - 1, b"")]))
put("journal", "torn", journal(usual)[:-100])

for name, text in {
    "holds": "hold 16 15 26/36; open 17; uncertain 11",
    "holds-universal": "hold 3 4 14/19; open 2",
    "marks": "16 red MB heavy, blue D light; 26 red P",
    "teeth": "16 26 11-13",
    "prefixed": "iso: hold 16 26",
}.items():
    put("notation", name, text)

parcel = {
    "format": "retap.visit/1", "uid": "0123456789abcdef0123456789abcdef",
    "entries": [{"number": 1, "at": "2031-05-14T08:32:07Z", "by": "A. Student", "look": None, "kind": "opened", "corrects": None, "reason": None,
                 "body": {"label": "C-1", "procedure": "", "treated": "16", "numbering": "iso", "worker": "A. Student", "supervisor": ""}, "digest": "0" * 64},
                {"number": 2, "at": "2031-05-14T08:33:07Z", "by": "A. Student", "look": "before", "kind": "holds", "corrects": 1, "reason": "x",
                 "inherited": {"visit": "0123", "entry": 1, "at": "2031-05-14T08:32:07Z", "by": "B"}, "body": {"chart": "hold 16"}, "digest": "0" * 64}],
    "sounds": [{"entry": 2, "flac_base64": "ZkxhQw==", "analysis": "{}", "settings": "{}"}],
}
put("parcel", "two-entries", json.dumps(parcel))
put("parcel", "empty", "{}")

requests = {
    "list": ("GET /api/visits?label=C%201", ""),
    "new": ("POST /api/visits", '{"teeth":[16,26],"numbering":"iso"}'),
    "follow": ("POST /api/visits", '{"follows":"1"}'),
    "look": ("POST /api/visits/1/looks", '{"kind":"after"}'),
    "holds": ("PUT /api/visits/1/looks/before/holds", '{"chart":"hold 16 26"}'),
    "marks": ("PUT /api/visits/1/looks/before/marks", '{"chart":"16 red MB"}'),
    "details": ("POST /api/visits/1/details", '{"label":"C-2","clinician":"A","procedure":"x","supervisor":null,"numbering":"universal","teeth":[11]}'),
    "patient": ("POST /api/visits/1/patient", '{"numb":true,"feel":"high"}'),
    "crossbite": ("POST /api/visits/1/crossbite", '{"teeth":"right"}'),
    "warning": ("POST /api/visits/1/warning", '{"about":"pain","raisedWith":"B","decided":"wait"}'),
    "decide": ("POST /api/visits/1/decision", '{"action":"wait","words":"later"}'),
    "undo": ("POST /api/visits/1/undo", "{}"),
    "sign": ("POST /api/visits/1/sign", '{"name":"B","role":"supervisor","comment":""}'),
    "get": ("GET /api/visits/1", ""),
    "work": ("GET /api/worklist", ""),
    "discard": ("POST /api/visits/2/discard", "{}"),
}
for name, (line, body) in requests.items():
    put("routes", name, line + "\n" + body)
put("routes", "a-day", "\n--\n".join(line + "\n" + body for line, body in requests.values()))

cookie = "host: 127.0.0.1:4711\ncookie: retap-4711=00112233445566778899aabbccddeeff\nuser-agent: x\n"
for name, line, headers, body in [
    ("open", "GET /open?token=open-sesame", "", ""),
    ("range", "GET /api/visits/1", "range: bytes=4-8\n", ""),
    ("suffix", "GET /api/visits/1", "range: bytes=-8\n", ""),
    ("change", "POST /api/visits/1/undo", "origin: http://127.0.0.1:4711\ncontent-length: 2\nsec-fetch-site: same-origin\n", "{}"),
    ("form", "POST /open", "origin: http://127.0.0.1:4711\ncontent-length: 17\n", "token=open%2Dsesame&x"),
    ("bench", "GET /api/bench/sound?tooth=16&height=100&slide=20&side=left&side_height=-30&speed=40&pickup=forehead&room=quiet&take=2&slow=4&keep_pitch=1", "", ""),
]:
    put("http", name, line + "\n" + cookie + headers + "\n" + body)
