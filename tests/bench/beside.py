#!/usr/bin/python3
"""tests/bench/beside.py - the engine beside a general-purpose constraint solver.

    beside.py PROGRAM MODEL OUT SECONDS ITEM...

PROGRAM (build/engine-beside) solves each item and writes it as data for MODEL; then `minizinc`
translates it and Gecode gets the same question. Each has SECONDS of the processor; what the translation
takes is not counted, what it settles already is. A CSV row each, then a summary. Exit status 1 where the two contradict
each other: two proved values that differ, or a value better than one proved best.
"""
import csv
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


def other(model, data, seconds):
    """Status, value and seconds of the processor that the other solver took."""
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


def contradiction(a, b):
    (one, x), (two, y) = a, b
    settled = ("optimal", "infeasible")
    if one in settled and two in settled:
        return one != two or (one == "optimal" and x != y)
    if "infeasible" in (one, two):
        return x is not None and y is not None
    return (one == "optimal" and y is not None and y < x) or \
           (two == "optimal" and x is not None and x < y)


def main():
    if len(sys.argv) < 6:
        sys.exit("usage: beside.py PROGRAM MODEL OUT SECONDS ITEM...")
    program, model, out, seconds, items = *sys.argv[1:4], int(sys.argv[4]), sys.argv[5:]
    os.makedirs(out, exist_ok=True)
    ours = subprocess.run([program, out, str(seconds)] + items, stdout=subprocess.PIPE, text=True)
    print("item,activities,level,status,value,seconds,other_status,other_value,other_seconds,ratio,"
          "same", flush=True)
    rows, wrong, proved, other_proved, ratios = 0, 0, 0, 0, []
    for row in csv.DictReader(ours.stdout.splitlines()):
        mine = row["status"], int(row["value"]) if row["status"] in ("optimal", "feasible") else None
        data = os.path.join(out, "%s.%s.dzn" % (row["item"], row["level"]))
        status, value, took = other(model, data, seconds)
        bad = contradiction(mine, (status, value))
        both = mine[0] in ("optimal", "infeasible") and status in ("optimal", "infeasible")
        own = float(row["seconds"])
        ratio = took / max(own, 1e-4)
        rows += 1
        wrong += bad
        proved += mine[0] in ("optimal", "infeasible")
        other_proved += status in ("optimal", "infeasible")
        if both:
            ratios.append(ratio)
        print(",".join([row["item"], row["activities"], row["level"], mine[0],
                        "" if mine[1] is None else str(mine[1]), "%.4f" % own, status,
                        "" if value is None else str(value), "%.4f" % took, "%.2f" % ratio,
                        "NO" if bad else "yes" if both else "not contradicted"]), flush=True)
    ratios.sort()
    print("# %d questions: settled %d by the engine, %d by the other; %d contradictions"
          % (rows, proved, other_proved, wrong))
    if ratios:
        print("# where both settled it (%d): the other took %.2f times as long (median), %.2f to %.2f"
              % (len(ratios), ratios[len(ratios) // 2], ratios[0], ratios[-1]))
    return 1 if wrong or ours.returncode else 0


sys.exit(main())
