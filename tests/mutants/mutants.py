# tests/mutants/mutants.py SOURCE N|short - do the tests notice when one token of the core is another?
#
# Tries N mutants of the core layers: in each one operator, number or word of one file is exchanged. The file
# is compiled and linked before the library of the tests, and suites run until one fails or hangs: those of
# its layer, that of the file first, then those of the layers above (NEAR=1: not these). The mutant is then
# killed, if that suite passes without it. One that does not compile, or compiles to the same bytes, does not
# count.
#
# The mutants are those of tests/mutants/set.txt, once drawn by a seed. Where a line of it is no longer in the
# source, or N is more, others are drawn: each token has a rank by a digest of its name, so that a change of
# the source changes few of them. `short` tries the first two of each layer that stand neither in known.txt nor
# in open.txt; the tests must kill all.
#
# Standard output tells of each survivor and of the share killed. Exit status 1: more survived than
# tests/mutants/known.txt explains, or a layer had none to try. `make mutants` runs it; JOBS at once (the
# processors). ONLY=FILE tries those that FILE names; KNOWN=skip takes those of known.txt for survivors.
import collections
import concurrent.futures
import hashlib
import json
import os
import re
import resource
import subprocess
import sys
import tempfile
import time

source, count = os.path.abspath(sys.argv[1]), sys.argv[2]
SEED = "20261203"
# Mutants of each layer in every hundred, near the share of lines.
SHARES = {"engine": 40, "live": 25, "safety": 22, "goods": 13}
SWAPS = {"<": "<=", "<=": "<", ">": ">=", ">=": ">", "==": "!=", "!=": "==", "&&": "||", "||": "&&", "+": "-",
         "-": "+", "*": "+", "/": "*", "%": "/", "+=": "-=", "-=": "+=", "++": "--", "--": "++", "|=": "&=",
         "&=": "|=", "<<": ">>", ">>": "<<", "true": "false", "false": "true", "0": "1", "1": "2", "break": "continue",
         "continue": "break", "!": "", "UINT32_MAX": "0", "INT64_MAX": "0", "INT64_MIN": "0"}
TOKEN = re.compile(r'"(?:\\.|[^"\\\n])*"|\'(?:\\.|[^\'\\\n])+\'|/\*.*?\*/|^[ \t]*#(?:\\\n|[^\n])*'
                   r"|[A-Za-z_]\w*|\d[\w.]*|<<=|>>=|->|[-+*/%&|^<>=!]=|\+\+|--|&&|\|\||<<|>>|.", re.S | re.M)


def sites(text):
    """Where a token may be exchanged: inside functions only, so that types and tables stay."""
    depth, found = 0, []
    for m in TOKEN.finditer(text):
        t = m.group()
        depth += (t == "{") - (t == "}")
        if depth > 0 and t in SWAPS:
            before, after = text[:m.start()].rstrip()[-1:], text[m.end():].lstrip()[:1]
            # A sign, a pointer, an address: no operator between two values.
            if t in "+-*" and (len(t) > 1 or not (before.isalnum() or before in "_)]") or after in "*)];,"):
                if len(t) == 1:
                    continue
            if t == "*" and re.search(r"(?:\b(?:char|void|const|int|struct \w+|bpi?_\w+|\w+_t)|^\s*\w+)\s*$",
                                      text[max(0, m.start() - 60):m.start()].rsplit("\n", 1)[-1]):
                continue
            found.append((m.start(), m.end(), SWAPS[t]))
    return found


def named(text, path):
    """What each mutant of a file is called: its line with the change in brackets, so that no other change
    moves it; those that read alike are numbered."""
    alike, out = collections.Counter(), {}
    for start, end, new in sites(text):
        here, there = text.rfind("\n", 0, start) + 1, text.find("\n", end)
        line = f"{text[here:start].lstrip()}[[{text[start:end]} -> {new}]]{text[end:there]}"
        alike[line] += 1
        out[f"{path}{'#%d' % alike[line] if alike[line] > 1 else ''}: {line}"] = start, end, new
    return out


def all_mutants():
    """Of each layer: name, file, place and change, by rank."""
    out = {}
    for layer in SHARES:
        files = [f"src/{layer}/{f}" for f in sorted(os.listdir(f"{source}/src/{layer}")) if f.endswith(".c")]
        places = [(layer, path, name, site) for path in files for name, site in named(read(path), path).items()]
        places.sort(key=lambda m: hashlib.sha256((SEED + m[2]).encode()).digest())
        out[layer] = {m[2]: m for m in places}
    return out


def draw(n):
    """n mutants, each layer by its share: those of set.txt that are still in the source, then others by rank."""
    layers, of_set = all_mutants(), listed("set.txt")
    left = {layer: n * share // 100 for layer, share in SHARES.items()}
    left["engine"] += n - sum(left.values())
    out = []
    for name in of_set:
        layer = name.split("/")[1]
        if name not in layers.get(layer, {}):
            print(f"no longer in the source: {name}")
        elif left[layer]:
            out.append(layers[layer].pop(name))
            left[layer] -= 1
    for layer, more in left.items():
        for m in list(layers[layer].values())[:more]:
            print(f"drawn anew: {m[2]}")
            out.append(m)
    return out


def short():
    drawn = [m for m in draw(240) if m[2] not in known and m[2] not in set(listed("open.txt"))]
    return [m for layer in SHARES for m in [m for m in drawn if m[0] == layer][:2]]


def listed(file):
    return [line for line in read(f"tests/mutants/{file}").splitlines() if line and line[0] not in "# "]


def read(path):
    with open(f"{source}/{path}", encoding="utf-8") as f:
        return f.read()


def make(*args):
    return subprocess.run(["make", "-s", "--no-print-directory", "-C", source, *args], check=True, capture_output=True,
                          text=True).stdout.strip()


def run(program, suite):
    """Whether the suite passes."""
    start = time.monotonic()
    try:
        r = subprocess.run([program, suite], cwd=source, capture_output=True, timeout=40 * TIMEOUT, preexec_fn=bounded,
                           env={**os.environ, "CK_DEFAULT_TIMEOUT": str(20 * TIMEOUT), "CK_FORK": "yes"})
    except subprocess.TimeoutExpired:
        return False
    if not r.returncode:
        seconds[suite] = time.monotonic() - start
    return r.returncode == 0


def passes_without(suite):
    if suite not in sound:
        sound[suite] = run(TESTS, suite)
        if not sound[suite]:
            print(f"{suite} fails without a mutant: it kills none", flush=True)
    return sound[suite]


def try_one(number, mutant):
    layer, path, name, (start, end, new) = mutant
    text = read(path)
    if name in known and os.environ.get("KNOWN") == "skip":
        return number, name, "survived", name
    what = name.replace(":", f":{text.count(chr(10), 0, start) + 1}:", 1)
    with tempfile.TemporaryDirectory() as work:
        objects = []
        for body, of in ((text, "old"), (text[:start] + new + text[end:], "new")):
            os.makedirs(f"{work}/{of}")
            with open(f"{work}/{of}/m.c", "w", encoding="utf-8") as f:
                f.write(body)
            r = subprocess.run(f"{COMPILE} -g0 -w -fno-diagnostics-color -I{source}/src/{layer} -c -o {work}/{of}.o m.c",
                               shell=True, cwd=f"{work}/{of}", capture_output=True)
            if r.returncode:
                return number, name, "passed over", what
            with open(f"{work}/{of}.o", "rb") as f:
                objects.append(f.read())
        if objects[0] == objects[1]:
            return number, name, "passed over", what
        r = subprocess.run(f"{LINK.replace('OBJECT', f'{work}/new.o').replace('PROGRAM', f'{work}/tests')}", shell=True,
                           cwd=source, capture_output=True, text=True)
        if r.returncode:
            return number, name, "passed over", what + " " + r.stderr[-300:]
        own = os.path.basename(path)[:-2]
        near = sorted((s for s in SUITES if s.startswith(layer + "_")),
                      key=lambda s: (s.split("_", 1)[1] != own, seconds.get(s, 1), s))
        above = sorted((s for s in SUITES if s.split("_")[0] in ABOVE), key=lambda s: (seconds.get(s, 1), s))
        for suite in near + (above if not os.environ.get("NEAR") and name not in known else []):
            if not run(f"{work}/tests", suite) and passes_without(suite):
                return number, name, "killed", f"{what}  by {suite}"
    return number, name, "survived", what


# Layers whose tests see the core's mistakes too.
ABOVE = ("prep", "plan", "day", "out")
# Seconds of processor time for one suite: a busy machine kills no mutant.
TIMEOUT = int(os.environ.get("MUTANT_TIMEOUT", "120"))


def bounded():
    resource.setrlimit(resource.RLIMIT_CPU, (TIMEOUT, TIMEOUT))


COMPILE = make("mutants-compile")
LINK = make("mutants-link")
TESTS = f"{source}/{make('mutants-tests')}"
SUITES = make("mutants-suites").split()
seconds, sound = {}, {}
known = set(listed("known.txt"))
mutants = short() if count == "short" else draw(int(count))
if os.environ.get("ONLY"):
    with open(os.environ["ONLY"], encoding="utf-8") as f:
        only = set(f.read().splitlines())
    mutants = [m for m in mutants if m[2] in only]
elif not all(any(m[0] == layer for m in mutants) for layer in SHARES):
    sys.exit("a layer has no mutant to try")
counts = {"killed": 0, "survived": 0, "passed over": 0}
left = 0
jobs = int(os.environ.get("JOBS") or os.cpu_count() or 2)
with concurrent.futures.ThreadPoolExecutor(jobs) as pool:
    work = [pool.submit(try_one, i + 1, m) for i, m in enumerate(mutants)]
    for done in concurrent.futures.as_completed(work):
        number, name, end, what = done.result()
        counts[end] += 1
        answered = end == "survived" and name in known
        left += end == "survived" and not answered
        print(f"{number} {end}{' (answered)' if answered else ''}: {what}", flush=True)
tried = counts["killed"] + counts["survived"]
print(json.dumps(counts))
print(f"{counts['killed']} of {tried} mutants killed, {100 * counts['killed'] / max(tried, 1):.1f} %; "
      f"{left} survivors are not answered")
sys.exit(1 if left or not tried else 0)
