"""Calendars against RFC 5545 and against three parsers that are not libical.

    compare.py FOLDER...

Each FOLDER holds plan.json and calendars. What every calendar must hold is worked out from
plan.json alone: UIDs by Python's uuid (RFC 9562 version 5), which events there are by
src/out/calendar.h. Where FOLDER.before exists, what it held and FOLDER has no more is cancelled.
"""

import glob
import json
import os
import re
import subprocess
import sys
import uuid

import icalendar
import vobject

from strict import check

SPACE = uuid.uuid5(uuid.NAMESPACE_DNS, "backpot.invalid")


def expected(folder, file):
    """UID to (start, end) in UTC seconds."""
    with open(os.path.join(folder, "plan.json"), encoding="utf-8") as f:
        plan = json.load(f)
    cook = None
    if file != "prep.ics":
        cook = [p["id"] for p in plan["person"]].index(file[len("prep-") : -len(".ics")])
    events = []
    for air in plan["air"]:
        start = air["hit"]["t"]
        events.append(("on-air:" + air["id"], start, start + air["slot"]))
    for op in plan["op"]:
        unattended = op["kind"] in ("passive", "oven")
        if op["person"] == cook if cook is not None else op["person"] is not None or unattended:
            events.append((op["key"], op["from"]["t"], op["to"]["t"]))
    return {
        str(uuid.uuid5(SPACE, f"{plan['show_id']}/{file}/{key}")): (
            plan["midnight"] + start,
            plan["midnight"] + end,
        )
        for key, start, end in events
    }


def by_icalendar(path):
    """Raises nothing by itself: its list of errors and of what is required must be asked."""
    with open(path, "rb") as file:
        calendar = icalendar.Calendar.from_ical(file.read())
    for part in calendar.walk():
        missing = [name for name in part.required if name not in part]
        if part.errors or missing:
            raise ValueError(f"{part.name}: {part.errors} {missing}")
    return {
        str(event["UID"]): (event["DTSTART"].dt.timestamp(), event["DTEND"].dt.timestamp())
        for event in calendar.walk("VEVENT")
    }


def by_vobject(path):
    with open(path, encoding="utf-8", newline="") as file:
        calendar = vobject.readOne(file)
    calendar.validate(raiseException=True)
    found = {}
    for event in calendar.vevent_list:
        start, end = event.dtstart.value, event.dtend.value
        if start.tzinfo is None or end.tzinfo is None:
            raise ValueError(f"{event.uid.value}: a floating time")
        found[event.uid.value] = (start.timestamp(), end.timestamp())
    return found


def by_sabre(paths):
    """All files in one run of PHP: path to events."""
    script = os.path.join(os.path.dirname(os.path.abspath(__file__)), "instants.php")
    run = subprocess.run(["php", script, *paths], capture_output=True, text=True, check=False)
    found = {path: {} for path in paths}
    for line in run.stdout.splitlines():
        match = re.match(r"^(\S+) (\S+) (-?\d+) (-?\d+)$", line)
        if not match:
            raise ValueError(line)
        found[match[1]][match[2]] = (int(match[3]), int(match[4]))
    if run.returncode or run.stderr:
        raise ValueError(run.stderr)
    return found


def main():
    passed = failed = 0

    def note(good, what):
        nonlocal passed, failed
        passed += bool(good)
        failed += not good
        if not good:
            print("failed:", what)

    folders = sys.argv[1:]
    calendars = [(f, path) for f in folders for path in sorted(glob.glob(f + "/*.ics"))]
    sabre = by_sabre([path for _, path in calendars])
    for folder, path in calendars:
        file = os.path.basename(path)
        want, gone = expected(folder, file), {}
        if os.path.exists(os.path.join(folder + ".before", file)):
            before = expected(folder + ".before", file)
            gone = {uid: times for uid, times in before.items() if uid not in want}
        with open(path, "rb") as f:
            octets = f.read()
        faults = check(octets)
        note(not faults, f"{path}: {faults[:3]}")
        note(len(want) > 2, f"{path}: no events to compare")
        note(octets.count(b"\r\nSTATUS:CANCELLED\r\n") == len(gone), f"{path}: {len(gone)} are gone")
        want.update(gone)
        for name, found in (
            ("icalendar", by_icalendar(path)),
            ("vobject", by_vobject(path)),
            ("Sabre VObject", sabre[path]),
        ):
            other = [(uid, want.get(uid), found.get(uid)) for uid in want | found if want.get(uid) != found.get(uid)]
            note(not other, f"{path}: {name} reads otherwise {len(other)} of {len(want)}: {other[:2]}")
    for folder in folders:
        note(sum(f == folder for f, _ in calendars) >= 2, f"{folder}: calendars are missing")
    print(f"{passed} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
