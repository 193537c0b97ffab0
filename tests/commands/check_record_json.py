#!/usr/bin/env python3
"""Holds what `retap devices --json` and `retap record --json` print to their schemas.

Usage: virtual_audio.sh run check_record_json.py PROGRAM SOURCE_FOLDER
"""
import json
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from check_json import check_digits, run
from jsonschema import Draft202012Validator, RefResolver


def check_recovered(program, root, folder, check):
    """Two recordings that were killed come back in one document."""
    for name in ("one", "two"):
        with subprocess.Popen([program, "record", f"{folder}/{name}.wav", "--taps", "50"], stdin=subprocess.DEVNULL,
                              stdout=subprocess.PIPE, text=True) as recorder:
            assert any("Listening" in line for line in recorder.stdout)  # cautions come first
            subprocess.run([program, "play", root / "recordings/before.flac", "--device", "playmic48"], check=True)
            recorder.kill()
    recovered = run(program, "record", "--recover", "--json")
    check(recovered, "retap.recovered-1.schema.json")
    assert sorted(Path(one["file"]).name for one in recovered["recordings"]) == ["one.wav", "two.wav"]


def main():
    program, root = sys.argv[1], Path(sys.argv[2])
    schemas = {s["$id"]: s for s in (json.loads(f.read_text()) for f in sorted((root / "tests/schemas").glob("*.json")))}

    def check(document, name):
        Draft202012Validator.check_schema(schemas[name])
        validator = Draft202012Validator(schemas[name], resolver=RefResolver(base_uri="", referrer=schemas[name], store=schemas))
        errors = [f"{'/'.join(map(str, e.path))}: {e.message}" for e in validator.iter_errors(document)]
        assert not errors, "\n".join([name, *errors])
        check_digits(document)

    with tempfile.TemporaryDirectory() as folder:
        os.environ["XDG_STATE_HOME"] = os.environ["XDG_CONFIG_HOME"] = folder
        devices = run(program, "devices", "--json")
        check(devices, "retap.devices-1.schema.json")
        assert {"mic44", "mic48", "mic96"} <= {device["name"] for device in devices["devices"]}
        silence = run(program, "devices", "--json", "--level", "--device", "mic48", "--seconds", "0.5")
        check(silence, "retap.devices-1.schema.json")
        assert silence["level"]["peak_dbfs"] is None  # nothing is played
        with subprocess.Popen([program, "record", f"{folder}/take.wav", "--taps", "3", "--json"],
                              stdin=subprocess.DEVNULL, stdout=subprocess.PIPE) as recorder:
            while recorder.poll() is None and not list(Path(folder).glob("retap/unfinished/*.journal")):
                time.sleep(0.02)
            subprocess.run([program, "play", root / "recordings/before.flac", "--device", "playmic48"], check=True)
            recording = json.loads(recorder.stdout.read())
        assert recorder.returncode == 0
        check(recording, "retap.recording-1.schema.json")
        assert recording["ended_by"] == "enough taps", recording["ended_by"]
        assert len(recording["take"]["taps"]) >= 3
        assert run(program, "record", "--recover", "--json")["recordings"] == []
        check_recovered(program, root, Path(folder), check)


if __name__ == "__main__":
    main()
