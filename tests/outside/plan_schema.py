"""plan.json against its schema, and the schema against plans broken in one way at a time.

    plan_schema.py SCHEMA PLAN
"""

import copy
import datetime
import json
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
        plan = json.load(file)
    jsonschema.Draft202012Validator.check_schema(schema)
    validator = jsonschema.Draft202012Validator(schema)
    passed = failed = 0

    def note(good, what):
        nonlocal passed, failed
        passed += good
        failed += not good
        if not good:
            print("failed:", what)

    for error in validator.iter_errors(plan):
        note(False, f"{list(error.absolute_path)}: {error.message[:200]}")
    note(len(plan["op"]) > 0, "a plan with operations")
    for where, part in paths(schema):
        closed = part.get("additionalProperties") is False
        note(closed and set(part["required"]) == set(part["properties"]), f"{where} is open")
    for name, change in BROKEN:
        broken = copy.deepcopy(plan)
        change(broken)
        note(not validator.is_valid(broken), f"the schema lets pass: {name}")
    count = 0
    for moment in moments(plan):  # both forms are the same instant
        count += 1
        local = datetime.datetime.fromisoformat(moment["local"]).timestamp()
        note(local == plan["midnight"] + moment["t"], f"{moment} is two instants")
    note(count > 100, "moments to compare")
    print(f"{passed} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
