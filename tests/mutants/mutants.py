# tests/mutants/mutants.py SOURCE FIRST LAST|short - do the tests notice when one token of the core is another?
#
# A fixed seed draws mutants FIRST to LAST (from 1) of the core layers: in each one operator, number or
# word of one file is exchanged. The file is compiled and linked before the library of the tests, and
# the suites of its layer run, that of the file first, until one fails or hangs: then the mutant is
# killed. One that does not compile, or compiles to the same bytes, is passed over and does not count.
#
# `short` tries those that tests/mutants/short.txt names: of each layer, all to be killed.
#
# Standard output tells of each survivor and of the share killed. Exit status 1: more survived than
# tests/mutants/known.txt explains. `make mutants` runs it; JOBS at once (the processors).
import concurrent.futures
import json
import os
import random
import re
import resource
import subprocess
import sys
import tempfile

source, first, last = os.path.abspath(sys.argv[1]), int(sys.argv[2]), sys.argv[3]
SEED = 20261203
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


def draw(n):
    """The first n mutants: the same for every n."""
    r = random.Random(SEED)
    layers = [layer for layer, share in SHARES.items() for _ in range(share)]
    places = {layer: [(f"src/{layer}/{f}", s) for f in sorted(os.listdir(f"{source}/src/{layer}")) if f.endswith(".c")
                      for s in sites(read(f"src/{layer}/{f}"))] for layer in SHARES}
    for layer in places.values():
        r.shuffle(layer)
    out = []
    while len(out) < n:
        order = layers[:]
        r.shuffle(order)
        out += [(layer, *places[layer].pop()) for layer in order]
    return out[:n]


def named(text, path, start, end, new):
    """How a mutant is called: the line number moves with every change, the rest stays."""
    here, there = text.rfind("\n", 0, start) + 1, text.find("\n", end)
    return f"{path}: {text[here:start].lstrip()}[[{text[start:end]} -> {new}]]{text[end:there]}"


def short():
    """Those of short.txt whose line is still in the source."""
    for name in listed("short.txt"):
        path = name.split(":")[0]
        text = read(path) if os.path.exists(f"{source}/{path}") else ""
        found = [s for s in sites(text) if named(text, path, *s) == name]
        if found:
            yield path.split("/")[1], path, found[0]
        else:
            print(f"no longer in the source: {name}")


def listed(file):
    return [line for line in read(f"tests/mutants/{file}").splitlines() if line and line[0] not in "# "]


def read(path):
    with open(f"{source}/{path}", encoding="utf-8") as f:
        return f.read()


def make(*args):
    return subprocess.run(["make", "-s", "--no-print-directory", "-C", source, *args], check=True, capture_output=True,
                          text=True).stdout.strip()


def try_one(number, mutant):
    layer, path, (start, end, new) = mutant
    text = read(path)
    line = text.count("\n", 0, start) + 1
    changed = text[:start] + new + text[end:]
    what = named(text, f"{path}:{line}", start, end, new)
    with tempfile.TemporaryDirectory() as work:
        objects = []
        for body, name in ((text, "old"), (changed, "new")):
            os.makedirs(f"{work}/{name}")
            with open(f"{work}/{name}/m.c", "w", encoding="utf-8") as f:
                f.write(body)
            r = subprocess.run(f"{COMPILE} -g0 -w -fno-diagnostics-color -I{source}/src/{layer} -c -o {work}/{name}.o m.c",
                               shell=True, cwd=f"{work}/{name}", capture_output=True)
            if r.returncode:
                return number, "passed over", what
            with open(f"{work}/{name}.o", "rb") as f:
                objects.append(f.read())
        if objects[0] == objects[1]:
            return number, "passed over", what
        r = subprocess.run(f"{LINK.replace('OBJECT', f'{work}/new.o').replace('PROGRAM', f'{work}/tests')}", shell=True,
                           cwd=source, capture_output=True, text=True)
        if r.returncode:
            return number, "passed over", what + " " + r.stderr[-300:]
        own = os.path.basename(path)[:-2]
        suites = sorted((s for s in SUITES if s.startswith(layer + "_")), key=lambda s: (own not in s, s))
        for suite in suites:
            try:
                r = subprocess.run([f"{work}/tests", suite], cwd=source, capture_output=True, timeout=40 * TIMEOUT,
                                   preexec_fn=bounded, env={**os.environ, "CK_DEFAULT_TIMEOUT": str(20 * TIMEOUT),
                                                            "CK_FORK": "yes"})
            except subprocess.TimeoutExpired:
                return number, "killed", what
            if r.returncode:
                return number, "killed", what
    return number, "survived", what


# Seconds of processor time for one test: a busy machine kills no mutant.
TIMEOUT = int(os.environ.get("MUTANT_TIMEOUT", "60"))


def bounded():
    resource.setrlimit(resource.RLIMIT_CPU, (TIMEOUT, TIMEOUT))


COMPILE = make("mutants-compile")
LINK = make("mutants-link")
SUITES = make("mutants-suites").split()
known = set(listed("known.txt"))
mutants = list(short()) if last == "short" else draw(int(last))
counts = {"killed": 0, "survived": 0, "passed over": 0}
left = 0
jobs = int(os.environ.get("JOBS") or os.cpu_count() or 2)
with concurrent.futures.ThreadPoolExecutor(jobs) as pool:
    work = [pool.submit(try_one, i + 1, m) for i, m in enumerate(mutants) if i + 1 >= first]
    for done in concurrent.futures.as_completed(work):
        number, end, what = done.result()
        counts[end] += 1
        # The line number moves with every change; the rest is the mutant's name.
        name = re.sub(r":\d+:", ":", what, count=1)
        answered = end == "survived" and name in known
        left += end == "survived" and not answered
        print(f"{number} {end}{' (answered)' if answered else ''}: {what}", flush=True)
tried = counts["killed"] + counts["survived"]
print(json.dumps(counts))
print(f"{counts['killed']} of {tried} mutants killed, {100 * counts['killed'] / max(tried, 1):.1f} %; "
      f"{left} survivors are not answered")
sys.exit(1 if left or not tried else 0)
