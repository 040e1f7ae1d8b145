# tests/scripts/no-plan.py PROGRAM SHOW - spoil a show in one way at a time, see that it is refused in
# its own words with a late plan that is not absurd, then do what the answer says and plan again.
import json
import os
import re
import subprocess
import sys
import tempfile

import tally
from tally import check

program, show = sys.argv[1:]


def cook(i, member, value):
    def change(s):
        s["kitchen"]["cooks"][i][member] = value
    return change


def segment(member, value):
    def change(s):
        s["segments"][0][member] = value
    return change


def call_late(s):
    for c in s["kitchen"]["cooks"]:
        c["call"] = "08:00"
        c.pop("breaks", None)


def wrap_early(s):
    for c in s["kitchen"]["cooks"]:
        c["wrap"] = "08:10"


def nowhere_hot(s):
    k = s["kitchen"]
    k["places"] = [p for p in k["places"] if p["keeps"] != "hot"]
    s["recipes"][0]["steps"][3]["hold"] = {"hot": "40 min", "set": "11 min"}


def warmer(s):
    s["kitchen"]["places"].append({"id": "w", "keeps": "hot", "count": 1})


def keep(least):
    def change(s):
        s["recipes"][0]["steps"][3]["hold"] = {"hot": "1 min", "set": least}
    return change


def short_on_set(s):
    s["recipes"][0]["steps"][2]["hold"] = {"hot": "40 min", "set": "3 min"}
    s["segments"][0]["beats"][6]["time"] = "25-120 s"  # so that what is left still fills the slot
    s["segments"][0]["beats"][4]["needs"] = ["blend"]


def without(*ids):
    def change(s):
        beats = s["segments"][0]["beats"]
        beats[:] = [b for b in beats if b["id"] not in ids]
    return change


def longer(i, time):
    def change(s):
        s["segments"][0]["beats"][i]["time"] = time
    return change


# name, what spoils it, facts that must be named, most minutes that a swap-out may be late (None: no
# late plan is possible), then what the program says would help and the change that this is.
# The bounds are reasoned by hand, with room: a call an hour too late makes nothing two hours late.
cases = [
    ("a late call", call_late, ["Ines can be called from 08:00", "Rui can be called from 08:00"],
     120, [(r"call Ines at (0[67]:\d\d) ", lambda m: cook(0, "call", m[1])),
           (r"call Rui at (0[67]:\d\d) ", lambda m: cook(1, "call", m[1]))]),
    ("an early wrap", wrap_early, ["Ines must be free at 08:10", "Rui must be free at 08:10"],
     20, [("keep Ines until 08:30 ", cook(0, "wrap", "08:30")),
          ("keep Rui until 08:30 ", cook(1, "wrap", "08:30"))]),
    ("a short hold", keep("2 min"), ["keeps 2 min on the set", "must stand on the set by 08:19"],
     60, [("would have to keep 12 min on the set ", keep("12 min"))]),
    ("nowhere to keep hot", nowhere_hot, ["there is no place to keep anything hot"],
     60, [("have room for 1 container hot (/kitchen/places)", warmer)]),
    ("a long dressing lead", segment("lead", "1 h"), ["lead 1 h"],
     90, [("in 8 min ", segment("lead", "8 min"))]),
    ("a short slot", segment("slot", "0:40"), ["the slot of main is 0:40", "beat hello takes at least"],
     None, [("make the slot of main 0:55", segment("slot", "0:55"))]),
    ("a long slot", segment("slot", "9:00"), ["the slot of main is 9:00", "beat hello lasts at most"],
     None, [("make the slot of main 5:10 (/segments/0/slot)", segment("slot", "5:10")),
            ("let beat blend last up to 4 min 30 s (/segments/0/beats/3)",
             longer(3, "25-270 s"))]),
    ("a pot that does not keep on the set", short_on_set, ["keeps 3 min on the set"],
     60, [('leave out the beats "Blend the cooked pot" and "Toss the squash with oil and paprika" ',
           without("blend", "toss"))]),
]


def plan(s, *more):
    with open("show.json", "w", encoding="utf-8") as f:
        json.dump(s, f, indent=1)
    r = subprocess.run([program, "plan", "show.json", *more], capture_output=True, text=True)
    return r.returncode, r.stdout, r.stderr


with open(show, encoding="utf-8") as f:
    text = f.read()
with tempfile.TemporaryDirectory() as folder:
    os.chdir(folder)
    for name, spoil, facts, most, fixes in cases:
        spoilt = json.loads(text)
        spoil(spoilt)
        status, out, err = plan(spoilt, "-o", name, "--only", "json")
        check(name, status == 3, f"exit status {status}, not 3\n{err}")
        lines = open("show.json", encoding="utf-8").read().split("\n")
        check(name, not re.search(r"^  :", out, re.M), f"a fact without a place in\n{out}")
        for fact in facts:
            said = re.search(r"^  show\.json:(\d+):(\d+): .*" + re.escape(fact), out, re.M)
            check(name, said, f"no fact {fact!r} with a position in\n{out}")
            if said:
                line, column = int(said[1]), int(said[2])
                check(name, line <= len(lines) and column <= len(lines[line - 1]),
                      f"{line}:{column} is not in the file")
        if most is None:
            check(name, not os.path.exists(name), "a plan was written")
        else:
            with open(f"{name}/plan.json", encoding="utf-8") as f:
                written = json.load(f)
            late = max(c["late"] for c in written["container"])
            check(name, written["verdict"] == "late", "the plan is not marked as late")
            check(name, late <= most * 60, f"a swap-out is {late} s late, more than {most} min")
            crew = [g["value"] for g in written["goal"]][1]
            check(name, crew >= 0, f"crew time of {crew} min")
        for said, change in fixes:
            if name == "a late call":  # how early it is depends on how far the search went
                found = re.search(said, out)
                check(name, found, f"no {said!r} in\n{out}")
                if not found:
                    continue
                change = change(found)
            else:
                check(name, said in out, f"no {said!r} in\n{out}")
            mended = json.loads(json.dumps(spoilt))
            change(mended)
            status, _, err = plan(mended, "-q")
            check(name, status == 0, f"{said!r} does not help\n{err}")

tally.end()
