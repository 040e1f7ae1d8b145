# tests/outside/safety.py PROGRAM FIRST LAST SHOW... - food safety worked out a second time.
#
# Each show, those named and those made up from seeds, is planned; then every container is followed from
# the operations of plan.json and the steps of the show file by this file alone, which shares nothing
# with the program: what is found, of which weight, for which container, by which rule and when, and
# each "use by", must be what the plan says. Limits are read from tests/safety/published.csv, whose rows
# have their sources (FDA Food Code, section by section). The cooling model is Newton's law in floating
# point: T = A + (T0 - A) exp(-k t), k = 2 h / (rho c depth); h 10, 50, 100 W/m2K for still air, moving
# air and stirred water (Berk, Food Process Engineering and Technology, Table 3.3), c 4.10 kJ/kgK
# (Geankoplis, Transport Processes, Table A.4-1, pea soup), rho of water. Moments of the model may be
# off by 5 s, all others by none.
#
# The made-up shows are invented, and many are unsafe on purpose; each accepts every rule by name, so
# that its plan is written with its stops in it.
import csv
import json
import math
import os
import random
import re
import subprocess
import sys
import tempfile

program, first, last = os.path.abspath(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3])
shows = [os.path.abspath(path) for path in sys.argv[4:]]
passed = failed = 0
seen = {}


def check(name, good, what):
    global passed, failed
    passed += bool(good)
    failed += not good
    if not good:
        print(f"{name}: {what}")


# ---- limits ----

here = os.path.dirname(os.path.abspath(__file__))
with open(os.path.join(here, "../safety/published.csv"), encoding="utf-8") as file:
    PUBLISHED = {row["id"]: row for row in csv.DictReader(file)}
SECONDS = {"s": 1, "min": 60, "h": 3600, "day": 86400}


def degrees(row):
    """A limit is printed in both units; whichever is the easier to meet counts."""
    text = PUBLISHED[row]["value"] + " " + PUBLISHED[row]["unit"]
    celsius = float(PUBLISHED[row]["value"])
    found = re.search(r"\((\d+) °F\)", text)
    other = {57: 135, 21: 70, 5: 41, 74: 165, 63: 145, 68: 155}  # as the same rows print it in brackets
    fahrenheit = float(found[1]) if found else other[int(celsius)]
    return celsius, (fahrenheit - 32) / 1.8


def lasts(row):
    value = PUBLISHED[row]["value"]
    return 0 if value.startswith("<") else int(value) * SECONDS[PUBLISHED[row]["unit"]]


def at_least(temp, row):
    return temp is not None and temp >= min(degrees(row)) - .001


def at_most(temp, row):
    return temp <= max(degrees(row)) + .001


# Kind of food: its rule, and (temperature row, seconds) that will do. A probe is held for half a minute.
COOK = {
    "whole meat": ("3-401.11(A)(1)", [("FS-001", lasts("FS-003"))]),
    "ground": ("3-401.11(A)(2)", [("FS-004", lasts("FS-006"))]),
    "poultry": ("3-401.11(A)(3)", [("FS-010", lasts("FS-012"))]),
    "plant": ("3-401.13", [("FS-052", 0)]),
    "reheated": ("3-403.11(A)", [("FS-060", lasts("FS-061"))]),
    "packaged": ("3-403.11(C)", [("FS-064", 0)]),
}
GROUND_TOO = [(63, 145, lasts("FS-007")), (66, 150, lasts("FS-008")), (70, 158, lasts("FS-009"))]
ROOM, FRIDGE, BOILING = 21.0, 2.8, 95.0  # common practice; FDA tables of cooling (37 F); near the boil
AROUND = {"room": ROOM, "refrigerator": FRIDGE, "freezer": -18.0, "ice bath": 0.0}
AIR, WIND, WATER = 10.0, 50.0, 100.0
HEAT = 1000 * 4100.0  # J/m3K


# ---- texts ----

def seconds(text):
    total = 0
    for number, unit in re.findall(r"(\d+) (s|min|h|d)\b", text):
        total += int(number) * {"s": 1, "min": 60, "h": 3600, "d": 86400}[unit]
    return total


def celsius(text):
    number, unit = text.split()
    return float(number) if unit == "C" else (float(number) - 32) / 1.8


def metres(text):
    number, unit = text.rsplit(" ", 1)
    whole = sum(float(a) / float(b or 1) for a, b in re.findall(r"([\d.]+)(?:/(\d+))?", number))
    return whole * {"cm": .01, "mm": .001, "in": .0254}[unit]


# ---- one container ----

class Food:
    def __init__(self, show, plan, number):
        self.box = plan["container"][number]
        title = plan["dish"][self.box["dish"]]["recipe"]
        recipe = next(r for r in show["recipes"] if r["title"] == title)
        self.steps = {s["id"]: s for s in recipe["steps"]}
        self.order = [s["id"] for s in recipe["steps"]]
        self.number, self.show, self.plan = number, show, plan
        self.finished = len(self.box["steps"]) == len(self.order)
        self.eaten = self.box["portions"] > 0
        self.end = self.box["last"]["t"]
        self.found = set()

    def add(self, weight, rule, at):
        self.found.add((weight, self.number, rule, at))

    def before(self, step):
        i = self.order.index(step)
        return self.steps[step].get("after", [self.order[i - 1]] if i else [])

    def perishable(self, step):
        own = self.steps[step].get("perishable")
        return own if own is not None else any(self.perishable(b) for b in self.before(step))

    def all_before(self, step):
        return {x for b in self.before(step) for x in {b} | self.all_before(b)}

    def stands_perishable(self):
        """As it stands at the end: what is on top decides; raw, what it is made of."""
        done = [self.order[i] for i in self.box["steps"]]
        if not done:
            return any(i.get("raw") for s in self.steps.values() for i in s.get("ingredients", []))
        under = {x for s in done for x in self.all_before(s)}
        return any(self.perishable(s) for s in done if s not in under)

    def stays(self):
        """(from, to, where, step it is in or None, perishable, temperature of the place or None)"""
        things = self.plan["thing"]
        places = {p["id"]: p for p in self.show["kitchen"].get("places", [])}
        for op in self.plan["op"]:
            tail = op["key"].rsplit("/", 1)[-1]
            beside = self.box["steps"] and re.search(r"\.(measure|wait)$", tail)
            if self.number not in op["serves"] or beside or op["kind"] == "help":
                continue
            parts = op["key"].split("/")
            step = next((p.split("+")[0] for p in parts[3:] if p.split("+")[0] in self.steps), None)
            own = self.steps[step] if step else {}
            where, temp, done = "counter", None, None
            if op["kind"] in ("active", "passive"):
                where, done = "cook" if own.get("burner") else own.get("keep", "counter"), own
            elif op["kind"] == "oven":
                where, done = "cook", own
            elif op["kind"] == "set":
                where = "set"
            if op["kind"] in ("passive", "wait"):
                kept = [things[i] for i in op["uses"] if things[i]["kind"] in ("hot", "cold")]
                if kept and op["kind"] == "wait":
                    where = kept[0]["kind"]
                if kept and "temperature" in places.get(kept[0]["id"], {}):
                    temp = celsius(places[kept[0]["id"]]["temperature"])
            perishable = self.perishable(step) if step else self.stands_perishable()
            yield op["from"]["t"], op["to"]["t"], where, done, perishable, temp

    # -- time without control --

    def controlled(self, s):
        return s[2] in ("hot", "cold", "cook") or (s[3] and ("cool" in s[3] or s[3].get("thaw") == "water"))

    def uncontrolled(self):
        open_spans, until, was = [], None, None
        for s in self.path:
            if until is not None and s[0] > until and was:
                open_spans.append((until, s[0]))
            if s[4] and not self.controlled(s):
                open_spans.append((s[0], s[1]))
            if until is None or s[1] >= until:
                until, was = s[1], s[4]
        if was and until < self.end:
            open_spans.append((until, self.end))
        total, reached, limit, use_by = 0, -math.inf, lasts("FS-120"), None
        for a, b in sorted(open_spans):
            a, b = max(a, reached), min(b, self.end)
            if b <= a:
                continue
            if use_by is None and total + b - a > limit:
                use_by = a + limit - total
            total, reached = total + b - a, b
        if use_by is not None:
            self.add("stop", "3-501.19(B)", use_by)
            return use_by
        ever = any(s[4] for s in self.path)
        return self.end + limit - total if ever else None

    # -- heat --

    def through(self, s, kind):
        if s[2] != "cook" or not s[3] or "core" not in s[3]:
            return False
        core, held = celsius(s[3]["core"]), max(seconds(s[3].get("core_for", "")), 30)
        rows = COOK[kind][1]
        if any(at_least(core, row) and least <= held for row, least in rows):
            return True
        return kind == "ground" and any(core >= min(c, (f - 32) / 1.8) - .001 and least <= held
                                        for c, f, least in GROUND_TOO)

    def cores(self):
        for i, s in enumerate(self.path):
            kind = s[3].get("food", "other") if s[2] == "cook" and s[3] else "other"
            if kind == "other" or any(self.through(x, kind) for x in self.path[i:]):
                continue
            if self.finished or self.eaten:
                said = "core" in s[3]
                self.add("stop" if said else "note" if kind == "plant" else "caution",
                         COOK[kind][0], s[0])

    def raw(self):
        raw = False
        for s in self.path:
            if s[3] and any(i.get("raw") for i in s[3].get("ingredients", [])):
                raw = True
            if s[2] == "cook" and s[3]:
                kind = s[3].get("food", "other")
                raw = raw and not self.through(s, "poultry" if kind == "other" else kind)
        if self.eaten and (raw or not self.finished):
            self.add("stop", "3-401.11(A)(3)", self.end)
        elif raw and self.finished:
            self.add("caution", "3-401.11(A)(3)", None)

    # -- cold, hot, and heated again --

    def keeping(self):
        cooked = warm = chilled = told_hot = told_days = False
        cold_from = cold_to = None
        told = set()
        for s in self.path:
            a, b, where, step, perishable, temp = s
            cools = step is not None and "cool" in step
            if cools and perishable and not self.cooling_at(a):
                self.cool(s, warm)
                warm, chilled = False, cooked
                cold_from = a if cooked and cold_from is None else cold_from
            if where in ("hot", "cold") and perishable and temp is not None and where not in told:
                if not (at_least(temp, "FS-100") if where == "hot" else at_most(temp, "FS-102")):
                    told.add(where)
                    self.add("stop", "3-501.16(A)(1)" if where == "hot" else "3-501.16(A)(2)", a)
            if where == "cold":
                if warm and perishable and not cools and not self.cooling_at(a):
                    self.add("caution", "3-501.14(A)(1)", a)
                warm, cold_to = False, b
                if cooked and perishable:
                    chilled = True
                    cold_from = a if cold_from is None else cold_from
                    until = min(b, self.end)
                    days = until // 86400 - cold_from // 86400
                    if not told_days and days >= int(PUBLISHED["FS-111"]["value"]):
                        told_days = True
                        self.add("stop", "3-501.17(A)", cold_from)
                    elif not told_days and until - cold_from > lasts("FS-110"):
                        told_days = True
                        self.add("note", "3-501.17(A)", cold_from)
            elif cools:
                cold_to = b
            elif where == "hot":
                warm = True
                if chilled and perishable and not told_hot:
                    told_hot = True
                    self.add("stop", "3-403.11(A)", a)
            elif where == "cook":
                kind = "packaged" if step and step.get("food") == "packaged" else "reheated"
                if chilled and self.through(s, kind):
                    since = cold_to if cold_to is not None and cold_to < a else a
                    if b - since > lasts("FS-065"):
                        self.add("stop", "3-403.11(D)", a)
                    chilled, cold_from = False, None
                warm = cooked = True

    # -- on its way down --

    def cooling_at(self, t):
        return any(a <= t < b for a, b in self.coolings)

    def cool(self, begin, warm):
        """From a step that cools until heat ends it, or the day does, or it is cold."""
        i = self.path.index(begin)
        step = begin[3]
        before = [s for s in self.path[:i] if s[2] == "cook"]
        hot = before[-1][3] if before else None
        temp = celsius(step["cool"]["from"]) if "from" in step["cool"] else \
            ROOM if not warm else \
            celsius(hot["core"]) if hot and "core" in hot else BOILING
        depth, pieces, now = None, [], begin[0]
        for s in self.path[i:]:
            if s[2] in ("cook", "hot"):
                break
            if s[0] > now:
                pieces.append((now, s[0], ROOM, 2 * AIR / (HEAT * depth)))
                now = s[0]
            if s[3] and "cool" in s[3]:
                how = s[3]["cool"]
                depth = metres(how["depth"])
                around = celsius(how["around"]) if "around" in how else AROUND[how["in"]]
                h = {"ice bath": WATER, "blast chiller": WIND}.get(how["in"], AIR)
                k = 2 * h / (HEAT * depth)
                if "reading" in how:
                    r = how["reading"]
                    k = math.log((celsius(r["from"]) - around) / (celsius(r["then"]) - around)) \
                        / seconds(r["after"])
            else:
                around = s[5] if s[2] == "cold" and s[5] is not None else FRIDGE if s[2] == "cold" else ROOM
                k = 2 * AIR / (HEAT * depth)
            if s[1] > now:
                pieces.append((now, s[1], around, k))
                now = s[1]
        start, stop = begin[0], now
        when = {}

        def crossing(to):
            t, value = start, temp
            for a, b, around, k in pieces:
                if value <= to:
                    return t
                if around < to:
                    takes = math.log((value - around) / (to - around)) / k
                    if takes <= b - a:
                        return a + takes
                value, t = around + (value - around) * math.exp(-k * (b - a)), b
            return t if value <= to else None
        when["clock"] = crossing(min(degrees("FS-080"))) if warm else start
        when["first"] = crossing(max(degrees("FS-081")))
        when["all"] = crossing(max(degrees("FS-083")))
        self.coolings.append((start, stop if when["all"] is None else min(stop, when["all"] + 1)))
        if when["clock"] is None:
            return
        until = min(stop, self.end)

        def late(moment, limit):
            by = until if moment is None or moment > until else moment
            return by > when["clock"] + limit + .5
        rule = "3-501.14(A)(2)" if warm else "3-501.14(B)"
        limit = lasts("FS-084") if warm else lasts("FS-085")
        if warm and late(when["first"], lasts("FS-082")):
            self.add("stop", "3-501.14(A)(1)", when["clock"] + lasts("FS-082"))
        elif late(when["all"], limit):
            self.add("stop", rule, when["clock"] + limit)
        else:
            self.add("note", rule, when["clock"])

    # -- thawing --

    def thawing(self):
        water = None
        for a, b, where, step, _, _ in self.path:
            ends = where in ("cook", "cold")
            how = step.get("thaw") if step else None
            if how == "water" and water is None:
                water = a
            if water is not None and (a if ends else b) - water > lasts("FS-075"):
                self.add("stop", "3-501.13(B)", water + lasts("FS-075"))
                water = None
            if ends:
                water = a if how == "water" else None
            if how == "counter" or (how == "cold" and where != "cold"):
                self.add("stop", "3-501.13(A)", a)

    def follow(self):
        self.path = sorted(self.stays(), key=lambda s: s[0])
        self.coolings = []
        self.cores()
        self.raw()
        self.keeping()
        self.thawing()
        return self.uncontrolled()


# ---- a board, and who eats ----

def boards(show, plan):
    """Raw animal food, then food that nobody cooks any more, with whatever between them."""
    found, dirty = set(), {}
    boards_of = {t["id"] for t in show["kitchen"].get("tools", []) if t.get("board")}
    for op in plan["op"]:
        used = boards_of & {plan["thing"][i]["id"] for i in op["uses"]}
        if op["kind"] != "active" or not used:
            continue
        food = Food(show, plan, op["serves"][0])
        step = food.steps[op["key"].rsplit("/", 1)[-1].split("+")[0]]
        raw = any(i.get("raw") for i in step.get("ingredients", [])) or \
            {"raw poultry", "raw meat"} & set(step.get("hazards", []))
        later = [food.steps[s] for s in food.order if step["id"] in food.all_before(s)]
        heated = any(s.get("burner") or s["kind"] == "oven" for s in later + [step])
        for board in used:
            if not raw and not heated and dirty.get(board):
                found.add(("caution", op["serves"][0], "3-302.11(A)", op["from"]["t"]))
                dirty[board] = False
            dirty[board] = dirty.get(board) or bool(raw)
    return found


def allergies(show, plan):
    found = set()
    for i, box in enumerate(plan["container"]):
        if not box["portions"]:
            continue
        title = plan["air"][box["air"]]["title"]
        segment = next(s for s in show["segments"] if s["title"] == title)
        food = Food(show, plan, i)
        inside = {a for n in box["steps"] for g in food.steps[food.order[n]].get("ingredients", [])
                  for a in g.get("allergens", [])}
        for eater in segment.get("hosts", []) + segment.get("tasters", []):
            if isinstance(eater, dict) and inside & set(eater.get("allergies", [])):
                found.add(("stop", i, "taster's allergy", box["needed"]["t"]))
    return found


# ---- a plan against it ----

def minutes(moment, off):
    """A finding of the walk is told to the minute; what is eaten, when it is."""
    return {None} if moment is None else \
        {moment} | {math.floor((moment + by) / 60) * 60 for by in (-off, 0, off)}


def compare(name, show, plan):
    mine = boards(show, plan) | allergies(show, plan)
    for number, box in enumerate(plan["container"]):
        food = Food(show, plan, number)
        use_by = food.follow()
        mine |= food.found
        theirs = box["use_by"] and box["use_by"]["t"]
        check(name, theirs == use_by, f"{box['code']}: use by {theirs}, and {use_by} here")
    said = [(f["weight"], f["container"], f["rule"].removeprefix("FDA Food Code "),
             f["at"] and f["at"]["t"]) for f in plan["finding"] if f["container"] is not None]
    left = list(said)
    for m in sorted(mine, key=str):
        near = [s for s in left if s[:3] == m[:3] and s[3] in minutes(m[3], 5 * ("501.14" in m[2]))]
        check(name, near, f"the plan does not find {m}; of that container: "
              f"{[s for s in said if s[1] == m[1]]}")
        if near:
            left.remove(near[0])
            seen[m[0], m[2]] = seen.get((m[0], m[2]), 0) + 1
    for s in left:
        check(name, False, f"nothing here finds {s}")
    check(name, plan["stopped"] == any(f["weight"] == "stop" and not f["accepted"]
                                       for f in plan["finding"]), "stopped without cause")


# ---- shows that are made up ----

RULES = ["3-401.11(A)(1)", "3-401.11(A)(2)", "3-401.11(A)(3)", "3-401.13", "3-403.11(A)", "3-403.11(C)",
         "3-403.11(D)", "3-501.13(A)", "3-501.13(B)", "3-501.14(A)(1)", "3-501.14(A)(2)", "3-501.14(B)",
         "3-501.16(A)(1)", "3-501.16(A)(2)", "3-501.17(A)", "3-501.19(B)", "taster's allergy"]


def a_cooling(r):
    how = {"in": r.choice(["room", "refrigerator", "freezer", "ice bath", "ice bath", "blast chiller"]),
           "depth": r.choice(["2 cm", "3 cm", "35 mm", "5 cm", "2 in", "9 cm"])}
    if how["in"] == "blast chiller":
        how["around"] = r.choice(["-5 C", "-20 C"])
    if r.random() < .2:
        how["from"] = r.choice(["60 C", "80 C", "55 C"])
    if r.random() < .2 and how["in"] != "room":
        how["reading"] = {"from": "85 C", "then": r.choice(["40 C", "60 C"]),
                          "after": r.choice(["20 min", "1 h"])}
    return how


def a_show(seed):
    r = random.Random(seed)
    raw = r.random() < .6
    thaw = r.choice([None, None, None, "cold", "water", "counter"])
    ahead = r.random() < .6
    long = {"counter": "7 h", "hot": "7 h", "cold": "7 d", "set": "6 h"}
    if r.random() < .4:  # it may wait hot or cold alone
        del long["counter"]
    cut = {"id": "cut", "text": "Cut it", "kind": "active", "time": "6 min", "hold": dict(long),
           "after": [], "tools": ["board"], "hazards": ["knife"],
           "ingredients": [{"item": "meat or roots", "amount": "1 kg", "raw": raw}]}
    if r.random() < .7:
        cut["perishable"] = True
    steps = [cut]
    if thaw:
        steps.append({"id": "thaw", "text": "Thaw it", "kind": "passive", "thaw": thaw,
                      "time": r.choice(["1 h", "3 h", "5 h"]),
                      "keep": "cold" if thaw == "cold" and r.random() < .7 else "counter",
                      "hold": dict(long)})
    if r.random() < .4:
        steps.append({"id": "roots", "text": "Cut roots to cook", "kind": "active", "time": "4 min",
                      "tools": ["board"], "hold": dict(long)})
    cook = {"id": "cook", "text": "Cook it", "kind": "passive", "time": r.choice(["20-24 min", "45 min"]),
            "burner": True, "hold": dict(long), "perishable": True}
    if r.random() < .8:
        cook["food"] = r.choice(["whole meat", "ground", "poultry", "plant", "packaged"])
    if r.random() < .8:
        cook["core"] = r.choice(["57 C", "60 C", "63 C", "145 F", "66 C", "68 C", "70 C", "165 F", "80 C"])
        if r.random() < .3:
            cook["core_for"] = r.choice(["15 s", "1 min", "3 min"])
    steps.append(cook)
    if ahead:
        if r.random() < .8:
            steps.append({"id": "cool", "text": "Cool it", "kind": "passive", "cool": a_cooling(r),
                          "time": r.choice(["30 min", "1 h", "2 h", "3 h"]),
                          "keep": r.choice(["counter", "cold"]), "hold": dict(long)})
        steps.append({"id": "store", "text": "Keep it", "kind": "passive", "keep": "cold",
                      "time": r.choice(["1 h", "9 h", "14 h", "30 h", "6 d"]), "hold": dict(long)})
        if r.random() < .7:
            again = {"id": "again", "text": "Heat it again", "kind": "passive", "burner": True,
                     "time": r.choice(["15 min", "40 min", "2 h 10 min"]), "food": "reheated",
                     "core": r.choice(["70 C", "165 F", "74 C"]), "hold": dict(long)}
            steps.append(again)
    if r.random() < .5:
        steps.append({"id": "herbs", "text": "Chop herbs", "kind": "active", "time": "3 min",
                      "after": [], "tools": ["board"], "hold": dict(long),
                      "ingredients": [{"item": "herbs", "amount": "1 bunch", "allergens": ["celery"]}]})
        steps.append({"id": "plate", "text": "Plate it", "kind": "active", "time": "2 min",
                      "after": [steps[-2]["id"], "herbs"], "hold": {"counter": "30 min", "set": "2 h"},
                      "tools": ["board"] * (r.random() < .3)})
    kept = {"id": "warm", "keeps": "hot", "count": 6}, {"id": "fridge", "keeps": "cold", "count": 9}
    if r.random() < .6:
        kept[0]["temperature"] = r.choice(["50 C", "57 C", "135 F", "65 C"])
    if r.random() < .6:
        kept[1]["temperature"] = r.choice(["2 C", "5 C", "41 F", "7 C"])
    eater = {"name": "Ana", "allergies": r.choice([["celery"], ["milk"]])}
    return {"backpot": 1, "id": f"unsafe-{seed}", "title": f"Unsafe {seed}", "date": "2027-02-11",
            "zone": "Europe/Lisbon",
            "safety": {"accept": [{"rule": rule, "dish": "one", "by": "the test", "why": "it is a test"}
                                  for rule in RULES]},
            "kitchen": {"cooks": [{"id": "c", "name": "C", "shifts": [
                {"call": "-6d 06:00", "wrap": "-6d 20:00"}, {"call": "-2d 06:00", "wrap": "-2d 22:00"},
                {"call": "-1d 06:00", "wrap": "-1d 22:00"}, {"call": "02:00", "wrap": "13:30"}]}],
                        "burners": 3, "tools": [{"id": "board", "count": 1, "board": True}],
                        "places": list(kept)},
            "recipes": [{"id": "r", "title": "Food", "serves": 4, "steps": steps}],
            "segments": [{"id": "g", "title": "Slot", "hit": "12:10", "slot": "3:00",
                          "lead": r.choice(["5 min", "5 min", "4 h"]), "hosts": [eater],
                          "dishes": [{"id": "one", "title": "Dish", "recipe": "r",
                                      "taste": r.random() < .8}],
                          "beats": [
                              {"id": "a", "text": "Raw", "dish": "one", "shows": "raw", "time": "40-60 s"},
                              {"id": "b", "text": "Mid", "dish": "one",
                               "shows": {"after": steps[r.randrange(len(steps) - 1)]["id"]},
                               "time": "40-60 s"},
                              {"id": "c", "text": "Done", "dish": "one", "shows": "finished",
                               "time": "40-70 s", "taste": True}]}]}


def run(name, path):
    with open(path, encoding="utf-8") as f:
        show = json.load(f)
    for i, recipe in enumerate(show["recipes"]):
        if isinstance(recipe, str):  # in a file of its own
            with open(os.path.join(os.path.dirname(path), recipe), encoding="utf-8") as f:
                show["recipes"][i] = json.load(f)
    done = subprocess.run([program, "plan", path, "-o", name, "--only", "json"],
                          capture_output=True, text=True, check=False)
    if not os.path.exists(f"{name}/plan.json"):
        return False, done
    with open(f"{name}/plan.json", encoding="utf-8") as f:
        compare(name, show, json.load(f))
    return True, done


with tempfile.TemporaryDirectory() as folder:
    os.chdir(folder)
    for path in shows:
        planned, done = run(os.path.basename(path).removesuffix(".json"), path)
        check(path, planned, f"no plan: {done.stderr}")
    planned = 0
    for seed in range(first, last + 1):
        with open("show.json", "w", encoding="utf-8") as file:
            json.dump(a_show(seed), file, indent=1)
        good, done = run(str(seed), "show.json")
        check(str(seed), done.returncode in (0, 3, 5), f"exit status {done.returncode}: {done.stderr}")
        planned += good
    made = last - first + 1
    check("all", planned * 4 >= made * 3, f"{planned} of {made} made-up shows could be planned")
    check("all", len({rule for _, rule in seen}) >= 12, f"few rules were met: {seen}")

for (weight, rule), n in sorted(seen.items()):
    print(f"{weight} {rule}: {n}")
print(f"{passed} passed, {failed} failed")
sys.exit(1 if failed else 0)
