#!/usr/bin/env python3
"""Holds `wetside check` beside the usual way to check files of this kind: YAML and a JSON Schema.

The same 1,000 recipes are written twice, as .wet files and as YAML that says the same, with a schema
that asks for the same fields, units and ranges. Both are checked, in turns, and the ratio of the times
is printed; at least 40 is wanted. A schema knows of no names, doses or orders, so it is asked for less.

    pip install check-jsonschema
    cargo build --release
    python3 tests/speed/against_yaml.py target/release/wetside
"""

import json
import pathlib
import shutil
import statistics
import subprocess
import sys
import tempfile
import time

COUNT = 1_000
RUNS = 3
WANTED = 40
HERE = pathlib.Path(__file__).parent
NAME = {"type": "string", "pattern": "^[a-z0-9][a-z0-9-]*$"}
TEXT = {"type": "string", "minLength": 1, "maxLength": 2000}
CLOCK = r"([0-9]+:[0-5][0-9]|[0-9]+ (s|min|h))"


def measured(units):
    return {"type": "string", "pattern": rf"^[0-9]+(\.[0-9]+)? ({units})$"}


def closed(needed, **properties):
    return {"type": "object", "additionalProperties": False, "properties": properties, "required": needed}


def listed(items):
    return {"type": "array", "items": items}


def schema():
    celsius, clock = measured("C|F"), {"type": "string", "pattern": f"^{CLOCK}$"}
    dilution = {"type": "string", "pattern": r"^(stock|[0-9]+(\+[0-9]+)+)$"}
    bath = closed(["solution", "dilution"], solution=NAME, dilution=dilution,
                  use={"enum": ["one-shot", "reused", "replenished"]})
    ingredient = closed(["name", "amount"], name=NAME, amount=measured("g|ml|l"),
                        form={"enum": ["anhydrous", "decahydrate"]}, at=celsius, to={"type": "boolean"})
    formula = closed(["makes", "ingredients"], makes=measured("ml|l"), ingredients=listed(ingredient))
    solution = closed(["name", "role"], name=NAME, title=TEXT, formula=formula, contains=listed(NAME),
                      role={"enum": ["developer", "stop", "fixer", "bleach", "wash-aid", "wetting"]},
                      needs=measured("ml per roll"), keeps=measured("days|months|years"),
                      treats={"type": "string", "pattern": "^[0-9]+ rolls per [0-9]+ l$"},
                      source=TEXT, caution=TEXT)
    film = closed(["name", "speed"], name=NAME, title=TEXT,
                  speed={"type": "integer", "minimum": 1, "maximum": 100_000},
                  clears=closed(["time", "in", "at"], time=clock, **{"in": bath, "at": celsius}))
    chart = {"type": "object", "minProperties": 1, "additionalProperties": False,
             "patternProperties": {"^[0-9]+ [CF]$": clock}}
    step = closed(["kind"], kind={"enum": ["develop", "stop", "fix", "wash", "rinse", "dry"]}, chart=chart,
                  bath=bath, time={"type": "string", "pattern": f"^({CLOCK}|[0-9]+ x clearing, at least {CLOCK})$"},
                  agitate=closed(["for", "every"], **{"for": clock, "every": clock}),
                  inversions=listed({"type": "integer", "minimum": 1}), light={"enum": ["safe", "dark"]})
    recipe = closed(["name", "film", "steps"], name=NAME, title=TEXT, film=NAME, source=TEXT,
                    index={"type": "integer", "minimum": 1, "maximum": 100_000},
                    between={"type": "array", "items": celsius, "minItems": 2, "maxItems": 2},
                    steps=listed(step))
    whole = closed(["wetside"], wetside={"const": 1}, films=listed(film), solutions=listed(solution),
                   recipes=listed(recipe))
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **whole}


def write(folder):
    wet, yaml = (HERE / "made.txt").read_text(), (HERE / "made.yaml").read_text()
    for kind in ("wet", "yaml"):
        (folder / kind).mkdir()
    for number in range(COUNT):
        minutes, seconds = 8 + number % 7, number % 60
        words = {"NUMBER": str(number), "LONG": f"{minutes + 3}:{seconds:02}", "SHORT": f"{minutes}:{seconds:02}"}
        for kind, text in (("wet", f"wetside 1\n\n{wet}"), ("yaml", yaml)):
            for word, value in words.items():
                text = text.replace(word, value)
            (folder / kind / f"film-{number:04}.{kind}").write_text(text)
    (folder / "schema.json").write_text(json.dumps(schema()))


def seconds(call):
    start = time.perf_counter()
    done = subprocess.run(call, capture_output=True, text=True)
    took = time.perf_counter() - start
    if done.returncode != 0:
        sys.exit(f"{call[0]} found fault with a file:\n{done.stdout[:2000]}{done.stderr[:2000]}")
    return took


def main():
    if len(sys.argv) != 2 or shutil.which("check-jsonschema") is None:
        sys.exit(__doc__)
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        write(folder)
        files = sorted(str(path) for path in (folder / "yaml").iterdir())
        against = ["check-jsonschema", "--schemafile", str(folder / "schema.json"), *files]
        own = [sys.argv[1], "check", str(folder / "wet")]
        theirs, ours = zip(*[(seconds(against), seconds(own)) for _ in range(RUNS)])
    theirs, ours = statistics.median(theirs), statistics.median(ours)
    ratio = theirs / ours
    verdict = "held" if ratio >= WANTED else "MISSED"
    print(f"check-jsonschema {theirs:.3f} s, wetside check {ours:.4f} s, for {COUNT} recipes each")
    print(f"{ratio:.0f} times as fast, at least {WANTED} wanted: {verdict}")


if __name__ == "__main__":
    main()
