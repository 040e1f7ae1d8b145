# tests/scripts/schema.py SCHEMA TREE - see schema.sh.
import json
import pathlib
import sys

import jsonschema

import tally
from tally import check

schema = json.loads(pathlib.Path(sys.argv[1]).read_text(encoding="utf-8"))
tree = pathlib.Path(sys.argv[2])
jsonschema.Draft202012Validator.check_schema(schema)
validator = jsonschema.Draft202012Validator(schema)


def described(node, path):
    """Every member of every object says what it is, itself or by what it refers to."""
    if isinstance(node, dict):
        if node.get("type") == "object":
            check(f"{path} lets unknown members through", node.get("additionalProperties") is False)
            for name, member in node["properties"].items():
                check(f"{path}/{name} is not described", "description" in member or "$ref" in member)
        for name, inner in node.items():
            described(inner, f"{path}/{name}")
    elif isinstance(node, list):
        for i, inner in enumerate(node):
            described(inner, f"{path}/{i}")


described(schema, "")

shows = sorted(tree.glob("shows/*.json"))
check("there are shipped shows", len(shows) >= 4)
for show in shows:
    check(f"{show.name} is refused", validator.is_valid(json.loads(show.read_text("utf-8"))))

recipes = sorted(tree.glob("shows/recipes/*.json"))
check("a shipped show names a recipe by its path", recipes)
alone = jsonschema.Draft202012Validator({**schema, "$ref": "#/$defs/recipe", "type": "object",
                                         "required": [], "properties": {},
                                         "additionalProperties": True})
for recipe in recipes:
    check(f"{recipe.name} is refused", alone.is_valid(json.loads(recipe.read_text("utf-8"))))
    check("a recipe without steps is let through", not alone.is_valid({"id": "a", "title": "A"}))

base = (tree / "tests/model/base.json").read_text("utf-8")
check("base.json is refused", validator.is_valid(json.loads(base)))
blocks = (tree / "tests/model/mistakes.txt").read_text("utf-8").split("\n\n")[1:]
check("the table has rows", len(blocks) >= 120)
for block in blocks:
    name, by, old, new = block.split("\n")[:4]
    old, new = (line[2:].replace("\\n", "\n") for line in (old, new))
    check(f"{name}: base.json does not hold {old}", old in base)
    text = base.replace(old, new, 1)
    accepted = validator.is_valid(json.loads(text))
    want = {"by both": False, "by reader": True, "by good": True}[by]
    check(f"{name}: accepted is {accepted}, the table says {want}", accepted == want)

tally.end()
