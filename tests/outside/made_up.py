# tests/outside/made_up.py PROGRAM FIRST LAST - shows made up from a seed, each planned, each plan held
# against the show file by this file alone, which shares nothing with the program: nobody does two
# things at once, nothing is used by more than there is, work lies within the shifts and outside the
# breaks, steps last and follow as the recipe says, a container stands on the set in time.
#
# The shows are invented; they need not be sensible. A show may turn out to have no plan: then facts,
# with their places, say why.
import json
import os
import random
import re
import subprocess
import sys
import tempfile

passed = failed = 0


def check(name, good, what):
    global passed, failed
    passed += bool(good)
    failed += not good
    if not good:
        print(f"made-up show {name}: {what}")


# ---- a show ----

def some_minutes(r, least, most):
    return f"{r.randint(least, most)} min"


def a_step(r, i, ovens):
    kind = r.choice(["active", "active", "passive"] + ["oven"] * bool(ovens))
    step = {"id": f"s{i}", "text": f"Step {i}", "kind": kind}
    if kind == "active":
        step["time"] = r.choice([some_minutes(r, 1, 8), "90 s"])
        if r.random() < .3:
            step["burner"] = True
        if r.random() < .2:
            step["tools"] = ["mixer"]
        if r.random() < .3:
            step["together"] = {"once": "1 min", "each": "2 min"}
    else:
        least = r.randint(4, 30)
        step["time"] = f"{least}-{least + r.randint(1, 6)} min"
        if kind == "oven":
            step["oven"] = {"temperature": r.choice(["180 C", "200 C", "400 F"])}
        elif r.random() < .5:
            step["burner"] = True
        elif r.random() < .4:
            step["keep"] = r.choice(["cold", "counter"])
    hold = {"set": some_minutes(r, 12, 90)}
    if r.random() < .7:
        hold["counter"] = some_minutes(r, 5, 120)
    if r.random() < .6:
        hold["hot"] = some_minutes(r, 10, 90)
    if r.random() < .6:
        hold["cold"] = r.choice(["2 h", "6 h", "1 d"])
    step["hold"] = hold
    if i == 0:
        step["after"] = []
    elif i > 1 and r.random() < .3:
        step["after"] = sorted({f"s{r.randrange(i)}", f"s{r.randrange(i)}"})
    step["ingredients"] = [{"item": f"thing {r.randint(0, 5)}",
                            "amount": r.choice(["1 cup", "200 g", "2 tbsp", "1/2 lb"])}]
    if r.random() < .6:
        step["air"] = {"time": r.choice(["15-30 s", "20-50 s"]), "worth": r.randint(10, 80)}
    return step


def more(r, steps):
    """Of a recipe: what is unattended done together, and a way for what is cooked ahead."""
    for step in steps:
        if step["kind"] != "active" and r.random() < .4:
            step["together"] = {"each": some_minutes(r, 0, 9)} if r.random() < .6 else {}
            if r.random() < .5:
                step["together"]["most"] = r.randint(1, 3)
            if r.random() < .5:
                step["together"]["split"] = True
    after = [b for i, s in enumerate(steps) for b in s.get("after", [f"s{i - 1}"])]
    once = [s["id"] for s in steps if after.count(s["id"]) < 2]
    if once and r.random() < .7:
        of = r.choice(once)
        steps.append({"id": "chill", "text": "Chill", "kind": "passive", "time": "20 min",
                      "ahead": of, "keep": "cold", "hold": {"cold": "1 d"}})
        if r.random() < .7:
            steps.append({"id": "again", "text": "Again", "kind": "passive", "time": "9-12 min",
                          "ahead": of, "burner": True})


def across(r, steps):
    """Some of what is done together, for several appearances too."""
    for step in steps:
        if "together" in step and r.random() < .4:
            step["together"]["across"] = True


def with_pots(r, show):
    """Vessels that are washed, as few as two of each, and steps that take them."""
    show["kitchen"]["vessels"] = [{"id": "pot", "count": r.randint(2, 9), "wash": "2 min"},
                                  {"id": "pan", "count": r.randint(2, 9), "wash": "90 s"},
                                  {"id": "bowl", "count": 99}]
    for recipe in show["recipes"]:
        for step in recipe["steps"]:
            if r.random() < .5:
                step["vessels"] = [r.choice(["pot", "pan", "bowl"])]


def with_sizes(r, show):
    """Some of its vessels take more than one position, and there is a second cold place."""
    for vessel in show["kitchen"]["vessels"]:
        if r.random() < .8:
            vessel["room"] = r.randint(1, 3)
    for place in show["kitchen"]["places"]:
        place["count"] += r.randint(2, 5)
    show["kitchen"]["places"].append({"id": "cellar", "keeps": "cold", "count": r.randint(1, 4)})


def with_heat(r, show):
    """Its hot place starts cold."""
    for place in show["kitchen"]["places"]:
        if place["keeps"] == "hot":
            place |= {"temperature": "65 C", "heats": r.choice(["1 C/min", "2 C/min", "9 C/min"])}


def check_heat(name, show, plan):
    """Nothing stands in a place that is heated before it was switched on and has got hot, that day, and none
    is switched on twice a day or for nothing."""
    for place in show["kitchen"]["places"]:
        if "heats" not in place:
            continue
        warm = -(-(int(place["temperature"].split()[0]) - 20) // int(place["heats"].split()[0])) * 60
        on = [o for o in plan["op"] if o["kind"] == "warm up" and o["key"].split("/")[1] == place["id"]]
        stands = [o for o in plan["op"] if place["id"] in [plan["thing"][i]["id"] for i in o["uses"]]]
        days = [{d for d in (-1, 0) if any(d * 86400 <= o["from"]["t"] < (d + 1) * 86400 for o in ops)}
                for ops in (on, stands)]
        check(name, days[0] == days[1] and len(on) == len(days[0]),
              f"{place['id']} is switched on {len(on)} times, and {len(stands)} things stand there")
        for o in stands:
            check(name, any(0 <= o["from"]["t"] - x["to"]["t"] - warm < 43200 for x in on),
                  f"{place['id']} is not hot for {o['key']}")


def dressed(r, segment):
    """Its set is dressed in an order: some of its dishes or all of them, one before the other."""
    dishes = [d["id"] for d in segment["dishes"]]
    segment["dress"] = r.sample(dishes, r.randint(1, len(dishes)))


def helped(r, steps):
    """Some of what is hands-on takes a second cook, for all of it or for its first minute."""
    for step in steps:
        if step["kind"] == "active" and r.random() < .4:
            step["help"] = {} if r.random() < .6 else {"time": "1 min"}


def watched(r, steps):
    """Some of what is hands-on is watched, and some is light work beside it."""
    for step in steps:
        if step["kind"] == "active" and "help" not in step:
            step |= r.choice([{"watch": r.choice([20, 40, 49, 50, 70])}, {"light": True}, {"light": True}, {}])


def a_cook(r, i):
    cook = {"id": f"c{i}", "name": f"Cook {i}"}
    if r.random() < .2:
        cook["shifts"] = [{"call": "-1d 15:00", "wrap": "-1d 19:00"},
                          {"call": "04:00", "wrap": "13:30"}]
    else:
        cook["call"], cook["wrap"] = r.choice(["04:00", "05:15", "06:00"]), "13:30"
    if r.random() < .3:
        cook["breaks"] = [{"from": "06:30", "to": "06:45"}]
    return cook


def a_show(seed):
    r = random.Random(seed)
    ovens = r.randint(0, 2)
    kitchen = {
        "cooks": [a_cook(r, i) for i in range(r.randint(1, 3))],
        "burners": r.randint(1, 4),
        "ovens": [{"id": f"o{i}", "positions": r.randint(1, 3), "heats": "10 C/min",
                   "cools": "5 C/min"} for i in range(ovens)],
        "tools": [{"id": "mixer", "count": r.randint(1, 2)}],
        "places": [{"id": "warm", "keeps": "hot", "count": r.randint(1, 6)},
                   {"id": "cold", "keeps": "cold", "count": r.randint(1, 8)}],
        "carry": r.choice(["1 min", "2 min", "30 s"])}
    recipes = [{"id": f"r{i}", "title": f"Dish {i}", "serves": r.randint(2, 8),
                "steps": [a_step(r, k, ovens) for k in range(r.randint(2, 6))]}
               for i in range(r.randint(1, 3))]
    for recipe in recipes if seed % 2 else []:
        more(random.Random(f"{seed} {recipe['id']}"), recipe["steps"])
        across(random.Random(f"{seed} {recipe['id']} across"), recipe["steps"])
    for recipe in recipes if seed % 3 == 0 and len(kitchen["cooks"]) > 1 else []:
        helped(random.Random(f"{seed} {recipe['id']} help"), recipe["steps"])
    for recipe in recipes if seed % 4 == 2 else []:
        watched(random.Random(f"{seed} {recipe['id']} watch"), recipe["steps"])
    segments = [{"id": f"g{i}", "title": f"Segment {i}", "hit": hit, "hosts": ["Host"],
                 "slot": r.choice(["3:00", "4:25", "4:30"]),
                 "lead": r.choice(["3 min", "5 min", "10 min"]), "hands": r.randint(0, 1),
                 "dishes": [{"id": f"d{k}", "title": f"Plate {k}",
                             "recipe": r.choice(recipes)["id"]} for k in range(r.randint(1, 2))]}
                for i, hit in enumerate(["08:24", "09:40:30"][:r.choice([1, 1, 2])])]
    for segment in segments if seed % 3 == 0 else []:
        segment["float"] = f"{random.Random(f'{seed} float').randint(1, 20)} min"
    for segment in segments[1:] if seed % 5 == 3 else []:
        segments[0]["rehearsal"] = True  # of two, the first
    for segment in segments if seed % 3 == 1 else []:
        dressed(random.Random(f"{seed} dress"), segment)
    show = {"backpot": 1, "id": f"made-up-{seed}", "title": f"Made up {seed}",
            "date": r.choice(["2027-06-28", "2026-12-03"]), "zone": "Europe/Lisbon",
            "kitchen": kitchen, "recipes": recipes, "segments": segments}
    if seed % 2 == 0:
        with_pots(random.Random(f"pots {seed}"), show)
    if seed % 5 == 1:
        with_heat(random.Random(f"heat {seed}"), show)
    if seed % 4 == 0:
        with_sizes(random.Random(f"sizes {seed}"), show)
    return show


# ---- a plan ----

def minutes_of(text):
    """Least and most seconds of a step's time."""
    if text.endswith(" s"):
        return int(text[:-2]), int(text[:-2])
    found = re.fullmatch(r"(\d+)(?:-(\d+))? min", text)
    return int(found[1]) * 60, int(found[2] or found[1]) * 60


def clock_of(text):
    day, clock = (-86400, text[4:]) if text.startswith("-1d ") else (0, text)
    return day + int(clock[:2]) * 3600 + int(clock[3:5]) * 60


def most_at_once(spans):
    edges = sorted([(a, 1) for a, b in spans if b > a] + [(b, -1) for a, b in spans if b > a])
    now = most = 0
    for _, by in edges:
        now += by
        most = max(most, now)
    return most


def check_attention(name, who, ops):
    """At each start: all of them watched, or light beside them; so much at once as one has attention for."""
    for op in ops:
        now = [o for o in ops if o["from"]["t"] <= op["from"]["t"] < o["to"]["t"]]
        hands = [o for o in now if not o["watch"]]
        watched = sum(o["watch"] for o in now)
        check(name, len(hands) <= 1 and (not hands or not watched or (hands[0]["light"] and watched < 50)) and
              watched <= 100, f"{who} does {[o['key'] for o in now]} at once")


def check_shares(name, show, plan):
    """What the plan says of a step is what the show says."""
    recipes = {r["title"]: {s["id"]: s for s in r["steps"]} for r in show["recipes"]}
    for op in plan["op"]:
        step = {}
        if op["kind"] == "active":
            dish = plan["dish"][plan["container"][op["serves"][0]]["dish"]]
            step = recipes[dish["recipe"]].get(op["key"].rsplit("/", 1)[-1].split("+")[0], {})
        check(name, op["watch"] == step.get("watch", 0) and op["light"] == step.get("light", False),
              f"{op['key']} is watched otherwise than the show says")


def check_people(name, show, plan):
    for i, person in enumerate(plan["person"]):
        cook = show["kitchen"]["cooks"][i]
        spans = [(o["from"]["t"], o["to"]["t"]) for o in plan["op"] if o["person"] == i]
        check_attention(name, person["id"], [o for o in plan["op"] if o["person"] == i])
        shifts = [(clock_of(s["call"]), clock_of(s["wrap"])) for s in cook.get("shifts", [cook])]
        if plan["verdict"] == "late":  # which may last beyond the last wrap
            shifts[-1] = (shifts[-1][0], 1 << 40)
        for a, b in spans:
            check(name, any(c <= a and b <= w for c, w in shifts),
                  f"{person['id']} works from {a} to {b}, outside the shifts")
        for rest in cook.get("breaks", []):
            c, w = clock_of(rest["from"]), clock_of(rest["to"])
            check(name, all(b <= c or a >= w for a, b in spans if b > a),
                  f"{person['id']} works through a break")


def check_things(name, show, plan):
    kitchen = show["kitchen"]
    count = {"burners": kitchen["burners"], "mixer": kitchen["tools"][0]["count"]}
    count |= {o["id"]: o["positions"] for o in kitchen["ovens"]}
    count |= {p["id"]: p["count"] for p in kitchen["places"]}
    for i, thing in enumerate(plan["thing"]):
        if thing["id"] not in count:
            continue
        ops = [o for o in plan["op"] if i in o["uses"] and o["kind"] != "preheat"]
        spans = [(o["from"]["t"], o["to"]["t"]) for o in ops for used in o["uses"] if used == i]
        check(name, most_at_once(spans) <= count[thing["id"]],
              f"more of {thing['id']} is used at once than there is")
        bakes = [o for o in ops if thing["kind"] == "oven"]  # whoever is at its door, too
        for n, one in enumerate(bakes):
            for other in bakes[:n]:
                apart = one["to"]["t"] <= other["from"]["t"] or other["to"]["t"] <= one["from"]["t"]
                check(name, apart or one["oven_mC"] == other["oven_mC"],
                      f"{thing['id']} is at two temperatures at once")


def check_places(name, show, plan):
    """Whatever stands somewhere does so in one place, and takes there what its vessels say, at least one."""
    kitchen, thing = show["kitchen"], plan["thing"]
    room = {v["id"]: v.get("room", 0) for v in kitchen.get("vessels", [])}
    there = {p["id"] for p in kitchen["places"]}
    for o in plan["op"]:
        at = [thing[i]["id"] for i in o["uses"] if thing[i]["id"] in there]
        wants = max(1, sum(room.get(thing[i]["id"], 0) for i in o["uses"]))
        check(name, not at or (len(set(at)) == 1 and len(at) == wants),
              f"{o['key']} stands in {at}, and its vessels take {wants}")


def step_of(op):
    parts = op["key"].split("/")
    return parts[-1] if op["kind"] in ("active", "passive", "oven") else \
        parts[-2] if op["kind"] in ("load", "take off", "wait") else None


def leads_to(steps, one, other):
    """Does one step come before another, or is it the same, or is either for what is cooked ahead?"""
    by_id = {s["id"]: i for i, s in enumerate(steps)}
    if one is None or other is None or one == other:
        return True
    if one not in by_id or other not in by_id:
        return True
    if "ahead" in steps[by_id[one]] or "ahead" in steps[by_id[other]]:
        return True
    plain = [s for s in steps if "ahead" not in s]
    at = [s["id"] for s in plain].index(other)
    before = plain[at].get("after", [plain[at - 1]["id"]] if at else [])
    return any(leads_to(steps, one, b) for b in before)


def check_pots(name, show, plan):
    """Whatever takes a washed vessel that what came before for the same container did not have takes a
    clean one. Each minute: those taken and not washed since are no more than there are."""
    recipes = {r["title"]: r for r in show["recipes"]}
    for vessel in show["kitchen"].get("vessels", []):
        thing = [i for i, t in enumerate(plan["thing"]) if t["id"] == vessel["id"]]
        if "wash" not in vessel or not thing:
            continue
        used = [(o["from"]["t"], o["to"]["t"], o) for o in plan["op"] if thing[0] in o["uses"]]
        left = {id(o): o["uses"].count(thing[0]) for _, _, o in used}
        out = []  # (moment, how many more are not clean)
        for start, end, op in used:
            want = op["uses"].count(thing[0])
            if op["kind"] == "wash":
                out.append((end, -want))
                continue
            for _, over, before in used:
                both = set(before["serves"]) & set(op["serves"])
                if over == start and before is not op and both and leads_to(
                        recipes[plan["dish"][plan["container"][min(both)]["dish"]]["recipe"]]["steps"],
                        step_of(before), step_of(op)):
                    goes = min(want, left[id(before)])
                    left[id(before)] -= goes
                    want -= goes
            out.append((start, want))
        now = 0
        for moment, by in sorted(out):  # a washing that ends then comes first
            now += by
            check(name, now <= vessel["count"] and now >= 0,
                  f"{now} of {vessel['count']} of {vessel['id']} are not clean at {moment}")


def check_help(name, step, op, plan):
    """One other cook from the start, for all of it or as long as is said; nobody where nobody is asked for."""
    by = [o for o in plan["op"] if o["kind"] == "help" and o["key"] == op["key"] + "/help"]
    check(name, len(by) == ("help" in step), f"{op['key']}: {len(by)} help")
    for o in by:
        check(name, o["person"] is not None and o["person"] != op["person"], f"{o['key']} is by the same cook")
        lasts = 60 if "time" in step.get("help", {}) else op["to"]["t"] - op["from"]["t"]
        check(name, o["from"] == op["from"] and o["to"]["t"] - o["from"]["t"] == lasts,
              f"{o['key']} is not while it is done")
        check(name, o["serves"] == op["serves"], f"{o['key']} is for other containers")


def check_way(name, container, way, done):
    """What is for what is cooked ahead: all of it, after that and in order, or nothing."""
    taken = [s["id"] for s in way if s["id"] in done]
    check(name, taken in ([], [s["id"] for s in way]),
          f"{container['code']}: {taken} is done of what is for what is cooked ahead")
    for before, step in zip([s["ahead"] for s in way[:1]] + taken, taken):
        check(name, before in done and done[before]["to"]["t"] <= done[step]["from"]["t"],
              f"{container['code']}: {step} does not come after {before}")


def check_steps(name, show, plan):
    """Keys of operations end in .../STEP for the work itself; texts tell the rest."""
    recipes = {r["title"]: r for r in show["recipes"]}
    for c, container in enumerate(plan["container"]):
        dish = plan["dish"][container["dish"]]
        steps = recipes[dish["recipe"]]["steps"]
        done = {}
        for op in plan["op"]:
            if c in op["serves"] and op["kind"] in ("active", "passive", "oven"):
                done[op["key"].rsplit("/", 1)[-1].split("+")[0]] = op
        way = [s for s in steps if "ahead" in s]
        steps = [s for s in steps if "ahead" not in s]
        check_way(name, container, way, done)
        for i, step in enumerate(steps):
            op = done.get(step["id"])
            if not op:
                continue
            lasts = op["to"]["t"] - op["from"]["t"]
            if op["kind"] == "active":
                check_help(name, step, op, plan)
            least, most = minutes_of(step["time"])
            if op["kind"] != "active":
                each = minutes_of(step.get("together", {}).get("each", "0 min"))[0]
                least += each * (len(op["serves"]) - 1)
                most += each * (len(op["serves"]) - 1)
                check(name, len(op["serves"]) <=
                      step.get("together", {"most": 1}).get("most", 128),
                      f"{container['code']}: {step['id']} serves {len(op['serves'])}")
                check(name, least <= lasts <= (most + 59) // 60 * 60,
                      f"{container['code']}: {step['id']} lasts {lasts} s, not {step['time']}")
            elif "together" not in step:
                check(name, lasts >= least,
                      f"{container['code']}: {step['id']} lasts {lasts} s, less than {step['time']}")
            for before in step.get("after", [steps[i - 1]["id"]] if i else []):
                check(name, before in done and done[before]["to"]["t"] <= op["from"]["t"],
                      f"{container['code']}: {step['id']} does not come after {before}")
        if container["stage"] == "finished":
            check(name, len([s for s in steps if s["id"] in done]) == len(steps),
                  f"{container['code']} is finished with {len(done)} of {len(steps)} steps")
        check(name, container["on_set"]["t"] <= container["set_by"]["t"]
              if plan["verdict"] == "planned" else True,
              f"{container['code']} is late in a plan that is not")


def check_dress(name, show, plan):
    """What is later in the order of dressing is carried when all before it stands there."""
    orders = {s["id"]: s.get("dress", []) for s in show["segments"]}
    carried = [(plan["container"][op["serves"][0]], op) for op in plan["op"] if op["kind"] == "carry"]
    for box, op in carried:
        order = orders[plan["air"][box["air"]]["id"].split("/")[0]]
        turn = {d: i for i, d in enumerate(order)}
        for other, first in carried:
            if order and other["air"] == box["air"] and box["role"] != "tease" != other["role"]:
                mine, before = (turn.get(plan["dish"][c["dish"]]["id"], len(order))
                                for c in (box, other))
                check(name, before >= mine or first["to"]["t"] <= op["from"]["t"],
                      f"{box['code']} is carried before {other['code']} stands on the set")


def check_float(name, show, plan):
    """Everything is there until the slot of the latest hit is over."""
    floats = {s["id"]: int(s.get("float", "0 min")[:-4]) * 60 for s in show["segments"]}
    for a, air in enumerate(plan["air"]):
        late = floats[air["id"].split("/")[0]]
        end = air["hit"]["t"] + air["slot"] + late
        for op in plan["op"]:
            if op["air"] == a and op["kind"] == "stand by":
                check(name, op["to"]["t"] >= end, f"{op['key']} ends before the latest hit's slot")
            if op["air"] == a and op["kind"] == "reset":
                check(name, op["from"]["t"] >= end, f"{op['key']} starts while it may be on air")
        beats = [plan["beat"][b] for b in air["beats"]]
        for c, container in enumerate(plan["container"]):
            on = [b["from"]["t"] + b["length"] for b in beats if c in b["on"]]
            if on and container["air"] == a:
                check(name, container["last"]["t"] == max(on) + late,
                      f"{container['code']} is not kept until the latest hit has shown it")
                check(name, plan["verdict"] != "planned" or not container["best_by"] or
                      container["last"]["t"] <= container["best_by"]["t"],
                      f"{container['code']} is past its best at the latest hit")
        check(name, plan["verdict"] != "planned" or not air["hit_to"] or
              air["hit"]["t"] + late <= air["hit_to"]["t"],
              f"{air['id']} may not come as late as it may")


def main(program, first, last):
    with tempfile.TemporaryDirectory() as folder:
        os.chdir(folder)
        verdicts = {}
        for seed in range(first, last + 1):
            show = a_show(seed)
            with open("show.json", "w", encoding="utf-8") as f:
                json.dump(show, f, indent=1)
            name = f"{seed}"
            run = subprocess.run([program, "plan", "show.json", "-o", name, "--only", "json"],
                                 capture_output=True, text=True, check=False)
            check(name, run.returncode in (0, 3, 5), f"exit status {run.returncode}\n{run.stderr}")
            verdicts[run.returncode] = verdicts.get(run.returncode, 0) + 1
            if run.returncode == 3:
                check(name, run.stderr.startswith("show.json:"), f"no place is named: {run.stderr}")
            if not os.path.exists(f"{name}/plan.json"):
                check(name, run.returncode != 0, "no plan.json")
                continue
            with open(f"{name}/plan.json", encoding="utf-8") as f:
                plan = json.load(f)
            check_people(name, show, plan)
            check_shares(name, show, plan)
            check_things(name, show, plan)
            check_places(name, show, plan)
            check_heat(name, show, plan)
            check_pots(name, show, plan)
            check_steps(name, show, plan)
            check_float(name, show, plan)
            check_dress(name, show, plan)
        check("all", verdicts.get(0, 0) * 2 > last - first, f"few could be planned: {verdicts}")


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]), int(sys.argv[3]))
    print(f"{passed} passed, {failed} failed")
    sys.exit(1 if failed else 0)
