# tests/outside/promises.py PROGRAM SOURCE [rewrite] - what DEVELOPERS.md, "Promises", says stays as it is.
#
# tests/promises holds what was promised, one a line: members and words of show files, limits files and plan.json,
# columns of the pull list, commands, options, outputs and exit statuses. A line that the program no longer has is
# a promise that is broken; what is new may be added (make promises). Nothing may come to be required in a show or
# limits file, or a file that was accepted no longer is. And each kind of file of a newer version is refused as such.
import glob
import json
import os
import re
import shutil
import subprocess
import sys
import tempfile

program, source = (os.path.abspath(a) for a in sys.argv[1:3])
passed = failed = 0


def check(good, name, what=""):
    global passed, failed
    passed += bool(good)
    failed += not good
    if not good:
        print(f"FAILED: {name}: {what}")


def run(*args):
    return subprocess.run([program, *args], capture_output=True, text=True, stdin=subprocess.DEVNULL)


def members(schema):
    """What a schema lets in: each member with its types and its words, and what it asks for."""
    out, defs = set(), schema.get("$defs", {})

    def walk(s, path, within, sure):
        while isinstance(s, dict) and "$ref" in s:
            name = s["$ref"].rsplit("/", 1)[-1]
            if name in within:
                return
            s, within = {**defs[name], **{k: v for k, v in s.items() if k != "$ref"}}, within | {name}
        if not isinstance(s, dict):
            return
        types = s.get("type", [])
        out.update(f"{path} is {t}" for t in ([types] if isinstance(types, str) else types))
        out.update(f"{path} = {json.dumps(v)}" for v in s.get("enum", []) + ([s["const"]] if "const" in s else []))
        if sure:
            out.update(f"{path}.{m} is required" for m in s.get("required", []))
        for name, one in s.get("properties", {}).items():
            walk(one, f"{path}.{name}", within, sure)
        for key, to in (("items", "[]"), ("additionalProperties", ".*")):
            walk(s.get(key), path + to, within, sure)
        for one in s.get("oneOf", []) + s.get("anyOf", []):
            walk(one, path, within, False)
        for one in s.get("allOf", []):
            walk(one, path, within, sure)

    walk(schema, "", frozenset(), True)
    return out


def command_line():
    whole = run("--help").stdout
    commands = re.findall(r"^  ([a-z]+) ", whole.split("Commands:")[1].split("\n\n")[0], re.M)
    out = {f"command {c}" for c in commands}
    out |= {f"exit status {n}" for n in re.findall(r"^  (\d)  ", whole.split("Exit status:")[1], re.M)}
    for c in commands:
        text = run("help", c).stdout
        for short, option in re.findall(r"^  (?:(-\w), |    )(--[a-z-]+(?: [A-Z]+)?)", text, re.M):
            out |= {f"{c} {option}"} | ({f"{c} {short}"} if short else set())
    out |= {f"output {name} in {file}" for name, file in
            re.findall(r"^  ([a-z-]+) \(([a-z-]+\.[a-z]+)\)$", run("help", "plan").stdout, re.M)}
    return out


def now():
    with open(f"{source}/src/out/plan.schema.json", encoding="utf-8") as f:
        plan = members(json.load(f))
    run("plan", f"{source}/shows/harbour-breakfast.json", "-q", "-o", "p", "--only", "pull-csv")
    with open("p/pull-list.csv", encoding="utf-8") as f:
        columns = {f"column {n}: {word}" for n, word in enumerate(f.readline().strip("\r\n").split(","), 1)}
    sets = set()  # no schema says what a file of limits holds: what the built-in ones use
    for path in glob.glob(f"{source}/src/model/limits/*.json"):
        with open(path, encoding="utf-8") as f:
            one = json.load(f)
        sets |= set(one) | {f"rows[].{m}" for row in one["rows"] for m in row} | {f'limit "{row["limit"]}"' for row in one["rows"]}
        sets.add(f'set "{one["id"]}"')
    return {"show": members(json.loads(run("schema").stdout)), "limits": sets, "plan": plan, "pull-list": columns,
            "command-line": command_line()}


def kept():
    """Each line of tests/promises is still so."""
    for name, there in now().items():
        path = f"{source}/tests/promises/{name}.txt"
        if sys.argv[3:] == ["rewrite"]:
            with open(path, "w", encoding="utf-8") as f:
                f.writelines(line + "\n" for line in sorted(there))
            continue
        with open(path, encoding="utf-8") as f:
            promised = set(f.read().splitlines())
        check(len(promised) > 5, name, "next to nothing is promised")
        for line in sorted(promised):
            # What need not be there any more breaks nobody's show; what a reader of the plan counts on does.
            check(line in there or (name == "show" and line.endswith(" is required")), name, f"gone: {line}")
        if name == "show":
            olds = {line.split(" is ")[0] for line in promised}
            for line in sorted(there - promised):
                within = re.sub(r"\.[^.]*$", "", line.split(" is required")[0])
                check(not line.endswith(" is required") or within not in olds, name, f"newly asked for: {line}")
        if there - promised:
            print(f"{name}: {len(there - promised)} lines are new since (make promises)")


def newer():
    """A file of a newer version is told apart from a wrong one, and nothing is written."""
    with open(f"{source}/shows/cottage-remote.json", encoding="utf-8") as f:
        show = json.load(f)
    limits = {"backpot_limits": 1, "id": "town", "title": "By-law 12", "base": "us-food-code",
              "rows": [{"limit": "hold hot", "celsius": "60 C", "fahrenheit": "140 F", "rule": "12(1)", "source": "here"}]}

    def put(name, value):
        with open(name, "w", encoding="utf-8") as f:
            json.dump(value, f)
            f.write("\n")

    def refused(name, status, words, *args):
        before = {f: os.stat(f).st_mtime_ns for f in glob.glob("**", recursive=True)}
        r = run(*args)
        check(r.returncode == status, name, f"status {r.returncode}, not {status}: {r.stderr}")
        check(words in r.stderr and not r.stdout, name, f"does not say {words!r}: {r.stderr} {r.stdout}")
        check({f: os.stat(f).st_mtime_ns for f in glob.glob("**", recursive=True)} == before, name, "a file was written")

    put("s.json", show)
    check(run("check", "s.json").returncode == 0, "show 1", "is not read")
    put("new.json", {**show, "backpot": 2})
    for command in (["check"], ["plan", "-o", "d"], ["lengths"], ["draft"], ["mend", "-o", "d"], ["after"]):
        more = {"mend": ["07:10 A1 burnt"], "after": ["x.log"]}.get(command[0], [])
        refused(f"{command[0]} of show 2", 2, "newer than this program", command[0], "new.json", *command[1:], *more)
    for version in (0, -1, 1.5, "1", None):
        put("new.json", {**show, "backpot": version})
        refused(f"show {version!r}", 2, "new.json:1:", "check", "new.json")
    put("l.json", limits)
    put("with.json", {**show, "safety": {"limits": "l.json"}})
    check(run("check", "with.json").returncode == 0, "limits 1", run("check", "with.json").stderr)
    put("l.json", {**limits, "backpot_limits": 2})
    refused("limits 2", 2, "newer than this program", "plan", "with.json", "-o", "d")
    check(run("plan", "s.json", "-q", "-o", "p", "--only", "json,calendar").returncode == 0, "the plan", "there is none")
    with open("p/plan.json", encoding="utf-8") as f:
        p = json.load(f)
    check(p["format"] == 1, "plan.json", p["format"])
    head = {"backpot": "log", "format": 1, "show": p["show_id"], "stamp": p["stamp"], "rehearsal": False}
    put("day.log", head)
    check(run("after", "s.json", "day.log").returncode == 0, "log 1", run("after", "s.json", "day.log").stderr)
    put("day.log", {**head, "format": 2})
    for args in (["after", "s.json", "day.log"], ["after", "s.json", "day.log", "--learn"],
                 ["mend", "s.json", "--log", "day.log", "-o", "d", "07:10 behind"]):
        refused(f"{args[0]} of log 2", 2, "newer", *args)
    for name in glob.glob("p/*.ics"):
        with open(name, encoding="utf-8", newline="") as f:
            old = f.read()
        check("//prep calendar 1//" in old, name, "has no version")
        with open(name, "w", encoding="utf-8", newline="") as f:
            f.write(old.replace("//prep calendar 1//", "//prep calendar 2//"))
    refused("calendar 2", 1, "another version of backpot", "plan", "s.json", "-q", "-o", "p")
    shutil.rmtree("p")


with tempfile.TemporaryDirectory() as work:
    os.chdir(work)
    kept()
    if not sys.argv[3:]:
        newer()
    os.chdir("/")
print(f"{passed} passed, {failed} failed")
sys.exit(1 if failed else 0)
