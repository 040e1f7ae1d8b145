# tests/outside/hostile.py PROGRAM SOURCE - files that mean harm, and what must become of them: a reason on
# one line, a documented exit status, nothing written; or a plan whose every file is plain.
#
# Sources: RFC 3629 section 3 and 10 (overlong UTF-8, surrogates), RFC 8259 section 9 (limits of a
# reader), Unicode UAX #9 section 2 (directional characters), ECMA-48 (control characters), RFC 4180
# (CSV, read back by Python's csv), OWASP "CSV Injection" (what a spreadsheet takes for a formula; from
# memory), the system's tzdata by Python's zoneinfo.
import csv
import datetime
import json
import os
import re
import shutil
import time
import zoneinfo

from harm import (SHOW, check, main, on_terminal, plain_folder, plain_words, plan, program, put, refused, run, show,
                  some, source, unplain, write)

# ---- too much ----

def too_much():
    with open("big.json", "wb") as f:
        f.truncate(1 << 30)
    refused("a show of a gigabyte", *plan(file="big.json"), says="too large")
    refused("a show without an end", *plan(file="/dev/zero"), says="too large")
    s = show()
    s["recipes"][0] = "big.json"
    put(s)
    refused("a recipe of a gigabyte", *plan(), says="too large")
    put(show())
    for name in ("prep.ics", "prep-rui.ics"):
        os.mkdir("old")
        os.link("big.json", "old/" + name)
        r = run("plan", "s.json", "-q", "-o", "old")
        check(r.returncode == 1 and b"too large" in r.stderr, f"a {name} of a gigabyte",
              f"status {r.returncode}: {r.stderr!r}")
        check(os.listdir("old") == [name] and os.path.getsize("old/" + name) == 1 << 30,
              f"a {name} of a gigabyte", "it is not as it was")
        shutil.rmtree("old")
    os.unlink("big.json")

    step = '{"id":"s%d","text":"Stir","kind":"active","time":"1 min","after":[]}'
    for name, steps in (("a million steps", "{}," * 999999 + "{}"),
                        ("a million numbers for steps", "1," * 999999 + "1"),
                        ("65 steps", ",".join(step % i for i in range(65))),
                        ("50000 steps", ",".join(step % i for i in range(50000)))):
        write("s.json", '{"backpot":1,"recipes":[{"id":"r","title":"R","serves":1,"steps":[' + steps + "]}]}")
        refused(name, *plan())
    for member in ("recipes", "segments"):
        put(show(**{member: show()[member] * 1500}))
        refused(f"very many {member}", *plan())
    for what in ("text", "id", "words"):
        s = show()
        (s["segments"][0]["beats"][0] if what == "words" else s["recipes"][0]["steps"][0])[what] = "x" * 7000000
        put(s)
        refused(f"seven million bytes of {what}", *plan())
    put(dict(show(), **{"x" * 7000000: 1}))
    refused("seven million bytes of a name", *plan())
    write("s.json", "{" + ",".join(f'"m{i}":{i}' for i in range(300000)) + "}")
    refused("300000 unknown members", *plan())
    write("s.json", "{" + ",".join('"title":1' for i in range(300000)) + "}")
    refused("one member 300000 times", *plan())
    write("s.json", "[" * 1000000)
    refused("a million opened lists", *plan())
    write("s.json", '{"a":' * 1000000)
    refused("a million opened objects", *plan())
    write("s.json", '{"backpot":1,"recipes":' + "[" * 40 + "]" * 40 + "}")
    refused("lists forty deep", *plan())
    write("s.json", " " * 8000000)
    refused("eight million blanks", *plan())
    write("s.json", '"' + "\\u0041" * 1300000)
    refused("a text without an end", *plan())

    write("s.json", SHOW)
    for args in (("plan", "s.json", "--only", "x" * 100000), ("plan", "s.json", "--days", "9" * 1000),
                 ("plan", "s.json", "--seed", "-1"), ("plan", "s.json", "--seconds", "1e99"),
                 ("plan", "s.json", "--chance", "\x1b[31m"), ("lengths", "s.json", "--lose", "0:20," * 20000),
                 ("\x1b]0;gotcha\x07",), ("plan", "s.json", "--\u202eevil"), ("plan",) + ("s.json",) * 5000):
        refused(f"the arguments {args[:3]!r:.80}", *args, status=(4,))


# ---- not text ----

def not_text():
    good = SHOW.encode()
    put(show())
    bad = {"NUL": b"\0", "an overlong slash": b"\xc0\xaf", "an overlong slash of three": b"\xe0\x80\xaf",
           "an overlong slash of four": b"\xf0\x80\x80\xaf", "an overlong NUL": b"\xc0\x80",
           "a surrogate": b"\xed\xa0\x80", "a pair of surrogates": b"\xed\xa0\xbd\xed\xb8\x80",
           "beyond Unicode": b"\xf4\x90\x80\x80", "five bytes": b"\xf8\x88\x80\x80\x80",
           "a byte that follows nothing": b"\x80", "a cut sequence": b"\xe2\x82", "0xFF": b"\xff"}
    for name, data in bad.items():
        for where, old in (("a title", b"Harbour Breakfast"), ("an id", b'"id": "chop'), ("no text", b"{")):
            write("s.json", good.replace(old, old + data, 1))
            refused(f"{name} in {where}", *plan())
    for name, data in (("only NULs", b"\0" * 100), ("UTF-16", SHOW.encode("utf-16")),
                       ("UTF-32", SHOW.encode("utf-32")), ("nothing", b""), ("a cut show", good[:-20]),
                       ("two shows", good + good), ("an ELF file", open(program, "rb").read(100000))):
        write("s.json", data)
        refused(name, *plan())
    for name in ("\\u0000", "\\ud800", "\\udc00", "\\ud83dx", "\\uZZZZ", "\\x41"):
        write("s.json", SHOW.replace("Harbour Breakfast", "Harbour" + name, 1))
        refused(f"the escape {name}", *plan())


# ---- characters that do something ----

def texts(node, path=()):
    """Each text of a show, as a path of keys."""
    if isinstance(node, str):
        yield path
    elif isinstance(node, (list, dict)):
        for k, v in (node.items() if isinstance(node, dict) else enumerate(node)):
            yield from texts(v, path + (k,))


def at(s, path, change):
    for k in path[:-1]:
        s = s[k]
    s[path[-1]] = change(s[path[-1]])


ODD = ["\x01", "\x07", "\x08", "\n", "\r", "\t", "\x1b[31m", "\x1b]0;x\x07", "\x7f", "\x85", "\x9b31m", "\u061c",
       "\u200e", "\u200f", "\u2028", "\u2029", "\u202a", "\u202b", "\u202c", "\u202d", "\u202e", "\u2066", "\u2067",
       "\u2068", "\u2069"]


def odd_characters():
    paths = list(texts(show()))
    check(len(paths) > 150, "odd characters", "too few texts to try")
    for i, path in some(enumerate(paths)):  # each text, and each character many times
        odd = ODD[i % len(ODD)]
        s = show()
        at(s, path, lambda text, odd=odd: text[:1] + odd + text[1:])
        put(s)
        refused(f"U+{ord(odd[0]):04X} in {'.'.join(map(str, path))}", "check", "s.json")
    for odd in some(ODD):
        put(show(title="Harbour" + odd + "Breakfast"))
        refused(f"U+{ord(odd[0]):04X} in the title", *plan())
        put(show(**{"ti" + odd + "tle": 1}))
        refused(f"U+{ord(odd[0]):04X} in the name of a member", *plan())
        if "\n" not in odd:
            put(show(title="x", date="x"), "s" + odd + ".json")
            refused(f"U+{ord(odd[0]):04X} in the name of a file", *plan(file="s" + odd + ".json"))
            refused("and of a missing one", "plan", "none" + odd + ".json", "-o", "d", status=(1,))
            refused("and in the name of a new show's", "new", "-f", "no-folder/" + odd + ".json", "--title", "T",
                    status=(1, 4))

    # What is said in other scripts, and looks strange, is let through and comes out plain.
    s = show(title="\u05d0\u05e8\u05d5\u05d7\u05ea \u0628\u062d\u0631 e\u0301 x\u00adq")
    s["recipes"][0]["title"] = "</text><script>&amp;%s%n$(id)`id`\\(x\\) Tj ET"
    s["recipes"][0]["steps"][0]["text"] = "END:VEVENT\\nBEGIN:VEVENT;X=\"1\":,;"
    s["segments"][0]["title"] = "e" + "\u0301" * 50
    s["kitchen"]["cooks"][0]["name"] = "BEGIN:VALARM"
    put(s)
    r = run(*plan())
    check(r.returncode == 0, "strange texts", r.stderr)
    plain_words("strange texts", r)
    plain_folder("strange texts", "d")
    with open("d/prep.ics", "rb") as f:
        ics = f.read()
    lines = ics.split(b"\r\n")
    check(b"\n" not in ics.replace(b"\r\n", b"") and all(len(line) <= 75 for line in lines), "strange texts",
          "a calendar line that is torn or too long")
    unfolded = ics.replace(b"\r\n ", b"").split(b"\r\n")
    with open("d/plan.json", encoding="utf-8") as f:
        ops = json.load(f)["op"]
    check(0 < unfolded.count(b"BEGIN:VEVENT") <= len(ops), "strange texts", "an event out of a text")
    check(all(re.match(rb"[A-Z-]+[:;]", line) for line in unfolded if line), "strange texts", "a line without a name")
    with open("d/timeline.svg", "rb") as f:
        check(b"<script" not in f.read(), "strange texts", "a script in the picture")
    shutil.rmtree("d")

    # An output folder whose name does something.
    r = run("plan", "s.json", "-o", "d\x1b[31m\u202e")
    check(r.returncode == 0, "an odd folder", r.stderr)
    plain_words("an odd folder", r)


# ---- what an earlier run is said to have left ----

def earlier():
    put(show())
    check(run(*plan("-q")).returncode == 0, "a first run", "")
    s = show()
    del s["segments"][0]["beats"][5]  # so that events go, which are kept as cancelled ones
    put(s, "less.json")
    with open("d/prep.ics", "rb") as f:
        good = f.read()
    events = good.count(b"BEGIN:VEVENT")
    for name, old, new in some((("an escape", b"SUMMARY:", b"SUMMARY:\x1b[31m"), ("NUL", b"SUMMARY:", b"SUMMARY:\0"),
                           ("a turn of direction", b"SUMMARY:", "SUMMARY:\u202e".encode()),
                           ("no UTF-8", b"SUMMARY:", b"SUMMARY:\xc0\xaf"), ("a lone return", b"SUMMARY:", b"SUMMARY:\r"),
                           ("a huge sequence", b"SEQUENCE:0", b"SEQUENCE:99999999999999999999"),
                           ("a sequence below 0", b"SEQUENCE:0", b"SEQUENCE:-1"),
                           ("a torn end", b"END:VCALENDAR\r\n", b""),
                           ("deep nesting", b"BEGIN:VEVENT\r\n", b"BEGIN:VEVENT\r\n" * 100000))):
        bad = good.replace(old, new, 1)
        check(bad != good, f"an earlier calendar with {name}", "the test changes nothing")
        write("d/prep.ics", bad)
        r = run("plan", "less.json", "-q", "-o", "d", "--only", "calendar")
        check(r.returncode == 1 and r.stderr.strip(), f"an earlier calendar with {name}", f"{r.returncode} {r.stderr!r}")
        plain_words(f"an earlier calendar with {name}", r)
        with open("d/prep.ics", "rb") as f:
            check(f.read() == bad, f"an earlier calendar with {name}", "it is not as it was")
    # The name of a cook's file is made from the id, not taken from it.
    before = set(os.listdir("."))
    write("d/prep.ics", good.replace(b"X-BACKPOT-COOKS:", b"X-BACKPOT-COOKS:../../x ../y /z ", 1))
    r = run("plan", "less.json", "-q", "-o", "d", "--only", "calendar")
    check(r.returncode == 0 and set(os.listdir(".")) == before, "cooks of an earlier calendar that are paths", r.stderr)
    check(all(re.fullmatch("prep[a-z0-9-]*[.]ics", n) for n in os.listdir("d") if n.endswith(".ics")),
          "cooks of an earlier calendar that are paths", os.listdir("d"))
    write("d/prep.ics", good)
    r = run("plan", "less.json", "-q", "-o", "d", "--only", "calendar")
    with open("d/prep.ics", "rb") as f:
        check(r.returncode == 0 and f.read().count(b"STATUS:CANCELLED") > 0, "an earlier calendar", f"{r.stderr!r}")
    check(events > 10, "an earlier calendar", "it has too few events")
    shutil.rmtree("d")


# ---- the log of a day ----

def live(log):
    return on_terminal("live", "s.json", "--rehearse", "--log", log)


def logs():
    put(show())
    for name, data in some((("an escape", b'{"log": 1, "\x1b[31m": 1}\n'), ("an escaped one", b'{"log":"\\u001b[31m"}\n'),
                       ("NULs", b"\0" * 5000 + b"\n"), ("no UTF-8", b'{"log":"\xc0\xaf"}\n'),
                       ("a turn of direction", '{"\u202e":1}\n'.encode()), ("deep nesting", b"[" * 1000000 + b"\n"),
                       ("a number of a million digits", b'{"log":' + b"9" * 1000000 + b"}\n"),
                       ("a line without an end", b"x" * 8000000), ("empty lines", b"\n" * 1000000))):
        write("bad.log", data)
        status, out = live("bad.log")
        check(status in (1, 2), f"a log with {name}", f"status {status}: {out[:200]!r}")
        check(out.strip() and not unplain(out), f"a log with {name}", f"{unplain(out)}: {out[:200]!r}")
        with open("bad.log", "rb") as f:
            check(f.read() == data, f"a log with {name}", "it is not as it was")
    with open("big.log", "wb") as f:
        f.truncate(1 << 30)
    status, out = live("big.log")
    check(status in (1, 2) and b"too large" in out, "a log of a gigabyte", f"status {status}: {out!r}")
    os.unlink("big.log")


# ---- names that lead elsewhere ----

def names():
    os.makedirs("in/sub")
    with open(source + "/shows/harbour-breakfast.json", encoding="utf-8") as f:
        recipe = json.load(f)["recipes"][0]
    for path in ("outside.json", "in/sub/inside.json"):
        write(path, json.dumps(recipe))
    os.symlink("../outside.json", "in/link.json")
    os.symlink(os.path.abspath("outside.json"), "in/absolute.json")
    os.symlink("..", "in/up")
    os.symlink("loop.json", "in/loop.json")
    os.symlink("sub/inside.json", "in/near.json")
    os.mkfifo("in/pipe.json")
    os.mkdir("in/folder.json")

    def with_recipe(path):
        s = show()
        s["recipes"][0] = path
        put(s, "in/s.json")

    for path in ("../outside.json", "sub/../../outside.json", "/etc/passwd", os.path.abspath("outside.json"),
                 "link.json", "absolute.json", "up/outside.json", "loop.json", "pipe.json", "folder.json", "",
                 ".", "..", "sub//inside.json", "sub\\inside.json", "C:inside.json", "file:///etc/passwd",
                 "~/inside.json", "none.json", "s.json", "x" * 1000, "sub/inside.json/", "/dev/stdin",
                 "/proc/self/environ", "../in/sub/inside.json"):
        with_recipe(path)
        r = refused(f"a recipe {path:.40}", *plan(file="in/s.json"), status=(1, 2))
        check(b"root:" not in r.stderr and b"Dice the carrots" not in r.stderr, f"a recipe {path:.40}",
              "what stands in it is told")
    for path in ("sub/inside.json", "near.json", "./sub/inside.json"):
        with_recipe(path)
        r = run("plan", "in/s.json", "-q")
        check(r.returncode == 0, f"a recipe {path}", r.stderr)

    # File names come from cooks' ids; titles and names of people never become one.
    for odd in ("../x", "a/b", ".", "..", "a.b", "a b", "A", "-x", "", "x" * 41, "caf\u00e9", "a\\b", "con:", "*"):
        s = show()
        s["kitchen"]["cooks"][0]["id"] = odd
        put(s)
        refused(f"a cook's id {odd!r:.20}", *plan())
        put(show(id=odd))
        refused(f"a show's id {odd!r:.20}", *plan())
    s = show(title="../../../tmp/x/\\:*?|$(touch pwned)`touch pwned`;touch pwned")
    s["kitchen"]["cooks"][0]["name"] = "../../ines"
    s["segments"][0]["title"] = "/etc/passwd"
    s["segments"][0]["dishes"][0]["title"] = "..\\..\\soup.pdf"
    put(s)
    before = set(os.listdir("."))
    r = run(*plan("-q"))
    check(r.returncode == 0 and set(os.listdir(".")) - before == {"d"}, "titles that look like paths", r.stderr)
    check(set(os.listdir("d")) == {"cue-sheet.pdf", "prep-sheet.pdf", "timeline.pdf", "timeline.svg", "labels.pdf",
                                   "tray-map.pdf", "tray-map.txt", "chance.pdf", "strike-list.pdf", "strike-list.txt", "pack-list.pdf", "pack-list.txt", "pack-list.csv", "pull-list.pdf", "pull-list.txt", "pull-list.csv", "prep.ics",
                                   "prep-rui.ics", "plan.json"} | ({"changes.pdf"} & set(os.listdir("d"))),
          "titles that look like paths", os.listdir("d"))
    shutil.rmtree("d")
    r = run("new", "x.json", "--title", "../../a/\\b c$(id)", "--date", "2026-12-03", "--zone", "Europe/Lisbon",
            "--hit", "08:24", "--slot", "4:25", "--cooks", "2", "--burners", "2", "--ovens", "0")
    check(r.returncode == 0, "a new show of an odd title", r.stderr)
    check(run("plan", "x.json", "-q").returncode == 0, "a new show of an odd title", "does not plan")


# ---- a table that a spreadsheet would run ----

def formulas():
    evil = ["=1+1", "+1", "-1", "@SUM(A1)", "=cmd|' /C calc'!A0", "\uff1d1+1", "\uff0b1", "\uff0d1", "\uff201",
            "=HYPERLINK(\"http://x\",\"y\")", "plain, with =", "\"=1", "'=1", ";=1", "x\"=1", "\u00a0=1"]
    for n, text in some(enumerate(evil)):
        s = show()
        first, second = s["recipes"][0]["steps"][0]["ingredients"]
        first.update({"item": text, "from": text})
        second["note"] = text
        s["kitchen"]["tools"][0]["name"] = text
        s["kitchen"]["vessels"][0].update({"name": text})
        put(s)
        r = run("plan", "s.json", "-q", "-o", "d", "--only", "pull-csv,pull-list")
        check(r.returncode == 0, f"the cell {text}", r.stderr)
        if r.returncode:
            continue
        with open("d/pull-list.csv", newline="", encoding="utf-8") as f:
            rows = list(csv.reader(f, strict=True))
        check(len({len(row) for row in rows}) == 1, f"the cell {text}", "rows of different lengths")
        cells = [cell for row in rows for cell in row]
        check(any(text in cell for cell in cells), f"the cell {text}", "it is missing")
        for separator in ",", ";", "\t":  # what a spreadsheet splits at depends on where it runs
            with open("d/pull-list.csv", newline="", encoding="utf-8") as f:
                for row in csv.reader(f, delimiter=separator):
                    for cell in row:
                        check(separator == ";" or not cell.lstrip(" ").startswith(tuple("=+-@\uff1d\uff0b\uff0d\uff20")),
                              f"the cell {text}", f"split at {separator!r} a formula stands in the table: {cell!r}")
        shutil.rmtree("d")


# ---- clocks and calendars ----

def clocks():
    for zone in ("Mars/Olympus", "", "Europe/Lisbon ", " Europe/Lisbon", "europe/lisbon", "Europe/", "Europe",
                 "../zoneinfo/Europe/Lisbon", "Europe/../Europe/Lisbon", "/usr/share/zoneinfo/Europe/Lisbon",
                 "/etc/localtime", "zone.tab", "right/Europe/Lisbon", "posix/Europe/Lisbon", "UTC0", "CET-1CEST",
                 ":Europe/Lisbon", "x" * 1000, "Europe/Lisbon\\0", "%s%n", "Europe//Lisbon", "localtime", "posixrules", "Factory", "tzdata.zi"):
        put(show(zone=zone))
        refused(f"the zone {zone!r:.40}", *plan(), says="zone")
    for date in ("0000-01-01", "0000-12-31", "0001-01-01", "9999-12-31", "10000-01-01", "-0001-01-01", "+2026-12-03",
                 "2026-02-29", "2027-02-29", "1900-02-29", "2100-02-29", "2028-02-30", "2026-13-01", "2026-00-10",
                 "2026-04-31", "2026-01-00", "2026-01-32", "1969-12-31", "2038-01-01", "99999999999-01-01", "2026-1-1",
                 "26-12-03", "2026-12-03T00:00", "", "tomorrow", "2026/12/03", "\u0662\u0660\u0662\u0666-12-03"):
        put(show(date=date))
        refused(f"the date {date!r}", *plan())
    # Days of a zone whose clock jumps over the whole day: Samoa had no 30 December 2011.
    put(show(zone="Pacific/Apia", date="2011-12-30"))
    refused("a day that never was", *plan())
    for clock in ("24:00", "23:60", "08:24:60", "-1:00", "99999999999:00", "-8d 05:00", "-99999999999d 05:00", "8:24",
                  "08.24", "08:24Z", "08:24+99:99", ""):
        s = show()
        s["segments"][0]["hit"] = clock
        put(s)
        refused(f"the hit {clock!r}", *plan())
    for date in some(("2028-02-29", "2000-02-29", "1970-01-01", "2037-12-31")):
        put(show(date=date))
        r = run("plan", "s.json", "-q")
        check(r.returncode == 0, f"the day {date}", r.stderr)

    # A night in which the clock jumps: what lies in the gap is refused, what is said twice is told by its
    # offset, and each moment is the one that the system's own zone data gives.
    def night(date, zone, hit, call):
        s = show(zone=zone, date=date)
        for cook in s["kitchen"]["cooks"]:
            cook.update({"call": call, "wrap": "08:00", "breaks": []})
        s["segments"][0]["hit"] = hit
        put(s)

    for date, zone, hit in (("2026-03-29", "Europe/Lisbon", "01:30"), ("2026-03-29", "Europe/Paris", "02:00"),
                            ("2026-03-08", "America/New_York", "02:59:59"), ("2026-10-04", "Australia/Lord_Howe", "02:15")):
        night(date, zone, hit, "-1d 20:00")
        refused(f"the hit {hit} of {date} in {zone}", *plan(), says="the clock skips this time")
    for date, zone, hit, want in some((
            ("2026-03-29", "Europe/Lisbon", "02:00", 1), ("2026-03-29", "Europe/Lisbon", "03:10", 1),
            ("2026-10-25", "Europe/Lisbon", "03:00", 0), ("2026-11-01", "America/New_York", "04:00", -5),
            ("2026-10-25", "Europe/Lisbon", "01:30+01:00", 1), ("2026-10-25", "Europe/Lisbon", "01:30+00:00", 0),
            ("2026-04-05", "Australia/Lord_Howe", "04:00", 10.5), ("2026-01-01", "Pacific/Kiritimati", "04:00", 14))):
        night(date, zone, hit, "-1d 20:00")
        r = run(*plan("-q", "--only", "json,calendar"))
        check(r.returncode == 0, f"{hit} of {date} in {zone}", r.stderr)
        if r.returncode:
            continue
        with open("d/plan.json", encoding="utf-8") as f:
            p = json.load(f)
        tz = zoneinfo.ZoneInfo(zone)
        moments = []

        def walk(node):
            if isinstance(node, dict):
                if set(node) == {"t", "local"}:
                    moments.append(node)
                for v in node.values():
                    walk(v)
            elif isinstance(node, list):
                for v in node:
                    walk(v)

        walk(p)
        check(len(moments) > 50, f"{hit} of {date} in {zone}", "too few moments to hold against the zone")
        wrong = [m for m in moments if datetime.datetime.fromtimestamp(p["midnight"] + m["t"], tz).isoformat() != m["local"]]
        check(not wrong, f"{hit} of {date} in {zone}", wrong[:2])
        local = datetime.datetime.fromisoformat(f"{date}T{hit[:5]}:00")
        instant = (local - datetime.datetime(1970, 1, 1)).total_seconds() - want * 3600
        check(any(p["midnight"] + m["t"] == instant for m in moments), f"{hit} of {date} in {zone}",
              "the hit is another moment")
        shutil.rmtree("d")


# ---- numbers ----

def numbers():
    for number in ("1e999", "-1e999", "99999999999999999999999", "-1", "0.5", "1e-400", "0." + "1" * 100000, "9" * 1000000,
                   "NaN", "Infinity", "0x10", "1_000", "01", "+1", ".5", "1.", "2147483648", "4294967297",
                   "9223372036854775808", "18446744073709551617", "true", "null"):
        for member in ("burners", "backpot"):
            text, n = re.subn(rf'"{member}": [0-9]+', f'"{member}": {number}', SHOW, count=1)
            check(n == 1, "numbers", f"no {member}")
            write("s.json", text)
            refused(f"{member} {number:.30}", *plan())
    for time_ in ("99999999999999999999 min", "1e9 h", "-5 min", "0x5 min", "5 min " * 1000, "1/0 min", "PT" + "9" * 40 + "M",
                  "5-3 min", "\u0665 min", "5\u00a0000 h", "NaN min", "9223372036854775807 s", "153722867280912931 min"):
        put_step = show()
        put_step["recipes"][0]["steps"][0]["time"] = time_
        put(put_step)
        refused(f"the time {time_:.30}", *plan())
    for amount in ("1/0 cup", "0/0 g", "9" * 400 + " g", "1e400 g", "-1 g", "9223372036854775807 kg", "1/99999999999999999999 g",
                   "18446744073709551616 x 400 g can", "1 " * 1000 + "g", "\u2154" * 100 + " g", "1/3/3 g"):
        s = show()
        s["recipes"][0]["steps"][0]["ingredients"][0]["amount"] = amount
        put(s)
        refused(f"the amount {amount:.30}", *plan())
    for heat in ("99999999999 F", "-1000 C", "1e9 C", "NaN C", "400 K", "400"):
        s = show()
        s["recipes"][1]["steps"][2]["oven"]["temperature"] = heat
        put(s)
        refused(f"the temperature {heat}", *plan())


# ---- as much as is allowed ----

def largest():
    """Bounds of work, not only of size: whether a plan is found or not, there is an end and a word."""
    if os.environ.get("SAN"):
        return
    s = show()
    s["kitchen"]["burners"] = 64
    for cook in s["kitchen"]["cooks"]:
        cook.update({"call": "-1d 05:00", "wrap": "23:00", "breaks": []})
    step = {"text": "Stir", "kind": "active", "time": "1 min",
            "hold": {"counter": "5 h", "hot": "5 h", "cold": "9 h", "set": "5 h"}}
    s["recipes"] = [{"id": f"r{i}", "title": f"Dish {i}", "serves": 4,
                     "steps": [dict(step, id=f"s{k}") for k in range(12)]} for i in range(32)]
    s["segments"] = [{"id": "g", "title": "All", "hit": "12:00", "slot": "10:00",
                      "dishes": [{"id": f"d{j}", "recipe": f"r{j}"} for j in range(32)],
                      "beats": [{"id": f"b{j}", "dish": f"d{j % 32}", "does": [f"s{j // 32}"], "text": "t",
                                 "time": "5-15 s", "worth": 5} for j in range(64)]}]
    put(s)
    start = time.monotonic()
    r = run("plan", "s.json", "-q", "-o", "d", "--only", "json")
    check(r.returncode in (0, 3, 5, 7), "a large show", f"status {r.returncode}: {r.stderr[:300]!r}")
    print(f"a large show took {time.monotonic() - start:.1f} s")


main(too_much, not_text, odd_characters, earlier, logs, names, formulas, clocks, numbers, largest)
