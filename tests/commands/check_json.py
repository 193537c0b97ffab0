#!/usr/bin/env python3
"""Runs the built program on the demo takes and holds what it prints to the schemas, and the order of members and the
number of digits to what FORMATS.md promises.

Usage: check_json.py PROGRAM SOURCE_FOLDER

The schemas are JSON Schema draft 2020-12 and are checked against its own meta-schema by python3-jsonschema first.
"""
import json
import subprocess
import sys
import tempfile
from pathlib import Path

from jsonschema import Draft202012Validator, RefResolver

TAKE_ORDER = ["format", "file", "sample_rate_hz", "channels", "duration_s", "fitness", "taps", "turned_down", "signature",
              "band_centres_hz", "settings"]
COMPARISON_ORDER = ["format", "likeness", "verdict", "sentence", "reasons", "evidence", "measures", "before", "after", "settings"]


def run(program, *arguments):
    done = subprocess.run([program, *map(str, arguments)], stdin=subprocess.DEVNULL, capture_output=True, check=False)
    assert done.returncode == 0, f"{arguments}: status {done.returncode}, {done.stderr.decode()}"
    return json.loads(done.stdout.decode("utf-8"))


def check_digits(value, path=""):
    """Seconds to a microsecond and milliseconds to a tenth of one, and no false precision beyond."""
    limits = {"_s": 6, "_ms": 4, "_db": 2, "_dbfs": 2, "_hz": 1, "score": 2}
    if isinstance(value, dict):
        for key, member in value.items():
            if key != "settings":
                check_digits(member, f"{path}/{key}")
    elif isinstance(value, list):
        for member in value:
            check_digits(member, path)
    elif isinstance(value, float):
        limit = next((digits for ending, digits in limits.items() if path.endswith(ending)), None)
        if limit is not None and not "/signature/" in path:
            assert round(value, limit) == value, f"{path}: {value!r} has more than {limit} decimals"


def check_visits(program, root, check):
    """The demo visit as it lies there, as it is shown and exported again; and one with next to nothing in it."""
    demo = json.loads((root / "recordings/demo-visit.json").read_text(encoding="utf-8"))
    check(demo, "retap.visit-1.schema.json")
    with tempfile.TemporaryDirectory() as folder:
        def visit(*arguments):
            return subprocess.run([program, "visit", *map(str, arguments), "--store", f"{folder}/visits.db"], check=True,
                                  stdin=subprocess.DEVNULL, capture_output=True).stdout
        visit("import", root / "recordings/demo-visit.json")
        visit("export", 1, f"{folder}/again.json")
        again = json.loads(Path(folder, "again.json").read_text(encoding="utf-8"))
        check(again, "retap.visit-1.schema.json")
        assert again["entries"] == demo["entries"] and again["sounds"] == demo["sounds"], "a visit changed on its way"
        visit("new", "C-1", "--teeth", "3", "--numbering", "universal", "--worker", "A. Student", "--follows", "1")
        bare = json.loads(visit("show", 2, "--json"))
        check(bare, "retap.visit-1.schema.json")
        assert bare["follows"] == demo["uid"] and bare["treated"] == ["16"]
        assert bare["looks"] == [], "other teeth took something over"
        visit("new", "--follows", "1")
        visit("decide", 3, "wait")
        next_day = json.loads(visit("show", 3, "--json"))
        check(next_day, "retap.visit-1.schema.json")
        assert next_day["looks"][0]["takes"][0]["inherited"]["visit"] == demo["uid"]
        assert next_day["still_open"]["action"] == "wait" and next_day["chain"]["earlier"][0]["visit"] == 1
    return 4


def check_lessons(program, root, check):
    """Each document of the lessons."""
    def lesson(schema, *arguments):
        check(run(program, "lesson", *arguments, "--json"), f"retap.{schema}-1.schema.json")
    lesson("lesson-bench", "bench", "--high", "16=50", "--low", "24", "--slide", "36=300", "--pickup", "both", "--taps", "4")
    lesson("lesson-bench", "bench", "--side", "left=80", "--taps", "4")
    lesson("lesson", "run", "3", "--seed", "2", "--answer", "a")
    lesson("lesson", "run", "1", "--seed", "2")
    with tempfile.TemporaryDirectory() as folder:
        kept = ["--results", f"{folder}/kept.csv"]
        made = ["--listener", "60", "--seed", "1", "--taps", "3", "--learner", "seat-1", *kept]
        lesson("lesson-odd", "test", *made)
        lesson("lesson-same", "test", "--way", "same", "--pairs", "4", *made)
        lesson("lesson-results", "results", *kept)
    lesson("lesson-own", "own", root / "recordings/before.flac", root / "recordings/before.flac")
    return 8 + check_chart_lessons(program, lesson)


def check_chart_lessons(program, lesson):
    """Each patient as it is asked; one answered wholly wrong, beside somebody who did the same."""
    for number in range(1, 9):
        lesson("lesson-chart", "chart", number, "--seed", "3")
    asked = run(program, "lesson", "chart", 1, "--seed", "3", "--json")
    with tempfile.TemporaryDirectory() as folder:
        answers = Path(folder, "answers.txt")
        answers.write_text("\n".join(["# nothing seen", "open 17..27", *["none" for _ in asked["pictures"]],
                                      *["a" for _ in asked["questions"]]]) + "\n")
        lesson("lesson-chart", "chart", 1, "--seed", "3", "--answers", answers, "--beside", answers)
        checked = run(program, "lesson", "chart", 1, "--seed", "3", "--answers", answers, "--json")
        assert checked["result"]["passed"] is False and checked["result"]["agreement_with_second"] is None
    return 10


def main():
    program, root = sys.argv[1], Path(sys.argv[2])
    schemas = {s["$id"]: s for s in (json.loads(f.read_text()) for f in sorted((root / "tests/schemas").glob("*.json")))}
    validators = {}
    for name, schema in schemas.items():
        Draft202012Validator.check_schema(schema)
        validators[name] = Draft202012Validator(schema, resolver=RefResolver(base_uri="", referrer=schema, store=schemas))

    def check(document, name):
        errors = [f"{'/'.join(map(str, e.path))}: {e.message}" for e in validators[name].iter_errors(document)]
        assert not errors, "\n".join([name, *errors])
        check_digits(document)

    takes = sorted((root / "recordings").glob("*.flac"))
    assert takes, "there are no demo takes"
    for take in takes:
        document = run(program, "inspect", take, "--json")
        check(document, "retap.take-1.schema.json")
        assert list(document) == TAKE_ORDER, list(document)
        assert "compare" not in document["settings"], "nothing was compared"
        assert document["taps"] == sorted(document["taps"], key=lambda tap: tap["onset_s"])
    before = root / "recordings/before.flac"
    for take in takes:
        if take == before:
            continue  # one recording on both sides is refused
        document = run(program, "compare", before, take, "--json")
        check(document, "retap.comparison-1.schema.json")
        assert list(document) == COMPARISON_ORDER, list(document)
        assert {"find", "stacked_onsets", "compare"} <= document["settings"].keys()
        assert "settings" not in document["before"] and "settings" not in document["after"], "settings said twice"
        assert document["likeness"]["low"] <= document["likeness"]["score"] <= document["likeness"]["high"]
    many = run(program, "batch", root / "recordings", "--json")
    check(many, "retap.batch-1.schema.json")
    assert "find" in many["settings"] and all("settings" not in take for take in many["takes"])

    visit_documents = check_visits(program, root, check)
    lesson_documents = check_lessons(program, root, check)

    # A validator that lets everything pass would prove nothing.
    broken = run(program, "inspect", before, "--json")
    broken["channels"] = 3
    assert not validators["retap.take-1.schema.json"].is_valid(broken)
    print(f"{2 * len(takes) + visit_documents + lesson_documents} documents keep to {len(schemas)} schemas")


if __name__ == "__main__":
    main()
