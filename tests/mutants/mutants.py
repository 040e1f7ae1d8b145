# tests/mutants/mutants.py SOURCE N|short - do the tests notice when one token of the core is another?
#
# Tries N mutants of the core layers: in each one operator, number or word of one file is exchanged. Only that file
# is compiled; it is linked before the library of the tests, and before that of the program. Then runs, until
# something fails, what could notice: the suite of the file, the others of its layer, these once more as the
# sanitizers run them (tiny first sizes, one heap block for each request), those of the layers above, and the
# scripts of SCRIPTS. Each of these was first run without a mutant: what fails then kills none, and what
# takes LONG times the processor time of then has hung, which counts as noticed. A mutant that does not compile, or
# compiles to the same bytes, does not count: another of its layer is drawn.
#
# The mutants are those of tests/mutants/set.txt, once drawn by a seed. Where a line of it is no longer in the
# source, or N is more, others are drawn: each token has a rank by a digest of its name, so that a change of
# the source changes few of them. `short` tries the first two of each layer that known.txt does not explain; the
# tests must kill all.
#
# build/mutants.progress has a line for each that was tried. A run goes on from it: what was killed is taken over
# while the mutated file and the test that killed it are the same, what survived while all of the source is.
# FRESH=1 begins anew.
#
# Standard output tells of each survivor and of the share killed. Exit status 1: more survived than
# tests/mutants/known.txt explains, or a layer had none to try. `make mutants` runs it; JOBS at once (the
# processors). NEAR=1: by the suites of their layers alone, a first look. ONLY=FILE tries those that FILE names;
# SEED=WORD draws others than those of set.txt.
import collections
import concurrent.futures
import hashlib
import json
import os
import re
import resource
import signal
import subprocess
import sys
import tempfile
import threading
import time

source, count = os.path.abspath(sys.argv[1]), sys.argv[2]
SEED = os.environ.get("SEED", "20261203")
# Mutants of each layer in every hundred, near the share of lines.
SHARES = {"engine": 40, "live": 25, "safety": 22, "goods": 13}
# Where else a layer's own work is done.
BESIDE = {"safety": ["src/model/thermal.c"]}
# Layers whose tests see the core's mistakes too, and the scripts that read what the program makes of shows.
ABOVE = ("prep", "plan", "day", "out")
SCRIPTS = ("golden", "stations", "trade", "recipes", "cautions", "draft", "goods", "safety", "no-plan", "mend",
           "safety-twice", "lengths", "spoilt", "made-up")
# So many times the processor time that a test takes without a mutant: it hangs. A busy machine kills none.
LONG = 10
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
    """Of each layer: layer, file, name, place and change, by rank."""
    out = {}
    for layer in SHARES:
        files = [f"src/{layer}/{f}" for f in sorted(os.listdir(f"{source}/src/{layer}")) if f.endswith(".c")]
        places = [(layer, path, name, site) for path in files + BESIDE.get(layer, [])
                  for name, site in named(read(path), path).items()]
        places.sort(key=lambda m: hashlib.sha256((SEED + m[2]).encode()).digest())
        out[layer] = {m[2]: m for m in places}
    return out


def draw(n):
    """Of each layer: how many to try, and all there are, those of set.txt first."""
    wanted = {layer: n * share // 100 for layer, share in SHARES.items()}
    wanted["engine"] += n - sum(wanted.values())
    layers = all_mutants()
    first = [] if "SEED" in os.environ else listed("set.txt")
    for layer, all_of in layers.items():
        there = [name for name in first if name in all_of]
        layers[layer] = [all_of.pop(name) for name in there] + list(all_of.values())
    for name in first:
        if not any(m[2] == name for all_of in layers.values() for m in all_of):
            print(f"no longer in the source: {name}")
    return wanted, layers


def listed(file):
    return [line for line in read(f"tests/mutants/{file}").splitlines() if line and line[0] not in "# "]


def read(path):
    with open(f"{source}/{path}", encoding="utf-8") as f:
        return f.read()


def digest(*paths):
    out = hashlib.sha256()
    for path in sorted(paths):
        with open(f"{source}/{path}", "rb") as f:
            out.update(f"{path} ".encode() + f.read())
    return out.hexdigest()[:16]


def everything():
    return [os.path.relpath(f"{at}/{f}", source) for top in ("src", "include", "tests", "shows")
            for at, _, files in os.walk(f"{source}/{top}") for f in files if "/mutants" not in at]


def make(*args):
    return subprocess.run(["make", "-s", "--no-print-directory", "-C", source, *args], check=True, capture_output=True,
                          text=True).stdout.strip().splitlines()[-1]


class Build:
    """One way of building: how a file is compiled and linked into `program`, which tests run by `command`."""

    def __init__(self, kind, *how):
        lines = {what: make(f"mutants-{what}", *how) for what in (f"compile-{kind}", f"link-{kind}", f"built-{kind}")}
        self.compile, self.link, built = lines.values()
        self.kind, self.sanitized, self.built = kind, bool(how), f"{source}/{built}"

    def test(self, name):
        """What the test is called in the report, and the file it stands in."""
        if self.kind == "program":
            return f"tests/scripts/{name}.sh", f"tests/scripts/{name}.sh"
        return name + (" under sanitizers" if self.sanitized else ""), "tests/%s/test_%s.c" % tuple(name.split("_", 1))

    def run(self, program, name, limit, fork=False):
        """Whether the test passes, and its seconds of processor time; limit: how many a process may have. Without
        a process for each check a suite that hangs does so once."""
        env = {**os.environ, "CK_FORK": "yes" if fork else "no", "SRC": source, "BACKPOT": program,
               "SHARE": "4" if self.sanitized else "1"}
        command = ["sh", f"tests/scripts/{name}.sh"] if self.kind == "program" else [program, name]

        def bounded():
            resource.setrlimit(resource.RLIMIT_CPU, (limit, limit))
            if not self.sanitized:
                resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY))

        with subprocess.Popen(command, cwd=source, env=env, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL,
                              stderr=subprocess.DEVNULL, preexec_fn=bounded, start_new_session=True) as p:
            # For what hangs without working; nothing of ours waits so long, however busy the machine.
            asleep = threading.Timer(100 * limit, os.killpg, (p.pid, signal.SIGKILL))
            asleep.start()
            _, status, used = os.wait4(p.pid, 0)
            p.returncode = os.waitstatus_to_exitcode(status)
            asleep.cancel()
        return p.returncode == 0, used.ru_utime + used.ru_stime

    def without_mutant(self, name):
        """Whether the test passes without a mutant, the seconds it took, and if only with a process for each check."""
        key = self.test(name)[0]
        with lock:
            one = locks.setdefault(key, threading.Lock())
        with one:
            if key not in sound:
                passes, took = self.run(self.built, name, 3600)
                fork = not passes and self.kind == "tests"
                if fork:
                    passes, took = self.run(self.built, name, 3600, fork)
                if not passes:
                    print(f"{key} fails without a mutant: it kills none", flush=True)
                sound[key] = passes, round(took, 2), fork
                remember({"test": key, "sound": sound[key], "of": STATE})
        return sound[key]

    def object(self, work, text, of):
        """The bytes of a file compiled, none if it does not."""
        os.makedirs(f"{work}/{of}", exist_ok=True)
        with open(f"{work}/{of}/m.c", "w", encoding="utf-8") as f:
            f.write(text)
        r = subprocess.run(f"{self.compile} -g0 -w -c -o {work}/{of}.o m.c", shell=True, cwd=f"{work}/{of}",
                           capture_output=True)
        if r.returncode:
            return None
        with open(f"{work}/{of}.o", "rb") as f:
            return f.read()

    def kills(self, work, text, names):
        """The first test that fails with the file as `text`; none: the mutant lives."""
        program = f"{work}/{self.kind}{'-sanitized' if self.sanitized else ''}"
        if not os.path.exists(program):
            if not self.object(work, text, "new"):
                return None
            subprocess.run(self.link.replace("OBJECT", f"{work}/new.o").replace("PROGRAM", program), shell=True,
                           cwd=source, capture_output=True, check=True)
        for name in names:
            passes, took, fork = self.without_mutant(name)
            if passes and not self.run(program, name, 3 + int(LONG * took), fork)[0]:
                return self.test(name)
        return None


def builds(answered):
    """Each way of building, with the tests for a mutant of a file of a layer; later ones are built when needed.
    What is answered is tried by those of its layer alone."""
    def near(layer, own):
        also = [s for s in SUITES if layer in BESIDE and s == f"model_{own}"]
        return also + sorted((s for s in SUITES if s.startswith(layer + "_")),
                             key=lambda s: (s.split("_", 1)[1] != own, seconds(s), s))

    def seconds(suite):
        return sound[suite][1] if suite in sound else 1

    def above(layer, own):
        return sorted((s for s in SUITES if s.split("_")[0] in ABOVE), key=lambda s: (seconds(s), s))

    yield TESTS, near
    if answered or NEAR:
        return
    with lock:
        if not sanitized:
            how = "SAN=address,undefined", "SMALL=1", "EACH=1", "CC=cc", "WERROR=", "OPT=-O1 -g1"
            make(f"-j{JOBS}", "build-tests", "mutants-suites", *how)
            sanitized.append(Build("tests", *how))
    yield sanitized[0], near
    yield TESTS, above
    yield PROGRAM, lambda layer, own: SCRIPTS


def try_one(mutant):
    """killed, survived or passed over, by which test, and what to say of it."""
    layer, path, name, (start, end, new) = mutant
    text = read(path)
    what = name.replace(":", f":{text.count(chr(10), 0, start) + 1}:", 1)
    old = before.get(name, {})
    if old.get("end") == "killed" and old["of"] == digest(path, old["file"]):
        return mutant, "killed", f"{what}  by {old['by']}"
    if old.get("end") == "passed over" and old["of"] == digest(path):
        return mutant, "passed over", what
    if old.get("end") == "survived" and old["of"] == STATE:
        return mutant, "survived", what
    changed = text[:start] + new + text[end:]
    with tempfile.TemporaryDirectory() as work:
        was, now = TESTS.object(work, text, "old"), TESTS.object(work, changed, "new")
        if now is None or was == now:
            remember({"mutant": name, "end": "passed over", "of": digest(path)})
            return mutant, "passed over", what
        for build, tests in builds(name in known):
            by = build.kills(work, changed, tests(layer, os.path.basename(path)[:-2]))
            if by:
                remember({"mutant": name, "end": "killed", "by": by[0], "file": by[1], "of": digest(path, by[1])})
                return mutant, "killed", f"{what}  by {by[0]}"
    if not NEAR:
        remember({"mutant": name, "end": "survived", "of": STATE})
    return mutant, "survived", what


def remember(line):
    with lock, open(PROGRESS, "a", encoding="utf-8") as f:
        f.write(json.dumps(line) + "\n")


NEAR = bool(os.environ.get("NEAR"))
JOBS = int(os.environ.get("JOBS") or os.cpu_count() or 2)
MOST_MEMORY = 8 << 30
PROGRESS = f"{source}/build/mutants.progress"
STATE = digest(*everything())
TESTS, PROGRAM, sanitized = Build("tests"), Build("program"), []
SUITES = make("mutants-suites").split()
lock, locks, sound, before = threading.Lock(), {}, {}, {}
if not os.environ.get("FRESH") and os.path.exists(PROGRESS):
    with open(PROGRESS, encoding="utf-8") as f:
        for line in map(json.loads, f):
            if "mutant" in line:
                before[line["mutant"]] = line
            elif line["of"] == STATE:
                sound[line["test"]] = line["sound"]
else:
    open(PROGRESS, "w", encoding="utf-8").close()
known = set(listed("known.txt"))
wanted, there = draw(240 if count == "short" else int(count))
if count == "short":
    there = {layer: [m for m in ms[:wanted[layer]] if m[2] not in known] for layer, ms in there.items()}
    wanted = {layer: 2 for layer in SHARES}
if os.environ.get("ONLY"):
    with open(os.environ["ONLY"], encoding="utf-8") as f:
        only = set(f.read().splitlines())
    there = {layer: [m for m in ms if m[2] in only] for layer, ms in there.items()}
    wanted = {layer: len(ms) for layer, ms in there.items()}
elif not all(there[layer] for layer in SHARES):
    sys.exit("a layer has no mutant to try")
counts = {"killed": 0, "survived": 0, "passed over": 0}
left, began = 0, time.monotonic()
with concurrent.futures.ThreadPoolExecutor(JOBS) as pool:
    rest = {layer: iter(ms) for layer, ms in there.items()}
    work = {pool.submit(try_one, m) for layer in SHARES for _, m in zip(range(wanted[layer]), rest[layer])}
    while work:
        done, work = concurrent.futures.wait(work, return_when=concurrent.futures.FIRST_COMPLETED)
        for mutant, end, what in (d.result() for d in done):
            counts[end] += 1
            answered = end == "survived" and mutant[2] in known
            left += end == "survived" and not answered
            print(f"{end}{' (answered)' if answered else ''}: {what}", flush=True)
            another = next(rest[mutant[0]], None) if end == "passed over" else None
            if another:
                work.add(pool.submit(try_one, another))
tried = counts["killed"] + counts["survived"]
print(f"{counts['killed']} of {tried} mutants killed, {100 * counts['killed'] / max(tried, 1):.1f} %; "
      f"{counts['survived'] - left} survivors are answered, {left} are not; {counts['passed over']} did not count; "
      f"{time.monotonic() - began:.0f} s")
sys.exit(1 if left or not tried else 0)
