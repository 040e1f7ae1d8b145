# tests/outside/harm.py - what the tests of files that mean harm share: runs held to bounds, and how an answer to
# harm must look. The script that imports it is called with PROGRAM SOURCE.
#
# Each run is held to MEMORY bytes of address space and CPU seconds by the system (setrlimit), so that
# whoever takes more is killed and fails. Under a sanitizer only the seconds hold: its shadow takes
# terabytes of address space. The bounds are those of README, "Limits", with room.
import json
import os
import pty
import re
import resource
import select
import shutil
import signal
import subprocess
import sys
import tempfile
import time

program, source = (os.path.abspath(a) for a in sys.argv[1:])
MEMORY = 512 << 20
CPU = 120
SHARE = int(os.environ.get("SHARE") or 1)
passed = failed = 0


def some(things):
    """One in SHARE of what costs a plan each, the first among them."""
    return list(things)[::SHARE]


def check(good, name, what=""):
    global passed, failed
    passed += bool(good)
    failed += not good
    if not good:
        print(f"FAILED: {name}: {what}")


def bounded():
    factor = 10 if os.environ.get("SAN") else 1
    resource.setrlimit(resource.RLIMIT_CPU, (CPU * factor, CPU * factor))
    resource.setrlimit(resource.RLIMIT_FSIZE, (64 << 20, 64 << 20))
    if not os.environ.get("SAN"):
        resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))


def run(*args, **more):
    return subprocess.run([program, *args], capture_output=True, preexec_fn=bounded,
                          stdin=subprocess.DEVNULL, **more)


# What must never reach a reader raw: controls but tab and the line's end, line and paragraph
# separators, characters that turn the direction, and bytes that are no UTF-8.
RAW = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069]")


def unplain(data):
    try:
        found = RAW.search(data.decode("utf-8"))
    except UnicodeDecodeError as e:
        return f"not UTF-8: {e}"
    return f"U+{ord(found.group()):04X} at {found.start()}" if found else None


def plain_words(name, r):
    for stream, data in (("stdout", r.stdout), ("stderr", r.stderr)):
        check(not unplain(data), name, f"{stream}: {unplain(data)}")
        check(b"\r" not in data and b"\t" not in data, name, f"a tab or return on {stream}")


def refused(name, *args, status=(2,), says=None, lines=65, **more):
    """An error on stderr, of a bounded length, nothing on stdout, nothing in the folder d."""
    r = run(*args, **more)
    check(r.returncode in status, name, f"status {r.returncode}: {r.stderr[-300:]!r}")
    check(r.stderr.strip() and r.stderr.endswith(b"\n"), name, "no reason is given")
    check(r.stderr.count(b"\n") <= lines and len(r.stderr) < 65536, name,
          f"{len(r.stderr)} bytes of reasons")
    check(not r.stdout, name, f"says {r.stdout[:100]!r}")
    plain_words(name, r)
    if says:
        check(says.encode() in r.stderr, name, f"does not say {says!r}: {r.stderr[:300]!r}")
    check(not os.path.exists("d"), name, "a folder was made")
    shutil.rmtree("d", ignore_errors=True)
    return r


def plain_folder(name, folder):
    for file in sorted(os.listdir(folder)):
        path = os.path.join(folder, file)
        if file.endswith(".pdf"):
            text = subprocess.run(["pdftotext", "-enc", "UTF-8", path, "-"], capture_output=True)
            # pdftotext itself puts marks around words that run from right to left.
            data = re.sub(b"\xe2\x80[\xaa-\xac]", b"", text.stdout.replace(b"\f", b"\n"))
            check(text.returncode == 0 and data.strip(), name, f"{file}: no words")
        else:
            with open(path, "rb") as f:
                data = f.read()
        check(not unplain(data), name, f"{file}: {unplain(data)}")


def write(name, data):
    with open(name, "wb") as f:
        f.write(data if isinstance(data, bytes) else data.encode("utf-8", "surrogatepass"))
    return name


with open(source + "/shows/harbour-breakfast.json", encoding="utf-8") as file:
    SHOW = file.read()


def show(**changes):
    s = json.loads(SHOW)
    s.update(changes)
    return s


def put(s, name="s.json"):
    return write(name, json.dumps(s, ensure_ascii=False, indent=1))


def plan(*more, file="s.json"):
    return ("plan", file, "-o", "d", *more)


def on_terminal(*args, keys=b"", seconds=300):
    """The program on a terminal of 24 by 80; its status, and what it wrote there. `keys` are pressed at once."""
    pid, fd = pty.fork()
    if pid == 0:
        os.environ["TERM"] = "xterm"
        bounded()
        os.execv(program, [program, *args])
    data, end, status = b"", time.monotonic() + seconds, None
    while time.monotonic() < end and status is None:
        if keys and select.select([], [fd], [], 0)[1]:
            keys = keys[os.write(fd, keys[:256]):]
        if select.select([fd], [], [], .05)[0]:
            try:
                data += os.read(fd, 65536)
            except OSError:
                pass
        done, raw = os.waitpid(pid, os.WNOHANG)
        if done:
            status = os.waitstatus_to_exitcode(raw)
    if status is None:
        os.kill(pid, signal.SIGKILL)
        os.waitpid(pid, 0)
    while select.select([fd], [], [], 0)[0]:
        try:
            data += os.read(fd, 65536)
        except OSError:
            break
    os.close(fd)
    return status, data


def busy():
    return sum(sum(resource.getrusage(who)[:2]) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))


def main(*parts):
    """Each part in a folder that all share (PARTS=name,name: these alone), and the count at the end."""
    old = os.getcwd()
    with tempfile.TemporaryDirectory() as work:
        os.chdir(work)
        for part in parts:
            if os.environ.get("PARTS") and part.__name__ not in os.environ["PARTS"].split(","):
                continue
            start, before = busy(), passed + failed
            part()
            print(f"{part.__name__}: {passed + failed - before} checks, {busy() - start:.1f} s of the processors")
        os.chdir(old)
    print(f"{passed} passed, {failed} failed")
    sys.exit(1 if failed or not passed else 0)
