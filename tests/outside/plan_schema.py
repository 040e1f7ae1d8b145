"""plan.json against its schema, and the schema against plans broken in one way at a time.

    plan_schema.py SCHEMA HEADER PLAN...

HEADER is backpot/plan.h: every member of its structures must be one of plan.json. The first PLAN is
the one that is broken.
"""

import copy
import datetime
import json
import re
import sys

import jsonschema


def paths(schema, where=()):
    """Every object that a schema describes, for: nothing unknown, everything required."""
    if isinstance(schema, dict):
        if schema.get("type") == "object" and "properties" in schema:
            yield where, schema
        for name, inner in schema.items():
            yield from paths(inner, where + (name,))
    elif isinstance(schema, list):
        for i, inner in enumerate(schema):
            yield from paths(inner, where + (i,))


# Members of the structures that plan.json does not carry under their own name, and why.
ELSEWHERE = {
    # storage, whose lists spell out what would be looked up in it; and "mended" is the moment
    "plan": {"own", "index", "mended_at"},
    "chance": {"drivers", "earlies", "buffers"},  # counts of arrays
}


COUNTS = {
    "persons", "stints", "rests", "things", "airs", "beats", "versions", "lines", "claims", "replies",
    "teases", "dishes", "containers", "ops", "circuits", "draws", "goods", "stands", "packs", "findings", "readings", "facts", "fixes", "goals", "indexes",
}  # fmt: skip


def members(header):
    """Name of each structure to the names of its members, counts of arrays left out."""
    header = re.sub(r"/\*.*?\*/", "", header, flags=re.S)
    found = {}
    for body, name in re.findall(r"typedef struct bp_\w+ \{(.*?)\} bp_(\w+);", header, re.S):
        names = set()
        for declaration in body.split(";"):
            declared = re.findall(r"\*?\s*(\w+)\s*(?:,|$)", declaration.strip())
            names |= set(declared)
        found[name] = names
    return found


def check_members(schema, header, note):
    structures = members(header)
    for name in ("person", "stint", "rest", "thing", "air", "beat", "tease", "dish", "container"):
        note(name in structures, f"no structure {name} in the header")
    for name, names in structures.items():
        if name in ("slice", "plan_options"):
            continue
        described = schema if name == "plan" else schema["$defs"].get(name, {})
        properties = set(described.get("properties", {}))
        names = names - ELSEWHERE.get(name, set())
        if name == "plan":  # an array stands under its name, without its count
            names = {n for n in names if n not in COUNTS}
        note(properties == names, f"{name}: {sorted(properties ^ names)}")


def put(*path_and_value):
    *path, last, value = path_and_value

    def change(plan):
        for name in path:
            plan = plan[name]
        plan[last] = value

    return change


def drop(*path):
    *path, last = path

    def change(plan):
        for name in path:
            plan = plan[name]
        del plan[last]

    return change


BROKEN = [
    ("another format", put("format", 2)),
    ("a verdict that is none", put("verdict", "fine")),
    ("no ops", drop("op")),
    ("an unknown member", put("extra", 1)),
    ("an unknown member of an op", put("op", 0, "extra", 1)),
    ("an op without a key", drop("op", 0, "key")),
    ("a kind that is none", put("op", 0, "kind", "bake")),
    ("a moment as a number", put("op", 0, "from", 5)),
    ("no moment where one must be", put("op", 0, "from", None)),
    ("a moment without offset", put("op", 0, "from", "local", "2026-10-25T01:00:00")),
    ("an index below zero", put("op", 0, "person", -1)),
    ("a text as a number", put("title", 5)),
    ("step 64", put("container", 0, "steps", [64])),
    ("size over nothing", put("container", 0, "size_den", 0)),
    ("half a second", put("beat", 0, "length", 1.5)),
    ("a stage that is none", put("container", 0, "stage", "done")),
    ("month 13", put("month", 13)),
    ("a chance without days", put("chance", {"seed": 0})),
]


def moments(value):
    if isinstance(value, dict):
        if set(value) == {"t", "local"}:
            yield value
        for inner in value.values():
            yield from moments(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from moments(inner)


def main():
    with open(sys.argv[1], encoding="utf-8") as file:
        schema = json.load(file)
    with open(sys.argv[2], encoding="utf-8") as file:
        header = file.read()
    plans = []
    for name in sys.argv[3:]:
        with open(name, encoding="utf-8") as file:
            plans.append((name, json.load(file)))
    jsonschema.Draft202012Validator.check_schema(schema)
    validator = jsonschema.Draft202012Validator(schema)
    passed = failed = 0

    def note(good, what):
        nonlocal passed, failed
        passed += good
        failed += not good
        if not good:
            print("failed:", what)

    for path, plan in plans:
        errors = [f"{list(e.absolute_path)}: {e.message[:200]}" for e in validator.iter_errors(plan)]
        note(not errors, f"{path}: {errors[:3]}")
        note(len(plan["op"]) > 0, f"{path}: no operations")
        count = 0
        for moment in moments(plan):  # both forms are the same instant
            count += 1
            local = datetime.datetime.fromisoformat(moment["local"]).timestamp()
            note(local == plan["midnight"] + moment["t"], f"{path}: {moment} is two instants")
        note(count > 100, f"{path}: moments to compare")
    for where, part in paths(schema):
        closed = part.get("additionalProperties") is False
        note(closed and set(part["required"]) == set(part["properties"]), f"{where} is open")
    check_members(schema, header, note)
    for name, change in BROKEN:
        broken = copy.deepcopy(plans[0][1])
        change(broken)
        note(not validator.is_valid(broken), f"the schema lets pass: {name}")
    print(f"{passed} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
