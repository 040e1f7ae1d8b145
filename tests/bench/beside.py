#!/usr/bin/python3
"""tests/bench/beside.py - the engine beside general-purpose constraint solvers.

    beside.py PROGRAM MODEL OUT SECONDS PACKAGE ITEM...

PROGRAM (build/engine-beside) solves each item and writes it as data for MODEL; then `minizinc`
translates it and Gecode gets the same question. Each has SECONDS of the processor; what the translation
takes is not counted, what it settles already is. PACKAGE is the folder dist/ of the npm package
"minizinc", whose Chuffed, a solver that learns, is asked next; empty: none. What it takes for a model
of one variable in the same run is its start, and is subtracted. A CSV row each, then sums. Exit status
1 where two contradict each other: two proved values that differ, or a value better than one proved best.
"""
import csv
import json
import math
import os
import re
import resource
import subprocess
import sys


def limited(seconds):
    def begin():
        resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds + 1))
    return begin


def run(command, seconds=None):
    """What it said, and the seconds of the processor it took."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    done = subprocess.run(command, capture_output=True, text=True,
                          preexec_fn=limited(seconds) if seconds else None)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return done, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def gecode(model, data, seconds):
    """Status, value and seconds of the processor that Gecode took."""
    flat = data[:-len("dzn")] + "fzn"
    done, _ = run(["minizinc", "-c", "--no-output-ozn", "--solver", "gecode", "--fzn", flat, model, data])
    if "=====UNSATISFIABLE=====" in done.stdout + done.stderr:
        return "infeasible", None, 0.0
    if done.returncode:
        sys.exit("%s: %s" % (data, done.stderr.strip() or "the model was not translated"))
    done, took = run(["fzn-gecode", "-a", flat], seconds)
    values = re.findall(r"^value\s*=\s*(-?\d+);$", done.stdout, re.M)
    if "=====UNSATISFIABLE=====" in done.stdout:
        status = "infeasible"
    elif "==========" in done.stdout:
        status = "optimal"
    else:
        status = "feasible" if values else "unknown"
    return status, int(values[-1]) if values else None, took


class Chuffed:
    """The one in the npm package, in node: a translation, then a run of what was translated."""

    def __init__(self, package, out):
        self.base = ["node", os.path.join(os.path.dirname(os.path.abspath(__file__)), "learning.cjs"), package]
        self.start = 0.0
        trivial = os.path.join(out, "trivial.mzn")
        with open(trivial, "w", encoding="utf-8") as f:
            f.write("var 1..3: value; solve minimize value;\n")
        runs = [self.ask(trivial, None, 10) for _ in range(3)]
        if any(r[:2] != ("optimal", 1) for r in runs):
            sys.exit("the npm package does not find the least of three numbers: %r" % (runs,))
        self.start = sorted(r[2] for r in runs)[1]

    def __call__(self, model, data, seconds):
        status, value, took = self.ask(model, data, seconds)
        return status, value, max(0.0, took)

    def ask(self, model, data, seconds):
        flat = os.path.splitext(data or model)[0] + ".learning.fzn"
        files = [model] + ([data] if data else [])
        names = [os.path.basename(f) for f in files]
        done, _ = run(self.base + [flat] + files + ["--", "--solver", "chuffed", "-c", "--no-output-ozn",
                                                     "--fzn", os.path.basename(flat)] + names)
        if "UNSATISFIABLE" in done.stdout:
            return "infeasible", None, 0.0
        if done.returncode:
            sys.exit("%s: %s" % (data, done.stdout.strip() or done.stderr.strip()))
        # It stops with an "unknown exception" at the model's order of search, and has one of its own.
        with open(flat, encoding="utf-8") as f:
            text = re.sub(r"^solve ::.* minimize", "solve minimize", f.read(), flags=re.M)
        with open(flat, "w", encoding="utf-8") as f:
            f.write(text)
        done, took = run(self.base + [flat + ".none", flat, "--", "--solver", "chuffed", "-f", "-a",
                                      os.path.basename(flat)], math.ceil(seconds + self.start))
        values, status = [], None
        for line in done.stdout.splitlines():
            said = json.loads(line)
            if said["type"] == "solution":
                values.append(int(re.search(r"^value = (-?\d+);$", said["output"]["dzn"], re.M).group(1)))
            elif said["type"] == "status":
                status = {"OPTIMAL_SOLUTION": "optimal", "UNSATISFIABLE": "infeasible"}.get(said["status"])
            elif said["type"] in ("error", "stderr"):
                sys.exit("%s: %s" % (flat, line))
        status = status or ("feasible" if values else "unknown")
        return status, values[-1] if values else None, took - self.start


def contradiction(a, b):
    (one, x), (two, y) = a, b
    settled = ("optimal", "infeasible")
    if one in settled and two in settled:
        return one != two or (one == "optimal" and x != y)
    if "infeasible" in (one, two):
        return x is not None and y is not None
    return (one == "optimal" and y is not None and y < x) or \
           (two == "optimal" and x is not None and x < y)


SETTLED = ("optimal", "infeasible")


def main():
    if len(sys.argv) < 7:
        sys.exit("usage: beside.py PROGRAM MODEL OUT SECONDS PACKAGE ITEM...")
    program, model, out, seconds, package = *sys.argv[1:4], int(sys.argv[4]), sys.argv[5]
    os.makedirs(out, exist_ok=True)
    others = {"gecode": gecode}
    if package:
        others["chuffed"] = Chuffed(package, out)
        print("# chuffed: %.2f s of start subtracted from each" % others["chuffed"].start)
    ours = subprocess.run([program, out, str(seconds)] + sys.argv[6:], stdout=subprocess.PIPE, text=True)
    print(",".join(["item,activities,level,status,value,seconds"] +
                   ["%s_status,%s_value,%s_seconds,%s_ratio,%s_same" % ((name,) * 5) for name in others]),
          flush=True)
    rows, wrong, proved = 0, 0, 0
    settled = {name: 0 for name in others}
    both = {name: [] for name in others}
    for row in csv.DictReader(ours.stdout.splitlines()):
        mine = row["status"], int(row["value"]) if row["status"] in ("optimal", "feasible") else None
        data = os.path.join(out, "%s.%s.dzn" % (row["item"], row["level"]))
        own = float(row["seconds"])
        rows += 1
        proved += mine[0] in SETTLED
        cells = [row["item"], row["activities"], row["level"], mine[0],
                 "" if mine[1] is None else str(mine[1]), "%.4f" % own]
        for name, ask in others.items():
            status, value, took = ask(model, data, seconds)
            bad = contradiction(mine, (status, value))
            wrong += bad
            settled[name] += status in SETTLED
            alike = mine[0] in SETTLED and status in SETTLED
            if alike:
                both[name].append((own, took))
            cells += [status, "" if value is None else str(value), "%.4f" % took,
                      "%.2f" % (took / max(own, 1e-4)), "NO" if bad else "yes" if alike else "not contradicted"]
        print(",".join(cells), flush=True)
    print("# %d questions: settled %d by the engine; %d contradictions" % (rows, proved, wrong))
    for name, pairs in both.items():
        print("# %s settled %d" % (name, settled[name]))
        if pairs:
            ratios = sorted(b / max(a, 1e-4) for a, b in pairs)
            mine, theirs = sum(a for a, _ in pairs), sum(b for _, b in pairs)
            print("#   where both did (%d): engine %.3f s, %s %.3f s, %.1f times as long in sum, "
                  "%.2f (median), %.2f to %.2f" % (len(pairs), mine, name, theirs, theirs / max(mine, 1e-4),
                                                   ratios[len(ratios) // 2], ratios[0], ratios[-1]))
    return 1 if wrong or ours.returncode else 0


sys.exit(main())
