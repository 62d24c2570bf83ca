"""Changes the program in one place at a time, and runs the quick tests on each change.

    python3 tests/mutants/run.py [NUMBER...]

`list.txt` has the changes: a heading `== FILE`, then pairs of a line `-old` and a line `+new`. The old text must be in
its file exactly once. The script works in a copy of the files that git knows, in the folder that MUTANTS names or in a
temporary one, and prints `killed` or `SURVIVED` for each change, and their numbers at the end.
"""
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile

HERE = pathlib.Path(__file__).resolve().parent
# The quick tests in groups, the fastest first; a change that one group finds needs no other.
GROUPS = ["published chemistry kitchen".split(), "cards lint measure plan schedule tanks".split(),
          "baths record properties work faults".split(), []]


def mutants():
    found, path, old = [], None, None
    for line in (HERE / "list.txt").read_text().splitlines():
        if line.startswith("== "):
            path = line[3:]
        elif line.startswith("-"):
            old = line[1:]
        elif line.startswith("+"):
            found.append((path, old, line[1:]))
    return found


def passes(copy, filters):
    command = ["cargo", "test", "-q", "--test", "tests", "--", *filters]
    environment = {**os.environ, "INSTA_UPDATE": "no"}
    try:
        return subprocess.run(command, cwd=copy, env=environment, capture_output=True, timeout=900).returncode == 0
    except subprocess.TimeoutExpired:
        return False


def main():
    chosen = [int(number) for number in sys.argv[1:]]
    copy = pathlib.Path(os.environ.get("MUTANTS") or tempfile.mkdtemp())
    top = subprocess.run(["git", "rev-parse", "--show-toplevel"], cwd=HERE, capture_output=True, text=True, check=True)
    top = pathlib.Path(top.stdout.strip())
    files = subprocess.run(["git", "ls-files", "-z"], cwd=top, capture_output=True, text=True, check=True)
    for name in filter(None, files.stdout.split("\0")):
        (copy / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(top / name, copy / name)
    if not chosen and not passes(copy, []):
        sys.exit("the tests fail without a change")
    survived = []
    for number, (path, old, new) in enumerate(mutants(), 1):
        if chosen and number not in chosen:
            continue
        text = (copy / path).read_text()
        if text.count(old) != 1:
            sys.exit(f"{number}: {path} has {text.count(old)} times: {old}")
        (copy / path).write_text(text.replace(old, new))
        survives = all(passes(copy, filters) for filters in GROUPS)
        (copy / path).write_text(text)
        print(f"{number:3} {'SURVIVED' if survives else 'killed  '} {path}: {new.strip()}", flush=True)
        survived += [number] if survives else []
    print(f"survived: {survived}")


if __name__ == "__main__":
    main()
