# tests/scripts/lengths.py PROGRAM SHOW - hold the lengths told to shows written at those lengths.
import json
import os
import re
import subprocess
import sys
import tempfile

import tally
from tally import check

program, show = sys.argv[1:]


def run(*words):
    r = subprocess.run([program, *words], capture_output=True, text=True)
    return r.returncode, r.stdout, r.stderr


def seconds(text):
    minutes, rest = text.split(":")
    return 60 * int(minutes) + int(rest)


def minutes(s):
    return f"{s // 60}:{s % 60:02}"


with open(show, encoding="utf-8") as f:
    text = f.read()
ids = [b["id"] for b in json.loads(text)["segments"][0]["beats"]]
with tempfile.TemporaryDirectory() as folder:
    os.chdir(folder)

    def written(slot):
        """Length of each beat, 0 where it is left out, of the show with this slot; None: no plan."""
        changed = json.loads(text)
        changed["segments"][0]["slot"] = minutes(slot)
        with open("show.json", "w", encoding="utf-8") as f:
            json.dump(changed, f)
        status, _, err = run("plan", "show.json", "-q", "-o", "out", "--only", "json")
        if status != 0:
            return None
        with open("out/plan.json", encoding="utf-8") as f:
            return [b["length"] for b in json.load(f)["beat"]]

    status, out, err = run("lengths", show)
    check("status", status == 0, err)
    stretches = re.findall(r"^ +(\d+:\d\d) to +(\d+:\d\d)  (.*)$", out, re.M)
    check("stretches", len(stretches) >= 4, out)
    for most, least, what in stretches[::int(os.environ.get("SHARE") or 1)]:
        gone = set(re.findall(r"\d+ ([a-z-]+)", what.split(";")[0].split("  (")[0]))
        for end in {most, least}:
            lengths = written(seconds(end))
            check(end, lengths is not None, "no plan")
            check(end, {i for i, n in zip(ids, lengths or []) if n == 0} == gone, what)
            status, one, err = run("lengths", show, "--slot", end)
            told = re.findall(r"^ +\d+  \d\d:\d\d:\d\d +\d+:\d\d +(\d+:\d\d)  ", one, re.M)
            check(end, [seconds(n) for n in told] == [n for n in lengths or [] if n], one)
    shortest = seconds(stretches[-1][1])
    check("shorter", written(shortest - 1) is None, "a slot below the shortest was planned")

    before = out[out.index("lost before"):out.index("lost when")]
    rows = re.findall(r"^ +\d+  (\S+) +(\S+) +(\S+) +(\S+) +(\S+)$", before, re.M)
    check("rows", [r[0] for r in rows] == ids, before)
    for k, slot in list(enumerate((265, 235, 205, 175)))[::int(os.environ.get("SHARE") or 1)]:
        column = [0 if r[k + 1] == "out" else seconds(r[k + 1]) for r in rows]
        check(minutes(slot), column == written(slot), f"{column}")

    status, out, err = run("lengths", show, "--lose", "9:00")
    check("too much", status == 4 and "nothing of the slot" in err and out == "", err)
    status, out, err = run("lengths", show, "--slot", "long")
    check("no length", status == 4 and "no length of a slot" in err and out == "", err)
    status, out, err = run("lengths", "nothing.json")
    check("no show", status == 1 and out == "", err)

tally.end()
