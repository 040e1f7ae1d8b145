# tests/outside/ticked.py PROGRAM RUNS SHOW... - days on which the kitchen runs late: each is played from the
# plan of a show with seeds, its ticks are logged as the kitchen's clock does, something goes wrong, and the
# plan mended by the log is held to what was played, by code that shares nothing with the program.
#
# What is asked: what was ticked stands in the plan at its minute, and nothing else that hands do lies in the
# past but what must have been done for it; what was not done is still to come; each container is carried,
# in order; no cook does two things at once from then on. A second mishap of the day is mended from the log
# that the first was entered into. Then the day is played to its end, and what "after" says was done, and how
# long it took, is what was ticked, by whichever plan.
import json
import os
import random
import re
import shutil
import subprocess
import sys
import tempfile

program, runs = os.path.abspath(sys.argv[1]), int(sys.argv[2])
passed = failed = 0
STILL = ("wait", "set")
ALONE = STILL + ("passive", "oven")


def check(name, good, what):
    global passed, failed
    passed += bool(good)
    failed += not good
    if not good:
        print(f"{name}: {what}")


def clock(t):
    day, t = t // 86400, t % 86400
    return (f"{day:+d}d " if day else "") + f"{t // 3600:02d}:{t % 3600 // 60:02d}"


def minute(t):
    return -(-t // 60) * 60


def share(a, b):
    return bool(set(a["serves"]) & set(b["serves"])) or \
        (a["person"] is not None and a["person"] == b["person"])


def play(plan, luck, rate, since, had):
    """Starts and ends of what is not done yet, in seconds: in the planned order, some of it late."""
    start, end, done = {}, {}, set()
    ops = plan["op"]
    for i, o in enumerate(ops):
        if o["from"]["t"] < since and o["key"] in had:
            start[i], end[i] = had[o["key"]]
            done.add(i)
            continue
        before = [end[k] for k in range(i) if ops[k]["to"]["t"] <= o["from"]["t"] and share(ops[k], o)
                  and ops[k]["kind"] not in STILL]
        at = max([o["from"]["t"], since] + before)
        if o["kind"] in ALONE or o["kind"] == "stand by":
            start[i], end[i] = at, at + o["to"]["t"] - o["from"]["t"]
            continue
        start[i] = at + (luck.randrange(0, 90) if luck.random() < rate else 0)
        length = o["to"]["t"] - o["from"]["t"]
        end[i] = start[i] + max(5, int(length * luck.uniform(0.6, 1.0 + rate)))
    for i, o in enumerate(ops):  # who helps is not there for longer than what they help with
        helped = [k for k, x in enumerate(ops) if o["key"] == x["key"] + "/help"]
        if helped and i not in done:
            start[i], end[i] = start[helped[0]], min(end[helped[0]], max(start[helped[0]] + 5, end[i]))
    return start, end


def ticks(plan, start, end, since, until, luck, forget, had):
    out = []
    for i, o in enumerate(plan["op"]):
        if o["kind"] in ALONE or o["kind"] == "stand by":
            continue
        if luck.random() < forget and end[i] <= until:
            continue  # nobody pressed a key
        if since <= start[i] <= until and o["key"] not in had:
            out.append((start[i], "start", o["key"]))
        if since < end[i] <= until:
            out.append((end[i], "done", o["key"]))
    return sorted(out)


def write(path, plan, lines):
    with open(path, "a") as f:
        if f.tell() == 0:
            f.write(json.dumps({"backpot": "log", "format": 1, "show": plan["show_id"], "stamp": plan["stamp"],
                                "rehearsal": False}) + "\n")
        for at, event, op in lines:
            f.write(json.dumps({"at": at, "event": event, "op": op}) + "\n")


def warmed(plan, on, op):
    """Does it stand in the place that is switched on?"""
    return on["kind"] == "warm up" and on["key"].split("/")[1] in [plan["thing"][i]["id"] for i in op["uses"]]


def hold(name, plan, told, lost):
    """The mended plan against all ticks."""
    now = plan["mended"]["t"]
    ops = {o["key"]: o for o in plan["op"]}
    began, ended = {}, {}
    for at, event, key in told:
        (began if event == "start" else ended)[key] = at
    for key in set(began) | set(ended):
        o = ops.get(key)
        if o is None or (lost and {plan["container"][c]["code"] for c in o["serves"]} <= lost):
            continue
        if key.startswith("oven/"):
            continue  # numbered by order
        check(name, o["from"]["t"] < now, f"{key} was ticked and is still to come")
        if key in began:
            bumped = any(x["to"] == o["from"] and set(x["serves"]) & set(o["serves"]) for x in plan["op"])
            check(name, o["from"]["t"] == minute(began[key]) or bumped,
                  f"{key} began {clock(o['from']['t'])}, ticked {began[key]}")
        if key in ended:
            check(name, o["to"]["t"] == minute(ended[key]) or o["to"]["t"] == o["from"]["t"] + 60,
                  f"{key} ended {clock(o['to']['t'])}, ticked {ended[key]}")
        else:
            needed = any(x["from"]["t"] >= o["to"]["t"] and x["from"]["t"] < now and
                         (set(x["serves"]) & set(o["serves"]) or warmed(plan, o, x)) for x in plan["op"])
            check(name, o["to"]["t"] > now or needed, f"{key} is under way and ends in the past")
    for o in plan["op"]:
        if o["kind"] in ALONE or o["from"]["t"] >= now or o["kind"] in ("stand by", "preheat"):
            continue
        if o["key"] in began or o["key"] in ended:
            continue
        pair = o["key"].removesuffix("/help") if o["key"].endswith("/help") else o["key"] + "/help"
        if pair in began or pair in ended:
            continue  # who helps begins with what they help with
        needed = any(x["from"]["t"] >= o["to"]["t"] and x["from"]["t"] < now and
                     (set(x["serves"]) & set(o["serves"]) or warmed(plan, o, x)) for x in plan["op"])
        check(name, needed, f"{o['key']} lies in the past, was not ticked and is not needed")
    for c, box in enumerate(plan["container"]):
        mine = [o for o in plan["op"] if c in o["serves"] and o["kind"] not in STILL]
        carries = [o for o in mine if o["kind"] == "carry"]
        check(name, len(carries) == 1, f"{box['code']} is carried {len(carries)} times")
        check(name, all(o["to"]["t"] <= carries[0]["from"]["t"] for o in mine if o["kind"] != "carry"),
              f"{box['code']} is worked on after its carry")
    for a in plan["op"]:
        for b in plan["op"]:
            if a["key"] < b["key"] and a["person"] is not None and a["person"] == b["person"] and \
                    b["to"]["t"] > now and a["to"]["t"] > now and not (a["from"]["t"] < now and b["from"]["t"] < now):
                beside = a["watch"] and (b["watch"] or b["light"]) or b["watch"] and a["light"]
                check(name, beside or a["to"]["t"] <= b["from"]["t"] or b["to"]["t"] <= a["from"]["t"],
                      f"{a['key']} and {b['key']} at once")


def mishap(plan, luck, at):
    """Something that can go wrong then, and the containers it loses."""
    kind = luck.randrange(3)
    if kind == 0:
        begun = sorted({plan["container"][c]["code"] for o in plan["op"] if o["to"]["t"] <= at - 600 and
                        o["kind"] not in STILL for c in o["serves"]
                        if plan["container"][c]["last"]["t"] > at})
        if begun:
            code = luck.choice(begun)
            return f"{clock(at)} {code} burnt", {code}
    if kind == 1:
        who = luck.choice(plan["person"])
        return f"{clock(at)} {who['id']} away until {clock(at + 1500)}", set()
    return f"{clock(at)} behind", set()


def mend(args, folder):
    run = subprocess.run([program, "mend", "-q", "-o", folder] + args[:2] + ["--"] + args[2:], capture_output=True, text=True)
    return run.returncode, run.stderr


def moment(t):
    t %= 86400
    return f"{t // 3600:02d}:{t % 3600 // 60:02d}" + (f":{t % 60:02d}" if t % 60 else "")


def note(deeds, events, again):
    """Ticks as pairs of start and end, None where it was not ticked; `again`: keys that are done once more."""
    for key in again:
        deeds.setdefault(key, []).append([None, None])
    for at, event, key in events:
        pair = deeds.setdefault(key, [[None, None]])[-1]
        pair[event == "done"] = at


def recall(name, show, log, deeds):
    run = subprocess.run([program, "after", show, log], capture_output=True, text=True)
    check(name, run.returncode == 0, f"after: {run.returncode} {run.stderr}")
    rows = re.findall(r"^  (?:[A-Z]\w\w )?\d\d:\d\d +\d+:\d\d +(?:[A-Z]\w\w )?(\d\d:\d\d(?::\d\d)?|-) +(\S+) +\S+ ",
                      run.stdout, re.M)
    for key, pairs in deeds.items():
        for began, ended in pairs:
            if began is None and ended is None:
                continue
            row = (moment(began) if began is not None else "-",
                   "-" if began is None or ended is None else f"{(ended - began) // 60}:{(ended - began) % 60:02d}")
            check(name, row in rows, f"{key} began and lasted {row}, not so in {log}")
            if row in rows:
                rows.remove(row)


def one(show, seed, where):
    luck = random.Random(f"{os.path.basename(show)} {seed}")
    name = f"{os.path.basename(show)} {seed}"
    folder, log = os.path.join(where, "out"), os.path.join(where, "day.log")
    if os.path.exists(log):
        os.unlink(log)
    shutil.rmtree(folder, ignore_errors=True)
    subprocess.run([program, "plan", show, "-q", "-o", folder], check=True, capture_output=True)
    plan = json.load(open(os.path.join(folder, "plan.json")))
    first, last = plan["op"][0]["from"]["t"], plan["air"][-1]["hit"]["t"]
    rate, forget = luck.choice([0, 0.2, 0.6]), luck.choice([0, 0, 0.1])
    told, had, since, lost, result = [], {}, first - 86400, set(), []
    deeds = {}
    for turn in range(2):
        at = luck.randrange(max(first, since) // 60 + 2, last // 60 - 3) * 60 if since < last - 600 else last - 120
        if at % 86400 < at and at < 0:
            at = 60 * (at // 60)
        start, end = play(plan, luck, rate, since, had)
        new = ticks(plan, start, end, since, at, luck, forget, had)
        write(log, plan, new)
        told += new
        note(deeds, new, ())
        words, gone = mishap(plan, luck, at)
        status, said = mend(["--log", log, show, words], folder)
        result.append(status)
        if status not in (0, 3):
            check(name, status == 2 and "by the log" in said or "has work in hand" in said or status == 7,
                  f"{words}: {status} {said}")
            break
        if status == 3 and "least-late" not in said:
            check(name, "no plan was found" in said, f"{words}: {said}")
            result[-1] = "none"
            break
        lost |= gone
        plan = json.load(open(os.path.join(folder, "plan.json")))
        for_lost = {o["key"] for o in plan["op"] if o["serves"] and
                    {plan["container"][c]["code"] for c in o["serves"]} <= gone}
        told = [(t, e, k) for t, e, k in told if k in {o["key"] for o in plan["op"]} - for_lost]
        hold(f"{name} {words}", plan, told, set())
        since = plan["mended"]["t"]
        had = {o["key"]: (o["from"]["t"], o["to"]["t"]) for o in plan["op"] if o["from"]["t"] < since}
        note(deeds, (), [k for k in deeds if any(o["key"] == k and o["from"]["t"] >= since for o in plan["op"])])
    else:
        start, end = play(plan, luck, rate, since, had)
        new = ticks(plan, start, end, since, last + 7200, luck, forget, had)
        write(log, plan, new)
        note(deeds, new, ())
        recall(name, show, log, deeds)
    return result


count = {}
with tempfile.TemporaryDirectory() as where:
    for show in sys.argv[3:]:
        for seed in range(runs):
            for r in one(show, seed, where):
                count[r] = count.get(r, 0) + 1
print("status:", ", ".join(f"{k} {n}" for k, n in sorted(count.items(), key=str)))
print(f"{passed} passed, {failed} failed")
sys.exit(failed > 0 or passed == 0)
