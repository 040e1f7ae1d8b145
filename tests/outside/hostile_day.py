# tests/outside/hostile_day.py PROGRAM SOURCE - harm that comes by the other doors: a mishap, a loss, an answer typed,
# a log of floor or kitchen, a file of limits, a recipe in a file of its own. See harm.py and hostile.py.
#
# Sources: those of hostile.py.
import json
import os
import shutil

from harm import (check, main, on_terminal, plain_folder, plain_words, put, refused, run, show, some, source, unplain,
                  write)

# What stands in no text: each of these between two letters.
ODD = ["\x01", "\x07", "\x1b[31m", "\x1b]0;x\x07", "\x7f", "\x9b31m", "\u061c", "\u200e", "\u2028", "\u202e", "\u2066"]
# No UTF-8 (RFC 3629): overlong, a surrogate, beyond Unicode, cut, none at all.
BROKEN = [b"\xc0\xaf", b"\xc0\x80", b"\xe0\x80\xaf", b"\xf0\x80\x80\xaf", b"\xed\xa0\x80", b"\xf4\x90\x80\x80", b"\xe2\x82",
          b"\x80", b"\xff"]


def kept(name, before):
    """The files of the folder are those, byte for byte."""
    for file, data in before.items():
        with open(file, "rb") as f:
            check(f.read() == data, name, f"{file} is not as it was")


# ---- words of the command line ----

def mishaps():
    put(show())
    long = "x" * 100000
    for mishap in some(("", " ", "\t", "07:10", "burnt", "07:10 B2", "07:10 B2 burnt burnt", "07:10 " * 20000, long, f"{long} B2 burnt",
                   f"07:10 {long} burnt", f"07:10 B2 {long}", "07:10 B9 burnt", "07:10 b2 burnt", "07:10 B2 b\u00fcrnt",
                   "24:00 B2 burnt", "25:10 B2 burnt", "-1:00 B2 burnt", "07:60 B2 burnt", "7 B2 burnt", "99999999999:00 B2 burnt",
                   "07:10:99 B2 burnt", "-8d 07:10 B2 burnt", "+99999999d 07:10 B2 burnt", "NaN B2 burnt", "07:10 oven deck cold cold",
                   "07:10 oven none dead", "07:10 oven  dead", "07:10 burner", "07:10 nobody late until 07:40",
                   "07:10 rui late until", "07:10 rui late until 07:10", "07:10 rui late until 07:00", "07:10 rui late until 24:60",
                   "07:10 rui late until 99999999999999999999:00", "07:10 B2 roast until", "07:10 B2 none until 07:25",
                   "07:10 B2 roast until -8d 07:25", "\u0660\u0667:10 B2 burnt", "07:10\u00a0B2\u00a0burnt", "%s%n%s%n B2 burnt",
                   "$(touch pwned) B2 burnt", "--", "07:10 ../B2 burnt")):
        refused(f"the mishap {mishap!r:.60}", "mend", "s.json", "-o", "d", "--", mishap)
    # Each in one of the places in turn.
    for n, odd in some(enumerate(ODD)):
        mishap = (f"07:10 B{odd}2 burnt", f"07:1{odd}0 B2 burnt", f"07:10 B2 bu{odd}rnt", f"07:10 oven d{odd}eck dead", odd)[n % 5]
        refused(f"the mishap {mishap!r}", "mend", "s.json", "-o", "d", mishap)
    for n, broken in some(enumerate(BROKEN)):
        mishap = (b"07:10 B2" + broken + b" burnt", broken, b"x" * 59 + broken + b"x")[n % 3]
        refused(f"the mishap {mishap!r:.40}", "mend", "s.json", "-o", "d", mishap)
    refused("a word that is cut within a letter", "mend", "s.json", "-o", "d", b"x" * 58 + "\u00e9\u00e9".encode())
    for n in (21, 2000):  # twenty are taken at once
        refused(f"{n} mishaps", "mend", "s.json", "-o", "d", *["07:10 B2 burnt"] * n, status=(4,), says="one word too many")
    r = run("mend", "s.json", "-q", *["07:10 B2 burnt"] * 20)  # one container, lost time and again
    check(r.returncode in (0, 2, 3, 5) and (r.returncode == 0 or r.stderr.strip()), "one mishap 20 times", r)
    plain_words("one mishap 20 times", r)
    # At both ends of the day, and with all that there is.
    for mishaps_ in some((["00:00 B2 burnt"], ["23:59:59 B2 burnt"], [f"06:{m:02d} A{1 + m % 5} burnt" for m in range(20)],
                     ["05:30 oven deck dead", "05:30 burner dead", "05:30 rui away until 23:00", "05:30 ines away until 23:00"])):
        r = run("mend", "s.json", "-o", "d", *mishaps_)
        check(r.returncode in (0, 2, 3, 5, 7), f"the mishaps {mishaps_[:2]}", f"{r.returncode} {r.stderr!r}")
        check(r.returncode == 0 or r.stderr.strip() or r.stdout.strip(), f"the mishaps {mishaps_[:2]}", "no word")
        plain_words(f"the mishaps {mishaps_[:2]}", r)
        if os.path.exists("d"):
            plain_folder(f"the mishaps {mishaps_[:2]}", "d")
            shutil.rmtree("d")
    # A night whose clock jumps: a moment that never was, and one that was twice.
    s = show(date="2026-03-29")
    for cook in s["kitchen"]["cooks"]:
        cook.update({"call": "-1d 20:00", "wrap": "08:00", "breaks": []})
    s["segments"][0]["hit"] = "03:10"
    put(s)
    check(run("check", "s.json").returncode == 0, "a night", "the show is wrong")
    refused("a mishap in the hour that is skipped", "mend", "s.json", "-o", "d", "01:30 B2 burnt", says="no time of the show day")
    r = run("mend", "s.json", "02:30 B2 burnt")
    check(r.returncode in (0, 3), "a mishap after the hour that is skipped", f"{r.returncode} {r.stderr!r}")


def losses():
    put(show())
    for option, values in (("--lose", ("", ",", "0:20,", ",0:20", "0:20,,0:45", "0", "-0:20", "0:60", "99999999999:00", "1e9", "x",
                                       "0:20;0:45", "9" * 1000 + ":00", "0:20," * 3000 + "0:20", "\u0660:20", "0:2\x1b[31m0",
                                       "0:2\u202e0", b"0:2\xc0\xaf", "%n%n")),
                           ("--slot", ("", "0", "-1:00", "4:60", "99999999999:00", "1e9", "4", "4:2\x1b[31m5", "4:2\u202e5",
                                       b"4:2\xff5", "9" * 1000 + ":00"))):
        for value in some(values):
            refused(f"lengths {option} {value!r:.40}", "lengths", "s.json", option, value, status=(2, 4))
    for slot in ("0:00", "0:01", "24:00", "99:59"):  # lengths that are none of this slot's
        r = run("lengths", "s.json", "--slot", slot)
        check(r.returncode in (0, 2, 3, 4), f"a slot of {slot}", f"{r.returncode} {r.stderr!r}")
        check(r.stdout.strip() or r.stderr.strip(), f"a slot of {slot}", "no word")
        plain_words(f"a slot of {slot}", r)
    for value in ("", "0", "10", "-1", "1e9", "3x", " 3", "9" * 1000, "\u0663", "3\x1b[31m", b"\xff"):
        refused(f"draft --list {value!r:.40}", "draft", "s.json", "--list", value, status=(4,))


def checks():
    """Many files, and what is none."""
    put(show())
    os.mkdir("folder")
    os.mkfifo("pipe")
    for name, args, status in (("a folder", ["folder"], (1,)), ("nothing", [""], (1,)), ("a missing file", ["none.json"], (1,)),
                               ("a name of 5000 bytes", ["x" * 5000], (1,)), ("an odd name", ["a\x1b[31m\u202e.json"], (1,)),
                               ("a broken name", [b"a\xff.json"], (1,)), ("no file", [], (4,)),
                               ("a name with a slash", ["s.json/"], (1,)), ("a name with a NUL's place", ["s.json\n"], (1,))):
        refused(f"check of {name}", "check", *args, status=status)
    r = run("check", *["none.json"] * 999, "s.json")  # a thousand are taken at once
    check(r.returncode == 1 and r.stderr.count(b"none.json") == 999, "check of 1000 files", f"{r.returncode} {len(r.stderr)}")
    refused("check of 1001 files", "check", *["none.json"] * 1001, status=(4,), says="one word too many")
    write("bad.json", '{"backpot": 1' + ', "a": 1' * 3000 + "}")
    r = run("check", "bad.json", "none.json", "s.json")
    check(r.returncode == 2, "the status of the first", r.returncode)
    plain_words("the status of the first", r)


# ---- what is typed for a new show ----

USUAL = {"--title": "T", "--date": "2026-12-03", "--zone": "Europe/Lisbon", "--hit": "08:24", "--slot": "4:25", "--cooks": "1",
         "--burners": "1", "--ovens": "0"}


def answers(**changes):
    all_ = {**USUAL, **{"--" + k: v for k, v in changes.items()}}
    return [word for pair in all_.items() for word in pair]


def new():
    tries = {
        "title": ["", " ", "x" * 121, "x" * 100000, *("a" + odd + "b" for odd in ODD), "a\nb", "a\tb",
                  *(b"a" + broken + b"b" for broken in BROKEN)],
        "date": ["", "0000-01-01", "0001-01-01", "9999-12-31", "10000-01-01", "2026-02-29", "1969-12-31", "2038-01-01", "x",
                 "2026-12-03\x1b[31m", b"2026-12-0\xff", "9" * 1000],
        "zone": ["", "localtime", "../Europe/Lisbon", "Europe//Lisbon", "/etc/localtime", "x" * 10000, "Eur\x1b[31mope", b"\xff"],
        "hit": ["", "24:00", "-1:00", "8:24", "99999999999:00", "08:24\u202e", b"08:24\xff", "9" * 1000],
        "slot": ["", "0:00", "-1:00", "0:60", "99999999999:00", "4:25\x1b[31m", b"4:2\xff", "9" * 1000],
        "cooks": ["", "0", "-1", "100", "1.5", "1e2", "99999999999999999999", "\u0661", "1 ", "1\x1b", b"\xff"],
        "burners": ["", "0", "-1", "100", "99999999999999999999"], "ovens": ["", "-1", "100", "99999999999999999999"],
    }
    for option, values in tries.items():
        for value in some(values):
            refused(f"new --{option} {value!r:.40}", "new", "n.json", *answers(**{option: value}), status=(2, 4))
            check(not os.path.exists("n.json"), f"new --{option} {value!r:.40}", "a file is there")
    refused("a hit that the clock skips", "new", "n.json", *answers(date="2026-03-29", hit="01:30"), status=(2, 4))
    os.makedirs("folder", exist_ok=True)
    for path in ("", "folder", "folder/", "none/n.json", "/dev/null", "/dev/full", ".", "..", "/", "x" * 300, "n.json/",
                 "s.json/n.json", "/proc/self/mem"):
        for more in ([], ["--force"]):
            refused(f"a new show {path:.40} {more}", "new", path, *answers(), *more, status=(1,))
    check(os.listdir("folder") == [] and not os.path.exists("n.json"), "new shows", "a file is left")
    with open("/dev/null", "wb") as f:
        check(os.stat("/dev/null").st_mode & 0o170000 == 0o020000 and f, "new shows", "/dev/null is gone")
    for odd in ODD:
        name = "n" + odd + "w.json"
        r = run("new", name, *answers())
        check(r.returncode == 0 and os.path.exists(name), f"a new show {name!r}", r.stderr)
        plain_words(f"a new show {name!r}", r)
        plain_words(f"a new show {name!r} again", run("new", name, *answers()))
        os.unlink(name)
    for title in ("\\", '"', "\u05d0\u05d1", "</script>", "%s%n", "x" * 120, "e\u0301", "\U0001F373", "../../x"):
        r = run("new", "n.json", *answers(title=title))
        check(r.returncode == 0, f"the title {title!r}", r.stderr)
        with open("n.json", encoding="utf-8") as f:
            check(json.load(f)["title"] == title, f"the title {title!r}", "it is another")
        os.unlink("n.json")
    for date in ("1970-01-01", "2000-02-29", "2037-12-31"):
        r = run("new", "n.json", *answers(date=date))
        check(r.returncode == 0, f"the date {date}", r.stderr)
        os.unlink("n.json")


def typed():
    """The same on a terminal, where answers are asked for; the last is the end of all (Ctrl-D)."""
    end = b"\x04"
    for name, keys in (("nothing", b""), ("escapes", b"\x1b[31mx\n"), ("a long line", b"x" * 3000 + b"\n"),
                       ("bytes that are no UTF-8", b"a\xc0\xafb\n"), ("a turn of direction", "a\u202eb\n".encode()),
                       ("wrong dates", b"T\n" + b"0000-01-01\n9999-99-99\n" * 20), ("a line and no end", b"T")):
        status, out = on_terminal("new", "n.json", keys=keys + end + end)
        check(status == 1 and b"nothing was written" in out, f"{name} typed", f"status {status}: {out[-300:]!r}")
        check(not os.path.exists("n.json"), f"{name} typed", "a file is there")
        if name not in ("escapes", "bytes that are no UTF-8", "a turn of direction"):  # the terminal itself echoes what is typed
            check(not unplain(out), f"{name} typed", unplain(out))
    # A NUL (Ctrl-@) is a control character like any other: it takes no answer of the next question with it.
    status, out = on_terminal("new", "n.json", keys=b"\x16\0a\nT\n" + b"\n" * 7)
    check(status == 0 and os.path.exists("n.json"), "a NUL typed", f"status {status}: {out[-600:]!r}")
    if os.path.exists("n.json"):
        with open("n.json", encoding="utf-8") as f:
            check(json.load(f)["title"] == "T", "a NUL typed", "the title is another answer")
        os.unlink("n.json")


# ---- logs ----

def planned():
    put(show())
    r = run("plan", "s.json", "-q", "-o", "p", "--only", "json")
    check(r.returncode == 0, "the show of the logs", r.stderr)
    with open("p/plan.json", encoding="utf-8") as f:
        return json.load(f)


def head(p, **changes):
    return json.dumps({"backpot": "log", "format": 1, "show": p["show_id"], "stamp": p["stamp"], "rehearsal": False, **changes})


def wrong_logs(p):
    good = head(p)
    op = next(o["key"] for o in p["op"] if o["kind"] == "active")

    def event(**members):
        return good + "\n" + json.dumps({"at": 25000, "event": "start", "op": op, **members}) + "\n"

    yield from {
        "an escape": good.encode() + b'\n{"at":1,"\x1b[31m":1}\n', "an escaped one": good.encode() + b'\n{"event":"\\u001b[31m"}\n',
        "NULs": good.encode() + b"\n" + b"\0" * 5000 + b"\n", "no UTF-8": good.encode() + b'\n{"event":"\xc0\xaf"}\n',
        "a turn of direction": (good + '\n{"\u202e":1}\n').encode(), "deep nesting": b"[" * 1000000 + b"\n",
        "deep nesting in a line": good.encode() + b'\n{"at":' + b"[" * 100000 + b"\n",
        "a number of a million digits": good.encode() + b'\n{"at":' + b"9" * 1000000 + b',"event":"start"}\n',
        "no head": event().split("\n", 1)[1].encode(), "two heads": (good + "\n" + good + "\n").encode(),
        "the head of another show": (head(p, show="other") + "\n").encode(),
        "a head with a huge format": (head(p, format=10 ** 30) + "\n").encode(), "format 0": (head(p, format=0) + "\n").encode(),
        "a stamp that does something": (head(p, stamp="\x1b[31m\u202e") + "\n").encode(),
        "a stamp of a megabyte": (head(p, stamp="x" * 1000000) + "\n").encode(),
        "a time of thirty digits": event(at=10 ** 30).encode(), "a time beyond 64 bits": event(at=1 << 64).encode(),
        "half a second": event(at=0.5).encode(), "a time that is a text": event(at="25000").encode(),
        "a job of a megabyte": event(op="x" * 1000000).encode(),
        "a job with an escape": event(op=op + "\x1b[31m").encode(), "a job that turns": event(op=op + "\u202e").encode(),
        "an unknown event": event(event="explode").encode(),
        "an event of a megabyte": event(event="x" * 1000000).encode(), "a member too many": event(evil=1).encode(),
        "the same member twice": (good + '\n{"at":1,"at":2,"event":"start","op":"' + op + '"}\n').encode(),
        "a start that is undone twice": (event() + json.dumps({"at": 25001, "event": "undo"}) + "\n" +
                                         json.dumps({"at": 25002, "event": "undo"}) + "\n").encode(),
        "returns": event().replace("\n", "\r").encode(), "a mark of byte order": b"\xef\xbb\xbf" + event().encode(),
    }.items()


def odd_logs(p):
    """Well formed, and of no day: what the plan does not have is left out and told, the rest is taken as it stands."""
    good = head(p) + "\n"
    op = next(o["key"] for o in p["op"] if o["kind"] == "active")
    for name, key, told in (("an unknown job", "main/none/A1/none", b"1 event names"), ("a job that leads out", "../../../etc/passwd", b"1 event names"),
                            ("done before it began", op, b"began")):
        yield name, (good + json.dumps({"at": 25000, "event": "done", "op": key}) + "\n").encode(), told


def logs():
    """The logs of floor and kitchen, read by `after`, by `live` and by `live --kitchen`."""
    p = planned()
    with open("s.json", "rb") as f:
        old = f.read()
    for n, (name, data) in enumerate(some(wrong_logs(p))):
        write("bad.log", data)
        for more in ([], (["--learn"], ["--report", "d.pdf"])[n % 2]):
            refused(f"after {more} a log with {name}", "after", "s.json", "bad.log", *more, status=(1, 2))
        check(not os.path.exists("d.pdf"), f"a log with {name}", "a report is there")
        more = ([], ["--kitchen"])[n // 2 % 2]
        status, out = on_terminal("live", "s.json", *more, "--rehearse", "--log", "bad.log", seconds=60)
        check(status in (1, 2) and out.strip(), f"live {more} on a log with {name}", f"status {status}: {out[:300]!r}")
        check(not unplain(out), f"live {more} on a log with {name}", f"{unplain(out)}: {out[:300]!r}")
        kept(f"a log with {name}", {"bad.log": data, "s.json": old})
    for name, data, told in odd_logs(p):
        write("odd.log", data)
        for more in ([], ["--learn"]):
            r = run("after", "s.json", "odd.log", *more)
            check(r.returncode == 0 and not r.stderr and told in r.stdout, f"after {more} a log with {name}", f"{r.returncode} {r.stdout[:300]!r}")
            plain_words(f"after {more} a log with {name}", r)
        kept(f"a log with {name}", {"odd.log": data, "s.json": old})
    with open("big.log", "wb") as f:
        f.truncate(1 << 30)
    refused("after a log of a gigabyte", "after", "s.json", "big.log", "--learn", status=(1, 2), says="too large")
    status, out = on_terminal("live", "s.json", "--kitchen", "--rehearse", "--log", "big.log")
    check(status in (1, 2) and b"too large" in out, "the kitchen's log of a gigabyte", f"status {status}: {out!r}")
    os.unlink("big.log")
    os.makedirs("folder", exist_ok=True)
    for path in ("folder", "none.log", "", "/dev/zero", "s.json", "x" * 5000, "a\x1b[31m.log", b"a\xff.log"):
        refused(f"after the log {path!r:.30}", "after", "s.json", path, status=(1, 2))
    write("day.log", head(p) + "\n")
    for path in ("folder", "none/d.pdf", "/dev/full", "/dev/null", ""):
        r = run("after", "s.json", "day.log", "--report", path, "-q")
        check(r.returncode in (1, 2, 4) and r.stderr.strip(), f"a report {path}", f"{r.returncode} {r.stderr!r}")
        plain_words(f"a report {path}", r)
    refused("no log beside the show", "after", "s.json", status=(1,))
    check(os.stat("/dev/null").st_mode & 0o170000 == 0o020000, "reports", "/dev/null is gone")


def learned():
    """Days that nobody had: whatever is learned of them, the show can be read, and planned or told why not."""
    p = planned()
    with open("s.json", "rb") as f:
        old = f.read()
    ops = [o for o in p["op"] if o["kind"] in ("active", "measure")]
    for name, times in some((("no time at all", lambda o: (o["from"]["t"], o["from"]["t"])),
                        ("a second each", lambda o: (o["from"]["t"], o["from"]["t"] + 1)),
                        ("backwards", lambda o: (o["to"]["t"], o["from"]["t"])),
                        ("twenty hours each", lambda o: (o["from"]["t"], o["from"]["t"] + 72000)),
                        ("all at once", lambda o: (25000, 25001)),
                        ("at the end of time", lambda o: (500000, 600000)),
                        ("the day before", lambda o: (-80000, -79000)))):
        days = []
        for n in range(4):
            events = []
            for o in ops:
                start, done = times(o)
                events += [(start + n, "start", o["key"]), (done + n, "done", o["key"])]
            if name != "backwards":
                events.sort(key=lambda e: e[0])
            days.append(write(f"day{n}.log", head(p) + "\n" + "".join(
                json.dumps({"at": at, "event": kind, "op": key}) + "\n" for at, kind, key in events)))
        write("s.json", old)
        r = run("after", "s.json", "--learn", *days)
        check(r.returncode in (0, 2) and (r.returncode == 0 or r.stderr.strip()), f"days of {name}", f"{r.returncode} {r.stderr[:300]!r}")
        plain_words(f"days of {name}", r)
        if r.returncode:
            kept(f"days of {name}", {"s.json": old})
        again = run("check", "s.json")
        check(again.returncode == 0, f"days of {name}", f"the show cannot be read any more: {again.stderr[:300]!r}")
        plan_ = run("plan", "s.json", "-q")
        check(plan_.returncode in (0, 3, 5, 7), f"days of {name}", f"{plan_.returncode} {plan_.stderr[:300]!r}")
        r = run("after", "s.json", "--report", "d.pdf", "-q", days[0])
        # a show that learned to take longer than any day has may have no plan, and then no report
        check(r.returncode in (0, 2) or r.returncode == plan_.returncode == 3, f"a report of {name}", f"{r.returncode} {r.stderr[:300]!r}")
        if os.path.exists("d.pdf"):
            os.unlink("d.pdf")


# ---- files that a show names ----

def limits():
    def with_limits(data, name="l.json"):
        s = show()
        s["safety"] = {"limits": name}
        put(s)
        write("l.json", data if isinstance(data, (bytes, str)) else json.dumps(data, ensure_ascii=False))

    def town(**changes):
        return {"backpot_limits": 1, "id": "town", "title": "By-law 12", "base": "us-food-code",
                "rows": [dict({"limit": "hold hot", "celsius": "60 C", "fahrenheit": "140 F", "rule": "12(1)", "source": "here"},
                              **changes)]}

    with_limits(town())
    check(run("check", "s.json").returncode == 0, "limits of a town", run("check", "s.json").stderr)
    for member, values in (("celsius", ("1e9 C", "-1000 C", "99999999999 C", "NaN C", "60", "60 K", 60, None, [], "60 C\x1b[31m")),
                           ("time", ("-1 h", "0 s", "99999999999999999999 h", "1e9 h", "1/0 h", 4, None, "4 h\u202e")),
                           ("limit", ("", "hold", "hold hot ", 1, None, "x" * 100000, "hold\x1b[31m hot")),
                           ("rule", ("", "x" * 100000, "12\x1b[31m", "12\u202e", 1, None)),
                           ("source", ("x" * 1000000, "a\x07b", "a\u2028b", 1)), ("evil", (1,))):
        for value in some(values):
            with_limits(town(**{member: value}))
            refused(f"limits whose {member} is {value!r:.40}", "check", "s.json")
    for name, changes in (("no rows", {"rows": None}), ("rows that are none", {"rows": 1}), ("100000 rows", {"rows": town()["rows"] * 100000}),
                          ("a row that is a number", {"rows": [1]}), ("itself for a base", {"base": "town"}),
                          ("a file for a base", {"base": "l.json"}), ("a base that leads out", {"base": "../us-food-code"}),
                          ("a base of a megabyte", {"base": "x" * 1000000}), ("a base that does something", {"base": "us\x1b[31m"}),
                          ("a newer version", {"backpot_limits": 2}), ("version 0", {"backpot_limits": 0}),
                          ("a huge version", {"backpot_limits": 10 ** 40}), ("an id that leads out", {"id": "../x"}),
                          ("an id of a megabyte", {"id": "x" * 1000000}), ("a title that turns", {"title": "a\u202eb"}),
                          ("a member too many", {"evil": 1}), ("no base and one row", {"base": None})):
        data = {**town(), **changes}
        with_limits({k: v for k, v in data.items() if v is not None})
        refused(f"limits with {name}", "plan", "s.json", "-o", "d")
    for broken in BROKEN:
        with_limits(json.dumps(town()).encode().replace(b"By-law", b"By-" + broken + b"law"))
        refused(f"limits with {broken!r}", "check", "s.json")
    for name, data in (("nothing", b""), ("NULs", b"\0" * 1000), ("deep nesting", b"[" * 1000000), ("a number", b"1"), ("null", b"null"),
                       ("a cut file", json.dumps(town())[:-3].encode()), ("two files", json.dumps(town()).encode() * 2),
                       ("a show", json.dumps(show()).encode()), ("UTF-16", json.dumps(town()).encode("utf-16")),
                       ("a million rows", b'{"backpot_limits":1,"rows":[' + b"{}," * 999999 + b"{}]}")):
        with_limits(data)
        refused(f"{name} for limits", "check", "s.json")
    with open("l.json", "wb") as f:
        f.truncate(1 << 30)
    refused("limits of a gigabyte", "check", "s.json", says="too large")
    os.unlink("l.json")
    if not os.path.exists("pipe"):
        os.mkfifo("pipe")
    shutil.copy(source + "/shows/harbour-breakfast.json", "../outside.json")
    for path in ("none.json", "../outside.json", "/etc/passwd", "/dev/zero", "pipe", ".json", "a\x1b[31m.json", "x" * 3000 + ".json", "",
                 "us-food-code ", "US-FOOD-CODE", "s.json"):
        with_limits("{}", path)
        refused(f"the limits {path!r:.40}", "check", "s.json", status=(1, 2))
    os.unlink("../outside.json")
    # The hottest and the longest that may be said: a plan, or a reason.
    for changes in ({"celsius": "100 C", "fahrenheit": "212 F"}, {"celsius": "-20 C", "fahrenheit": "-4 F"}):
        with_limits(town(**changes))
        r = run("plan", "s.json", "-q", "-o", "d")
        check(r.returncode in (0, 2, 3, 7), f"limits of {changes}", f"{r.returncode} {r.stderr[:300]!r}")
        if os.path.exists("d"):
            plain_folder(f"limits of {changes}", "d")
            shutil.rmtree("d")


def recipes():
    """A recipe in a file of its own: the mistake is told by that file's name, line and column."""
    base = show()["recipes"][0]
    s = show()
    s["recipes"][0] = "r.json"
    put(s)

    def refused_recipe(name, data, **more):
        write("r.json", data if isinstance(data, (bytes, str)) else json.dumps(data, ensure_ascii=False, indent=1))
        r = refused(f"a recipe with {name}", "check", "s.json", **more)
        check(r.stderr.startswith(b"r.json:"), f"a recipe with {name}", f"no place in it: {r.stderr[:200]!r}")

    write("r.json", json.dumps(base))
    check(run("check", "s.json").returncode == 0, "a recipe of its own", run("check", "s.json").stderr)
    text = json.dumps(base, ensure_ascii=False)
    for broken in BROKEN:
        refused_recipe(f"the bytes {broken!r}", text.encode().replace(b'"Dice', b'"Di' + broken + b"ce", 1))
    for odd in ODD:
        for member in ("text", "id"):
            changed = json.loads(text)
            changed["steps"][0][member] = "a" + odd + "b"
            refused_recipe(f"{odd!r} in the {member} of a step", changed)
        refused_recipe(f"{odd!r} in the name of a member", {**base, "a" + odd: 1})
    for member, values in (("time", ("99999999999 min", "-1 min", "1e9 h", "0 min", "9-3 min", 5, None)),
                           ("core", ("99999 C", "-300 C", "NaN C", 74)), ("kind", ("explode", "", 1)), ("vessels", (["none"], 1, ["pot"] * 100000)),
                           ("after", (["none"], [["x"]], 1)), ("ingredients", ([{}], [1], [{"item": "x", "amount": "9" * 400}])),
                           ("hold", ({"counter": "999999999 h"}, {"counter": "-1 h"}, 1)), ("hazards", (["none"], 1)),
                           ("air", ({"time": "1-99999999999 s"}, {"time": "0 s"}, 1))):
        for value in some(values):
            changed = json.loads(text)
            changed["steps"][0][member] = value
            refused_recipe(f"{member} {value!r:.40}", changed)
    changed = json.loads(text)
    changed["steps"][0]["after"] = [changed["steps"][-1]["id"]]
    refused_recipe("a circle of steps", changed)
    changed["steps"] = [changed["steps"][0]] * 65
    refused_recipe("65 steps", changed)
    for name, serves in (("nobody", 0), ("fewer than nobody", -1), ("too many", 10 ** 12), ("half", 1.5), ("a text", "4")):
        refused_recipe(f"servings for {name}", {**base, "serves": serves})
    for name, data in (("nothing in it", b""), ("NULs", b"\0" * 100), ("deep nesting", b"[" * 1000000), ("a list for all", b"[]"), ("a number for all", b"1"),
                       ("a show for all", json.dumps(show())), ("a path for all", b'"r.json"'), ("a cut end", text[:-5]),
                       ("steps that are a path", {**base, "steps": "r.json"}), ("a million unknown members", "{" + ",".join(f'"m{i}":1' for i in range(200000)) + "}")):
        refused_recipe(name, data)


main(mishaps, losses, checks, new, typed, logs, learned, limits, recipes)
