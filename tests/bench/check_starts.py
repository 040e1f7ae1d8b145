#!/usr/bin/python3
"""tests/bench/check_starts.py - holds the starts of published instances against their files.

    check_starts.py FOLDER STARTS

FOLDER holds the instance files, at any depth; STARTS has a line for each schedule: file name, value
claimed, start of every activity. Written from the description of the two formats alone: it shares
nothing with the engine, its readers or its checker, and does not even walk time the same way.
Prints what is wrong, then how many lines hold and how many do not.
"""
import os
import re
import sys


def read_sm(text):
    lines = text.splitlines()

    def after(head, skip):
        at = next(k for k, line in enumerate(lines) if line.startswith(head))
        return lines[at + 1 + skip:]

    count = int(re.search(r"jobs.*:\s*(\d+)", text).group(1))
    follow = [[int(x) for x in line.split()] for line in after("PRECEDENCE", 1)[:count]]
    demand = [[int(x) for x in line.split()] for line in after("REQUESTS", 2)[:count]]
    capacity = [int(x) for x in after("RESOURCEAVAIL", 1)[0].split()]
    length = [row[2] for row in demand]
    lags = [(row[0] - 1, to - 1, length[row[0] - 1]) for row in follow for to in row[3:]]
    return length, [row[3:] for row in demand], capacity, lags


def read_sch(text):
    lines = [line for line in text.splitlines() if line.strip()]
    count = int(lines[0].split()[0]) + 2
    lags = []
    for line in lines[1:1 + count]:
        lag = [int(x) for x in re.findall(r"\[\s*(-?\d+)\s*\]", line)]
        head = [int(x) for x in line.split("[")[0].split()]
        assert len(lag) == head[2] == len(head) - 3
        lags += [(head[0], to, least) for to, least in zip(head[3:], lag)]
    demand = [[int(x) for x in line.split()] for line in lines[1 + count:1 + 2 * count]]
    capacity = [int(x) for x in lines[1 + 2 * count].split()]
    length = [row[2] for row in demand]
    lags += [(a, count - 1, length[a]) for a in range(count - 1)]
    return length, [row[3:] for row in demand], capacity, lags


def wrong(problem, value, start):
    length, demand, capacity, lags = problem
    if len(start) != len(length):
        return "%d starts for %d activities" % (len(start), len(length))
    if min(start) < 0 or start[0] != 0:
        return "the first activity must start at 0, and none before"
    if start[-1] != value:
        return "value %d, but the last activity starts at %d" % (value, start[-1])
    for a, b, least in lags:
        if start[b] - start[a] < least:
            return "%d starts %d after %d, not %d" % (b, start[b] - start[a], a, least)
    for r, most in enumerate(capacity):
        for t in start:  # use can only rise where something starts
            used = sum(demand[a][r] for a in range(len(start))
                       if start[a] <= t < start[a] + length[a])
            if used > most:
                return "resource %d: %d used at %d, of %d" % (r + 1, used, t, most)
    return None


def main():
    if len(sys.argv) != 3:
        sys.exit("usage: check_starts.py FOLDER STARTS")
    files = {name: os.path.join(at, name) for at, _, names in os.walk(sys.argv[1])
             for name in names}
    good = bad = 0
    with open(sys.argv[2]) as rows:
        for row in rows:
            name, value, *start = row.strip().split(",")
            with open(files[name]) as f:
                text = f.read()
            problem = (read_sm if name.lower().endswith(".sm") else read_sch)(text)
            why = wrong(problem, int(value), [int(x) for x in start])
            good += why is None
            bad += why is not None
            if why:
                print("%s: %s" % (name, why), file=sys.stderr)
    print("%d schedules hold, %d do not" % (good, bad))
    return bad > 0


sys.exit(main())
