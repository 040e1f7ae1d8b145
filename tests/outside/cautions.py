# tests/outside/cautions.py PROGRAM SHOW... - each hazard that a show names has its caution beside the step,
# wherever that is done: on the prep sheet for the cook, on the cue sheet for who does it on air.
#
# The words of a caution are common practice, no source; here only its first words are asked for.
import json
import os
import re
import subprocess
import sys
import tempfile

program = os.path.abspath(sys.argv[1])
FIRST = {"hot oil": "Hot oil:", "open flame": "Open flame:", "hot liquid in blender": "Hot liquid in a blender:",
         "knife": "Knife:", "raw poultry": "Raw poultry:", "raw meat": "Raw meat:", "alcohol": "Spirit:",
         "steam": "Steam:", "hot sugar": "Hot sugar:"}
passed = failed = 0


def check(name, good, what):
    global passed, failed
    passed += bool(good)
    failed += not good
    if not good:
        print(f"{name}: {what}")


def text_of(pdf):
    text = subprocess.run(["pdftotext", "-layout", pdf, "-"], capture_output=True, text=True,
                          check=True).stdout
    return text


def hold(name, show, plan):
    recipes = {r["id"]: r for r in show["recipes"]}
    titles = {r["title"]: r for r in show["recipes"]}
    asked = {"prep": {}, "cue": {}}
    for op in plan["op"]:
        if op["kind"] != "active":
            continue
        dish = plan["dish"][op["dish"]]
        step = next(s for s in titles[dish["recipe"]]["steps"]
                    if s["id"] == op["key"].rsplit("/", 1)[-1].split("+")[0])
        for hazard in step.get("hazards", []):
            check(name, FIRST[hazard] in op["caution"], f"{op['key']} does not warn of {hazard}")
            asked["prep"][hazard] = asked["prep"].get(hazard, 0) + 1
        check(name, bool(op["caution"]) == bool(step.get("hazards")), f"{op['key']} warns of nothing")
    for segment in show["segments"]:
        airs = [a for a in plan["air"] if a["id"].split("/")[0] == segment["id"]]
        dishes = {d["id"]: recipes[d["recipe"]] for d in segment["dishes"]}
        for air in airs:
            beats = [plan["beat"][i] for i in air["beats"]]
            for beat in beats:
                own = next((b for b in segment.get("beats", []) if b["id"] == beat["id"]), None)
                if not own:
                    continue
                hazards = {h for s in dishes.get(own.get("dish"), {"steps": []})["steps"]
                           if s["id"] in own.get("does", []) for h in s.get("hazards", [])}
                for hazard in hazards:
                    check(name, FIRST[hazard] in beat["caution"],
                          f"beat {beat['id']} does not warn of {hazard}")
                    if not beat["dropped"]:
                        asked["cue"][hazard] = asked["cue"].get(hazard, 0) + 1
                check(name, bool(beat["caution"]) == bool(hazards), f"beat {beat['id']} warns of nothing")
    for sheet, wanted in asked.items():
        text = text_of(f"{name}/{sheet}-sheet.pdf")
        for hazard, n in wanted.items():
            begins = re.escape("CAUTION: " + FIRST[hazard]).replace("\\ ", r"\s+")
            found = len(re.findall(begins, text))
            check(name, found >= n, f"{sheet} sheet: {hazard} stands {found} times, and is met {n} times")
    return sum(asked["cue"].values())


with tempfile.TemporaryDirectory() as folder:
    paths = [os.path.abspath(p) for p in sys.argv[2:]]
    os.chdir(folder)
    on_air = 0
    for path in paths:
        with open(path, encoding="utf-8") as file:
            show = json.load(file)
        name = os.path.basename(path).removesuffix(".json")
        for i, recipe in enumerate(show["recipes"]):
            if isinstance(recipe, str):
                with open(os.path.join(os.path.dirname(path), recipe), encoding="utf-8") as file:
                    show["recipes"][i] = json.load(file)
        done = subprocess.run([program, "plan", path, "-o", name], capture_output=True, text=True,
                              check=False)
        check(name, done.returncode == 0, f"exit status {done.returncode}: {done.stderr}")
        with open(f"{name}/plan.json", encoding="utf-8") as file:
            on_air += hold(name, show, json.load(file))
    # All of them at once, so that none of the nine is left out.
    with open(paths[0], encoding="utf-8") as file:
        show = json.load(file)
    for recipe in show["recipes"]:
        for step in recipe["steps"]:
            step["hazards"] = list(FIRST)
    with open("all.json", "w", encoding="utf-8") as file:
        json.dump(show, file)
    subprocess.run([program, "plan", "all.json", "-o", "all"], capture_output=True, check=True)
    with open("all/plan.json", encoding="utf-8") as file:
        on_air += hold("all", show, json.load(file))
    check("all", on_air > 20, f"only {on_air} cautions on air")

print(f"{passed} passed, {failed} failed")
sys.exit(1 if failed else 0)
