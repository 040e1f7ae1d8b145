# tests/scripts/terminal.py - terminal.sh in full: runs the clocks on a pseudo-terminal of its own, types,
# and reads what is drawn. Each show is a small one, so that a run takes a blink.
import datetime
import fcntl
import json
import os
import pty
import re
import resource
import select
import signal
import struct
import subprocess
import sys
import tempfile
import termios
import time

from tally import check, end

program, src = sys.argv[1:3]
SHOW = os.path.join(src, "tests/plan/terrine.json")
LATE = os.path.join(src, "shows/one-burner-too-few.json")
PATIENCE = 60  # s: for a busy machine


class Clock:
    """A command, live or another, on a terminal that is nobody's, so that its end is no hang-up."""

    def __init__(self, *words, command="live", most=None, out=None, **env):
        self.fd, theirs = pty.openpty()
        fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))

        def before():
            if most is not None:
                resource.setrlimit(resource.RLIMIT_FSIZE, (most, most))

        self.run = subprocess.Popen(
            [program, command, *words], stdin=theirs, stdout=theirs if out is None else out,
            stderr=theirs if command == "new" else subprocess.PIPE, start_new_session=True, preexec_fn=before,
            env={"TERM": "xterm", "LC_ALL": "C.UTF-8", "PATH": os.environ["PATH"], **env})
        os.close(theirs)
        self.drawn = b""

    def read(self, seconds):
        ready, _, _ = select.select([self.fd], [], [], seconds)
        try:
            self.drawn += os.read(self.fd, 65536) if ready else b""
        except OSError:
            pass

    def text(self):
        return re.sub(r"\x1b(\[[0-9;?]*[A-Za-z]|[()][0-9A-Z]|[=>78])", "", self.drawn.decode("utf-8", "replace"))

    def shows(self, pattern):
        """Wait until it was drawn."""
        last = time.monotonic() + PATIENCE
        while time.monotonic() < last:
            if re.search(pattern, self.text()):
                return True
            if self.run.poll() is not None:
                return False
            self.read(0.1)
        return False

    def type(self, keys):
        os.write(self.fd, keys)

    def ended(self):
        """Its exit status and what it said."""
        last = time.monotonic() + PATIENCE
        while self.run.poll() is None and time.monotonic() < last:
            self.read(0.05)
        if self.run.poll() is None:
            self.run.kill()
        said = self.run.stderr.read().decode() if self.run.stderr else ""
        self.run.wait()
        os.close(self.fd)
        return self.run.returncode, said

    def hang_up(self):
        os.close(self.fd)
        self.fd = -1
        status = self.run.wait(timeout=PATIENCE)
        return status, self.run.stderr.read().decode()


def after(*words):
    """backpot after: its exit status, and what it said."""
    run = subprocess.run([program, "after", *words], capture_output=True, timeout=PATIENCE, check=False)
    return run.returncode, run.stdout.decode() + run.stderr.decode()


def events(path):
    with open(path, encoding="utf-8") as f:
        return [json.loads(line).get("event") for line in f]


def wait_events(path, n):
    """Until the log holds so many lines."""
    last = time.monotonic() + PATIENCE
    while time.monotonic() < last:
        if os.path.exists(path) and len(events(path)) >= n:
            return True
        time.sleep(0.05)
    return False


with tempfile.TemporaryDirectory() as d:
    def there(name):
        return os.path.join(d, name)

    # ---- terminals -----------------------------------------------------------------------------
    c = Clock(SHOW, "--rehearse", TERM="no-such-terminal")
    status, said = c.ended()
    check("an unknown terminal", status == 1 and "this kind of terminal is not known" in said, said)

    c = Clock(SHOW, "--rehearse", out=subprocess.DEVNULL)
    status, said = c.ended()
    check("output that is no terminal", status == 1 and "needs a terminal to draw on" in said, said)

    c = Clock(SHOW, "--rehearse", LC_ALL="no-such-locale")
    check("an unknown locale: UTF-8 all the same", c.shows("\u2588"), c.text())
    c.type(b"q")
    check("an unknown locale: it leaves", c.ended()[0] == 0)

    # ---- keys ----------------------------------------------------------------------------------
    log = there("keys.log")
    c = Clock(SHOW, "--rehearse", "--kitchen", "--log", log, TERM="vt100")
    check("the kitchen's clock", c.shows("leave"), c.text())
    c.type(b"\x1bOP")        # F1 means nothing
    c.type(b"\xc3\xa9\x1bOB")  # nor does a letter of two bytes; DOWN marks a cook
    c.type(b"\x1bOM")        # the ENTER of the keypad
    check("ENTER of the keypad begins", wait_events(log, 3), events(log))
    c.type(b"\x7f\x08\r")
    check("and ENTER ends", wait_events(log, 4), events(log))
    c.run.send_signal(signal.SIGTERM)
    status, said = c.ended()
    check("asked to end, it ends", status == 0, said)
    check("and nothing else was ticked", events(log)[1:4] == ["open", "start", "done"], events(log))

    c = Clock(SHOW, "--rehearse", "--log", there("gone.log"))
    check("a clock before its terminal goes", c.shows("ON AIR IN"), c.text())
    status, said = c.hang_up()
    check("a terminal that is gone", status == 1 and "the terminal is gone" in said, said)

    # ---- logs ----------------------------------------------------------------------------------
    c = Clock(SHOW, "--rehearse", "--log", there("full.log"), most=110)
    check("a log that cannot grow is told", c.shows("NOT WRITTEN DOWN"), c.text())
    c.type(b"q")
    status, said = c.ended()
    check("and once more at the end", status == 1 and "1 events could not be written" in said, said)

    log = there("short.log")
    c = Clock(SHOW, "--rehearse", "--log", log)
    check("a clock with its log", c.shows("ON AIR IN") and wait_events(log, 2), c.text())
    os.truncate(log, 20)
    check("a log made shorter is told", c.shows("made this log shorter"), c.text())
    c.type(b"q")
    status, said = c.ended()
    check("and once more at its end", status == 1 and "made this log shorter" in said, said)

    # On the day itself the log lies beside the show.
    today = datetime.datetime.now(datetime.timezone.utc).strftime("%Y-%m-%d")
    with open(SHOW, encoding="utf-8") as f:
        show = f.read().replace("2027-02-13", today).replace("Europe/Lisbon", "UTC")
    for name in ("day.json", "no-ending"):
        with open(there(name), "w", encoding="utf-8") as f:
            f.write(show)
        c = Clock(there(name), "--kitchen")
        check(f"{name}: the day itself", c.shows("leave"), c.text())
        c.type(b"Q")
        status, said = c.ended()
        log = there(name.removesuffix(".json") + ".log")
        check(f"{name}: its log", status == 0 and events(log) == [None, "open"], said)
        with open(log, "a", encoding="utf-8") as f:
            f.write('{"at":90000,"event":"start","op":"plate/pie/Q1/fill"}\n')
        status, said = after(there(name))
        check(f"{name}: its log is found again", status == 0 and os.path.basename(log) in said, said)
        check(f"{name}: what the plan has not is counted", "1 event names what the plan does not have" in said, said)
        with open(log, "a", encoding="utf-8") as f:
            f.write('{"at":90001,"event":"done","op":"plate/pie/Q1/fill"}\n')
        status, said = after(there(name))
        check(f"{name}: two of it too", "2 events name what the plan does not have" in said, said)

    # ---- plans ---------------------------------------------------------------------------------
    log = there("late.log")
    c = Clock(LATE, "--rehearse", "--log", log)
    check("a late plan goes on air all the same", c.shows("LATE ON SET"), c.text())
    c.type(b"q")
    check("a late plan: it leaves", c.ended()[0] == 0)
    status, said = after(LATE, log)
    check("and its day is told", status == 0 and "a rehearsal" in said, said)

    # Somebody enters what went wrong; what cannot be is told, what can be is gone on by.
    for kitchen in ([], ["--kitchen"]):
        log = there(f"mishap{len(kitchen)}.log")
        c = Clock(SHOW, "--rehearse", *kitchen, "--log", log)
        check("before anything goes wrong", c.shows("leave") and wait_events(log, 2), c.text())
        with open(log, encoding="utf-8") as f:
            at = json.loads(f.readlines()[-1])["at"]
        with open(log, "a", encoding="utf-8") as f:
            f.write(json.dumps({"at": at, "event": "mishap", "text": "05:10 Q9 burnt"}) + "\n")
        said = "NOT MENDED" if kitchen else "ask the kitchen"  # on air, or about to be, nothing is planned
        check("a mishap that cannot be", c.shows(said), c.text())
        c.type(b"q")
        status, said = c.ended()
        check("a mishap: it leaves", status == 0, said)

    # ---- questions -----------------------------------------------------------------------------
    c = Clock(there("new.json"), command="new")
    check("it asks", c.shows("title of the show"), c.text())
    c.type(b"x" * 300 + b"\n")
    check("an answer that is too long is told", c.shows("the answer is too long"), c.text())
    c.type(b"\n" * 8)
    check("and asked for once more", c.shows("is written; plan it"), c.text())
    check("new: it ends", c.ended()[0] == 0)

end()
