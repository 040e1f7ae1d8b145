# tests/faults/live.py PROGRAM PRELOAD SOURCE - the clock on a terminal, and a log that cannot be written.
#
# A rehearsal ten times as fast; the keys go to it by a terminal of its own (pty), what it shows is read back as
# bytes. Whatever fails, the clock goes on; what was pressed is in the log as soon as it can be, or the end says
# how much is not; the log has whole lines, of which a kill leaves those before and at most a torn last one, and
# the next start goes on from them.
import json
import os
import pty
import resource
import select
import shutil
import signal
import subprocess
import sys
import tempfile
import time

program, preload, source = (os.path.abspath(a) for a in sys.argv[1:])
few = bool(os.environ.get("FAULT_FEW"))
undisturbed = {k: v for k, v in os.environ.items() if not k.startswith("FAULT_")}
passed = failed = 0
LOG = "x/day.log"


def check(good, name, what=""):
    global passed, failed
    passed += bool(good)
    failed += not good
    if not good:
        print(f"FAILED: {name}: {what}")


class Clock:
    def __init__(self, *more, most=None, **fault):
        self.seen = b""
        self.status = None
        self.pid, self.fd = pty.fork()
        if self.pid == 0:
            env = {**undisturbed, "TERM": "xterm", "LD_PRELOAD": preload, "FAULT_NAME": "day.log",
                   "FAULT_WRITES": "1", **{k: str(v) for k, v in fault.items()}}
            signal.signal(signal.SIGXFSZ, signal.SIG_DFL)  # Python ignores it
            if most is not None:
                resource.setrlimit(resource.RLIMIT_FSIZE, (most, most))
            os.execve(program, [program, "live", "s.json", "--rehearse", "--speed", "10", "--log", LOG, *more], env)

    def look(self, seconds):
        if select.select([self.fd], [], [], seconds)[0]:
            try:
                data = os.read(self.fd, 65536)
            except OSError:
                data = b""
            self.seen += data
        if self.status is None:
            done, raw = os.waitpid(self.pid, os.WNOHANG)
            if done:
                self.status = os.waitstatus_to_exitcode(raw)

    def until(self, what, seconds=60):
        """Wait for bytes on the screen, or for what a function says; or for the end of the clock."""
        end = time.monotonic() + seconds
        come = what if callable(what) else lambda: what in self.seen
        while time.monotonic() < end and self.status is None and not come():
            self.look(.05)
        return come()

    def press(self, keys):
        if self.status is None:
            os.write(self.fd, keys)

    def leave(self):
        self.press(b"qy")  # on air it asks
        self.until(lambda: False, 30)
        for _ in range(20):
            self.look(.01)
        if self.status is None:
            os.kill(self.pid, signal.SIGKILL)
            os.waitpid(self.pid, 0)
        os.close(self.fd)
        return self.status


def lines():
    try:
        with open(LOG, "rb") as f:
            return f.read().split(b"\n")
    except OSError:
        return []


def kinds():
    """The events of the whole lines of the log; None: a line that is none."""
    try:
        return [json.loads(line).get("event", "head") for line in lines()[:-1]]
    except ValueError:
        return None


def fresh():
    shutil.rmtree("x", ignore_errors=True)
    os.mkdir("x")


KEYS, WANT = b"  hh", ["head", "open", "hit", "beat", "beat", "hold", "go-on"]


def session(keys=KEYS, ready=lambda: kinds() == WANT, **fault):
    c = Clock(**fault)
    if c.until(b"ON AIR"):
        c.press(keys)
        c.until(ready, 20)
    return c.leave(), c


def each_call():
    """Each call that changes the log fails once, or is the last before a kill."""
    fresh()
    status, c = session(FAULT_COUNT="count")
    with open("count", encoding="ascii") as f:
        total = int(f.read().split()[1])
    check(status == 0 and kinds() == WANT, "an undisturbed day", f"{status} {kinds()} {c.seen[-300:]!r}")
    check(total >= 2 * len(WANT), "an undisturbed day", f"{total} calls on the log")
    n = 0
    for k in range(1, total + 1, 5 if few else 1):
        for error in (28, 5, "kill"):  # ENOSPC EIO
            fresh()
            status, c = session(FAULT_CALL=k, FAULT_ERROR=error)
            n += 1
            name = f"call {k} on the log, error {error}"
            if error == "kill":
                check(status == -signal.SIGKILL, name, f"status {status}")
                check(kinds() is not None and kinds() == WANT[:len(kinds())], name, f"{lines()}")
                before = kinds()
                status, c = session(b"", lambda: kinds() and kinds()[-1] == "open")
                got = kinds()
                check(status == 0 and got is not None and got[:len(before)] == before and
                      got[len(before):] == (["open"] if before else WANT[:2]), name,
                      f"the next start: {status} {before} {got} {c.seen[-300:]!r}")
            elif status == 1 and b"ON AIR" not in c.seen:  # it could not be begun
                check(lines() in ([], [b""]) and b"cannot" in c.seen, name, f"{lines()} {c.seen!r}")
            else:
                check(status == 0 and kinds() == WANT, name, f"{status} {kinds()} {c.seen[-300:]!r}")
    print(f"{n} faults of the log of a clock")


def full():
    """The disk is full for a while, and to the end; a few bytes at a time."""
    for error in (28,) if few else (28, 5, 122):
        fresh()
        with open("full", "w", encoding="ascii"):
            pass
        c = Clock(FAULT_CALL=6, FAULT_ERROR=error, FAULT_WHILE="full")
        check(c.until(b"ON AIR"), f"a disk with error {error}", c.seen)
        c.press(KEYS)
        check(c.until(b"NOT WRITTEN DOWN"), f"a disk with error {error}", "no alarm")
        check(kinds() is not None and len(kinds()) < len(WANT), f"a disk with error {error}", f"{lines()}")
        os.unlink("full")
        check(c.until(lambda: kinds() == WANT), f"a disk with error {error}, then room", f"{kinds()}")
        check(c.leave() == 0, f"a disk with error {error}, then room", f"{c.status} {c.seen[-300:]!r}")
    fresh()
    with open("full", "w", encoding="ascii"):
        pass
    c = Clock(FAULT_CALL=6, FAULT_ERROR=28, FAULT_WHILE="full")
    c.until(b"ON AIR")
    c.press(KEYS)
    c.until(b"NOT WRITTEN DOWN")
    check(c.leave() == 1 and b"could not be written to the log" in c.seen, "full to the end",
          f"{c.status} {c.seen[-300:]!r}")
    check(kinds() is not None and kinds() == WANT[:len(kinds())] and lines()[-1] == b"", "full to the end", lines())
    os.unlink("full")
    for most in (1, 7):
        fresh()
        status, c = session(FAULT_SHORT=most)
        check(status == 0 and kinds() == WANT, f"{most} bytes at a time", f"{status} {kinds()}")


def gone():
    """The log, or its folder, goes away under the clock: it comes back whole."""
    for what in ("log", "folder", "folder for good"):
        fresh()
        c = Clock()
        check(c.until(b"ON AIR"), f"a {what} that goes", c.seen)
        c.press(KEYS[:2])
        check(c.until(lambda: kinds() == WANT[:5]), f"a {what} that goes", kinds())
        old = lines()
        if what == "log":
            os.unlink(LOG)
        else:
            shutil.rmtree("x")
            c.press(KEYS[2:])
            check(c.until(b"it was removed"), f"a {what} that goes", "no alarm")
        if what == "folder for good":
            check(c.leave() == 1 and b"could not be written" in c.seen, what, f"{c.status} {c.seen[-300:]!r}")
            continue
        if what == "folder":
            os.mkdir("x")
        else:
            c.press(KEYS[2:])
        check(c.until(lambda: kinds() == WANT), f"a {what} that goes", kinds())
        check(lines()[:len(old) - 1] == old[:-1], f"a {what} that goes", "other lines have come back")
        check(c.leave() == 0, f"a {what} that goes", f"{c.status} {c.seen[-300:]!r}")
    fresh()
    c = Clock()
    c.until(b"ON AIR")
    c.press(KEYS)
    c.until(lambda: kinds() == WANT)
    shutil.rmtree("x")
    check(c.leave() == 1 and b"it was removed" in c.seen, "a folder that goes at the end", f"{c.status} {c.seen[-300:]!r}")


def size():
    """The log may not grow past some bytes (ulimit -f): what does not fit is told, and what is there is whole."""
    fresh()
    status, _ = session()
    check(status == 0, "an undisturbed day", status)
    head, whole = len(lines()[0]) + 1, sum(len(line) + 1 for line in lines()[:-1])
    for most in (0, head - 1) if few else (0, 1, head - 1):
        fresh()
        status, c = session(most=most)
        check(status == 1 and b"ON AIR" not in c.seen and b"larger than the system allows" in c.seen,
              f"a log of {most} bytes", f"{status} {c.seen!r}")
        check(lines() in ([], [b""]), f"a log of {most} bytes", lines())
    for most in (head + 60, whole - 1):
        fresh()
        c = Clock(most=most)
        c.until(b"ON AIR")
        c.press(KEYS)
        check(c.until(b"NOT WRITTEN DOWN"), f"a log of {most} bytes", "no alarm")
        check(c.leave() == 1 and b"could not be written to the log" in c.seen, f"a log of {most} bytes",
              f"{c.status} {c.seen[-300:]!r}")
        check(kinds() is not None and 0 < len(kinds()) < len(WANT) and kinds() == WANT[:len(kinds())] and
              lines()[-1] == b"", f"a log of {most} bytes", lines())


def kitchen():
    """The kitchen's clock writes the same log."""
    fresh()
    with open("full", "w", encoding="ascii"):
        pass
    c = Clock("--kitchen", FAULT_CALL=4, FAULT_ERROR=28, FAULT_WHILE="full")
    check(c.until(lambda: kinds() and len(kinds()) > 1, 20) or c.seen, "a kitchen", c.seen)
    c.press(b"1")
    check(c.until(b"NOT WRITTEN DOWN"), "a kitchen with a full disk", f"no alarm {c.seen[-500:]!r} {kinds()}")
    os.unlink("full")
    check(c.until(lambda: kinds() and "start" in kinds()), "a kitchen with a full disk", kinds())
    shutil.rmtree("x")
    check(c.until(b"it was removed"), "a kitchen without a folder", "no alarm")
    os.mkdir("x")
    check(c.until(lambda: kinds() and "start" in kinds()), "a kitchen without a folder", kinds())
    check(c.leave() == 0, "a kitchen", f"{c.status} {c.seen[-300:]!r}")


with tempfile.TemporaryDirectory() as home:
    os.chdir(home)
    subprocess.run([program, "new", "s.json", "--title", "Short", "--date", "2026-12-03", "--zone", "Europe/Lisbon",
                    "--hit", "08:24", "--slot", "4:25", "--cooks", "1", "--burners", "1", "--ovens", "0"], check=True,
                   capture_output=True)
    for part in (each_call, full, size, gone, kitchen):
        part()
    os.chdir("/")
print(f"{passed} passed, {failed} failed")
sys.exit(1 if failed or not passed else 0)
