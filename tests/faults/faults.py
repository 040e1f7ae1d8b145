# tests/faults/faults.py PROGRAM PRELOAD SOURCE - the program on a machine where things fail.
#
# After each fault the folder holds the old files or the new ones, each whole, and no temporary file
# unless the process was killed; the exit status is a documented one and a reason is given.
import json
import os
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import time

program, preload, source = (os.path.abspath(a) for a in sys.argv[1:])
few = bool(os.environ.get("FAULT_FEW"))
often = 1 if os.environ.get("FAULT_STRIDE") == "1" else 16 if few else 4
undisturbed = {k: v for k, v in os.environ.items() if not k.startswith("FAULT_")}
show = source + "/shows/harbour-breakfast.json"
small = ["--only", "json,calendar,pull-list,pull-csv"]
passed = failed = 0
counts = {}


def check(good, name, what=""):
    global passed, failed
    if good:
        passed += 1
    else:
        failed += 1
        if failed <= 20:
            print(f"FAILED: {name}: {what}")


def run(folder, more=(), timeout=120, **fault):
    env = {**undisturbed, "LD_PRELOAD": preload, **{k: str(v) for k, v in fault.items()}}
    return subprocess.run([program, "plan", show, "-q", "-o", folder, *more], env=env,
                          capture_output=True, timeout=timeout)


def read(folder):
    files = {}
    for name in os.listdir(folder) if os.path.isdir(folder) else ():
        with open(os.path.join(folder, name), "rb") as f:
            files[name] = f.read()
    return files


def fresh(old):
    shutil.rmtree("x", ignore_errors=True)
    if old:
        os.mkdir("x")
        for name, data in old.items():
            with open("x/" + name, "wb") as f:
                f.write(data)


def all_or_nothing(name, r, old, new):
    """0 and all new, or 1, a reason, and all old."""
    got = read("x")
    if r.returncode == 0:
        check(got == new, name, "success, but not the files of an undisturbed run")
    else:
        check(r.returncode == 1 and r.stderr.strip(), name, f"status {r.returncode}: {r.stderr!r}")
        check(got == old, name, "an error, but the old files are not as they were: "
              f"{sorted(set(got) ^ set(old))}")


def counted(folder, more, **fault):
    r = run(folder, more, FAULT_COUNT="count", **fault)
    with open("count", encoding="ascii") as f:
        mem, calls = map(int, f.read().split())
    assert r.returncode == 0, r.stderr
    return mem, calls


def memory():
    """A heap that is full at each of many sizes: whoever asks, also libical, cJSON, Pango, gets
    nothing more."""
    n = 0
    for more, new, sizes in ((small, new_small, range(50000, 14000000, 250000 * often)),
                             ([], new_all, range(1000000, 120000000, 6000000 * often))):
        for room in sizes:
            fresh(None)
            r = run("x", more, FAULT_ROOM=room)
            all_or_nothing(f"a heap of {room} bytes", r, {}, new)
            n += 1
    counts["heaps that are full"] = n


def calls():
    """Each call that touches a file fails once, with each of several reasons, over old files."""
    old = {name: b"old " + name.encode() for name in new_small if not name.endswith(".ics")}
    n = 0
    _, total = counted("c", small, FAULT_WRITES=1)
    for error in (28, 5, 30, 13, 122)[::often]:  # ENOSPC EIO EROFS EACCES EDQUOT
        for k in range(1, total + 3, 3 if few else 1):
            fresh(old)
            r = run("x", small, FAULT_WRITES=1, FAULT_CALL=k, FAULT_ERROR=error)
            got = read("x")
            n += 1
            if r.returncode == 0:  # a link that was not needed, the last unlink
                visible = {k: v for k, v in got.items() if k[0] != "."}
                check(visible == new_small, f"call {k} error {error}", "success without the files")
            else:
                check(r.returncode == 1 and r.stderr.strip(), f"call {k} error {error}",
                      f"status {r.returncode}: {r.stderr!r}")
                visible = {k: v for k, v in got.items() if k[0] != "."}
                check(visible == old, f"call {k} error {error}", "the old files are not kept")
    counts["calls that failed"] = n


def kills():
    """Killed before each change, a write with half of it done: each file is the old or the new."""
    old = {name: b"old " + name.encode() for name in new_small if not name.endswith(".ics")}
    _, total = counted("c", small, FAULT_WRITES=1)
    n = 0
    for k in range(1, total + 1, 3 if few else 1):
        fresh(old)
        r = run("x", small, FAULT_WRITES=1, FAULT_CALL=k, FAULT_ERROR="kill")
        if r.returncode == 0:  # over old files there are fewer changes
            check(k > total * 3 // 4, f"kill {k}", "it was not killed")
            break
        n += 1
        check(r.returncode == -signal.SIGKILL, f"kill {k}", f"status {r.returncode}")
        for name, data in read("x").items():
            if name[0] != ".":
                check(data in (old.get(name), new_small[name]), f"kill {k}", f"{name} is neither")
        again = run("x", small)
        check(again.returncode == 0, f"kill {k}", f"the next run: {again.stderr!r}")
        visible = {k: v for k, v in read("x").items() if k[0] != "."}
        check(visible == new_small, f"kill {k}", "the next run does not put it right")
    counts["kills"] = n


def torn(what, command, old, new, status):
    """A command over the files of "x": each call that changes something fails once, or is the last
    before a kill; each file is then the old or the new one."""
    def once(**fault):
        fresh(old)
        env = {**undisturbed, "LD_PRELOAD": preload, "FAULT_WRITES": "1",
               **{k: str(v) for k, v in fault.items()}}
        return subprocess.run([program, *command], env=env, capture_output=True, timeout=120)
    once(FAULT_COUNT="count")
    with open("count", encoding="ascii") as f:
        total = int(f.read().split()[1])
    check(read("x") == new, what, "an undisturbed run gives other files")
    n = 0
    for k in range(1, total + 1, 7 if few and total > 12 else 1):
        for error in (28, "kill"):  # ENOSPC
            r = once(FAULT_CALL=k, FAULT_ERROR=error)
            got = read("x")
            seen = {f: data for f, data in got.items() if f[0] != "."}
            n += 1
            if error == "kill":
                check(r.returncode == -signal.SIGKILL, f"{what}, kill {k}", f"status {r.returncode}")
            else:
                check(r.returncode == status or (r.returncode == 1 and r.stderr.strip()),
                      f"{what}, call {k}", f"status {r.returncode}: {r.stderr!r}")
                check(r.returncode == 1 or seen == new, f"{what}, call {k}", "success without the files")
                # What failed may be to remove what is not needed any more.
                check(r.returncode != 1 or seen == got, f"{what}, call {k}", "a file is left over")
            for name in set(old) | set(seen):
                check(got.get(name) in (old.get(name), new.get(name)), f"{what}, call {k}, {error}",
                      f"{name} is neither")
    counts[f"faults of {what}"] = n


def learning():
    """Times are learned into the show itself: it may be torn less than anything."""
    with open("a/plan.json", encoding="utf-8") as f:
        plan = json.load(f)
    ops = [o for o in plan["op"] if o["kind"] not in ("passive", "oven", "wait", "set")]
    for n in range(4):  # each takes a fifth longer, and a little more each day
        with open(f"day{n}.log", "w", encoding="utf-8") as f:
            print(json.dumps({"backpot": "log", "format": 1, "show": plan["show_id"],
                              "stamp": plan["stamp"], "rehearsal": False}), file=f)
            events = [(at, kind, o["key"]) for o in ops for kind, at in
                      (("start", o["from"]["t"]),
                       ("done", o["from"]["t"] + (o["to"]["t"] - o["from"]["t"]) * (12 + n) // 10))]
            for at, kind, key in sorted(events):
                print(json.dumps({"at": at, "event": kind, "op": key}), file=f)
    with open(show, "rb") as f:
        old = {"show.json": f.read()}
    command = ["after", "x/show.json", "--learn", *(f"day{n}.log" for n in range(4))]
    fresh(old)
    r = subprocess.run([program, *command], capture_output=True)
    new = read("x")
    check(r.returncode == 0 and new != old, "learning", f"nothing was learned: {r.stdout!r} {r.stderr!r}")
    torn("learning", command, old, new, 0)


def mending():
    """A plan mended in the folder that the crew prints from."""
    with open("a/plan.json", encoding="utf-8") as f:
        plan = json.load(f)
    op = next(o for o in plan["op"] if o["kind"] == "active" and len(o["serves"]) == 1)
    mishap = f"{op['to']['local'][11:16]} {plan['container'][op['serves'][0]]['code']} burnt"
    command = ["mend", show, "-q", "-o", "x", mishap]
    old = new_all
    fresh(old)
    r = subprocess.run([program, *command], capture_output=True)
    new = read("x")
    check(r.returncode in (0, 3) and new != old, "mending", f"nothing was mended: {r.stderr!r}")
    torn("mending", command, old, new, r.returncode)


def sizes():
    """No file may be larger than so many bytes (ulimit -f): a write beyond it raises SIGXFSZ, or fails."""
    def limited(command, most, **more):
        return subprocess.run([program, *command], capture_output="stdout" not in more, timeout=120,
                              preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (most, most)), **more)

    def refused(r, name, old):
        check(r.returncode == 1 and b"it would be larger than the system allows" in r.stderr, name,
              f"{r.returncode} {r.stderr!r}")
        check(read("x") == old, name, f"the folder holds {sorted(read('x'))}")
    largest = max(len(data) for data in new_small.values())
    plan = ["plan", show, "-q", "-o", "x", *small]
    old = {name: b"old " + name.encode() for name in new_small if not name.endswith(".ics")}
    n = 0
    for most in (0, 1, 1000, largest - 1):
        for before in (None, old):
            fresh(before)
            if before is None:
                os.mkdir("x")
            refused(limited(plan, most), f"files of {most} bytes", before or {})
            n += 1
    fresh(old)
    r = limited(plan, largest)
    check(r.returncode == 0 and read("x") == new_small, "files as large as they may be", r.stderr)
    with open(show, "rb") as f:
        of_show = {"show.json": f.read()}
    fresh(of_show)
    for most in (0, 100, len(of_show["show.json"]) - 1):  # (the days are those that were learned from)
        refused(limited(["after", "x/show.json", "--learn", *(f"day{k}.log" for k in range(4))], most),
                f"learning with {most} bytes", of_show)
        refused(limited(["new", "x/new.json", "--title", "T", "--date", "2026-12-03", "--zone", "Europe/Lisbon",
                         "--hit", "08:24", "--slot", "4:25"], min(most, 200)), f"a new show of {most} bytes", of_show)
        n += 2
    with open("summary", "wb") as out:
        r = limited(["plan", show], 10, stdout=out, stderr=subprocess.PIPE)
    check(r.returncode == 1 and b"cannot write to standard output" in r.stderr, "a summary of 10 bytes", r.stderr)
    counts["limits of the size of a file"] = n + 1


def short():
    for most in (1, 7, 4096):
        fresh(None)
        r = run("x", small, FAULT_SHORT=most)
        all_or_nothing(f"{most} bytes at a time, and interrupted", r, {}, new_small)
        check(r.returncode == 0, f"{most} bytes at a time", r.stderr)
    with open("/dev/full", "wb") as full:
        r = subprocess.run([program, "plan", show], stdout=full, stderr=subprocess.PIPE)
    check(r.returncode == 1 and b"cannot write" in r.stderr, "a full output", r.stderr)
    r = subprocess.run(["sh", "-c", '"$0" plan "$1" >&-', program, show], capture_output=True)
    check(r.returncode == 1, "a closed output", f"status {r.returncode}")
    p = subprocess.Popen([program, "plan", show], stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    p.stdout.close()
    check(p.wait() in (0, 1) and p.stderr.read() == b"", "a reader that went away")
    p.stderr.close()


def places():
    """What may stand in the way of an output."""
    fresh(None)
    os.mkdir("x")
    os.mkdir("x/plan.json")
    r = run("x", small)
    check(r.returncode == 1 and sorted(read_names("x")) == ["plan.json"], "a folder in its place",
          r.stderr)
    fresh(None)
    os.mkdir("x")
    with open("precious", "w", encoding="ascii") as f:
        f.write("precious")
    os.symlink("../precious", "x/plan.json")
    r = run("x", small)
    with open("precious", encoding="ascii") as f:
        check(r.returncode == 0 and f.read() == "precious" and not os.path.islink("x/plan.json"),
              "a link in its place is replaced, not followed")
    r = run("precious", small)
    check(r.returncode == 1 and r.stderr, "a file in place of the folder")


def read_names(folder):
    return os.listdir(folder)


def together():
    """Two runs into one folder at once: both end well or say why; the files are whole."""
    for _ in range(2 if few else 10):
        fresh(None)
        runs = [subprocess.Popen([program, "plan", show, "-q", "-o", "x", *small],
                                 stderr=subprocess.PIPE) for _ in range(2)]
        ends = [(p.wait(), p.stderr.read()) for p in runs]
        for p in runs:
            p.stderr.close()
        check(all(s == 0 or (s == 1 and e) for s, e in ends) and any(s == 0 for s, _ in ends),
              "two runs at once", ends)
        visible = {k: v for k, v in read("x").items() if k[0] != "."}
        check(visible == new_small, "two runs at once", "the files are not whole")


def signals():
    """SIGINT and SIGTERM at twenty moments leave no temporary file."""
    for i in range(0, 20, 3 if few else 1):
        fresh(None)
        p = subprocess.Popen([program, "plan", show, "-q", "-o", "x"], stderr=subprocess.DEVNULL)
        time.sleep(0.02 * i)
        p.send_signal((signal.SIGINT, signal.SIGTERM)[i % 2])
        p.wait()
        left = [n for n in (os.listdir("x") if os.path.isdir("x") else ()) if n[0] == "."]
        check(not left, f"signal after {20 * i} ms", left)


with tempfile.TemporaryDirectory() as home:
    os.chdir(home)
    if few:  # a show that takes half the time
        show = os.path.join(home, "short.json")
        subprocess.run([program, "new", "short.json", "--title", "Short", "--date", "2026-12-03", "--zone",
                        "Europe/Lisbon", "--hit", "08:24", "--slot", "4:25", "--cooks", "1", "--burners", "1",
                        "--ovens", "0"], check=True, capture_output=True)
    subprocess.run([program, "plan", show, "-q", "-o", "a"], check=True)
    subprocess.run([program, "plan", show, "-q", "-o", "c", *small], check=True)
    new_all, new_small = read("a"), read("c")
    for part in (memory, calls, kills, learning, mending, sizes, short, places, together, signals):
        part()
print(", ".join(f"{n} {what}" for what, n in counts.items()))
print(f"{passed} passed, {failed} failed")
sys.exit(1 if failed else 0)
