# tests/scripts/seconds.py - seconds.sh in full: runs the program with its stderr on a terminal of its
# own, reads what is shown there, and interrupts it.
import json
import os
import pty
import re
import select
import signal
import subprocess
import sys
import tempfile

program, show = sys.argv[1:3]
passed = failed = 0


def check(what, holds):
    global passed, failed
    passed += bool(holds)
    failed += not holds
    if not holds:
        print("FAILED: " + what)


def run(seconds, folder, interrupt=None, ignore=False, terminal=True):
    """Exit status, stdout, stderr. `interrupt`: sent once this pattern was shown."""
    ours, theirs = pty.openpty() if terminal else os.pipe()
    p = subprocess.Popen(
        [program, "plan", show, "--seconds", str(seconds), "--only", "json", "-o", folder],
        stdout=subprocess.PIPE, stderr=theirs, start_new_session=True,
        preexec_fn=lambda: signal.signal(signal.SIGINT,
                                         signal.SIG_IGN if ignore else signal.SIG_DFL))
    os.close(theirs)
    said = b""
    while True:
        ready, _, _ = select.select([ours], [], [], 120)
        try:
            more = os.read(ours, 65536) if ready else b""
        except OSError:  # the other end of a terminal is gone
            more = b""
        if not more:
            break
        said += more
        if interrupt and re.search(interrupt, said):
            p.send_signal(signal.SIGINT)
            interrupt = None
    out, _ = p.communicate(timeout=120)
    os.close(ours)
    return p.returncode, out.decode(), said.decode()


LINE = (r"(late|crew time|waiting|hand-overs): \d+ (min|weighted min|times), "
        r"(at least \d+, gap \d+ %|the least there can be); Ctrl-C keeps this plan")

with tempfile.TemporaryDirectory() as d:
    names = [os.path.join(d, n) for n in ("whole", "cut", "deaf", "pipe")]

    status, out, said = run(1, names[0])
    lines = [x.rstrip() for x in said.split("\r")]
    check("a search runs to its end", status == 0 and "crew time:" in out)
    check("a line tells how it goes", any(re.fullmatch(LINE, x) for x in lines))
    check("every line is of that form", all(not x or re.fullmatch(LINE, x) for x in lines))
    check("no line is wider than a terminal", all(len(x) < 80 for x in lines))
    check("the line is taken away", said.endswith("\r") and not lines[-2])
    check("nothing was stopped", "stopped" not in said)
    crew = [int(x) for x in re.findall(r"crew time: (\d+) min", said)]
    check("crew time only falls", crew == sorted(crew, reverse=True))
    bounds = re.findall(r"(crew time|waiting): (\d+) [a-z ]+, at least (\d+)", said)
    check("no bound is above its value", bounds and all(int(v) > int(b) for _, v, b in bounds))

    status, out, said = run(100, names[1], interrupt=rb"crew time: \d+ min")
    check("Ctrl-C ends the search, not the program", status == 0)
    check("and says so", "stopped: this is the best plan found so far" in said)
    check("the plan is told", "crew time:" in out)
    plan = json.load(open(os.path.join(names[1], "plan.json")))
    check("the plan is written whole", plan["verdict"] == "planned" and plan["op"])
    check("and nothing beside it", os.listdir(names[1]) == ["plan.json"])
    check("it is not called proved", not plan["proved"])

    status, out, said = run(1, names[2], interrupt=rb"crew time: \d+ min", ignore=True)
    check("an ignored interrupt stays ignored", status == 0 and "stopped" not in said)

    status, out, said = run(1, names[3], terminal=False)
    check("without a terminal there is no line", status == 0 and said == "")

print(f"{passed} passed, {failed} failed")
sys.exit(failed != 0)
