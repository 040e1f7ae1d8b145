"""Hold the octets of an iCalendar file to RFC 5545, strictly; no parser is used.

    strict.py FILE...      one line for each fault; exit status 1 when there is any

Python's parsers let line feeds alone, over-long lines, zones without rules, ends before starts and
bare commas pass, so this reads the octets itself. It knows the properties that backpot writes and
objects to any other, so that a new one is added here with its rule.
"""

import re
import sys

ESCAPED = {"SUMMARY", "DESCRIPTION", "LOCATION", "NAME"}  # TEXT, 3.3.11
UTC = re.compile(r"^\d{8}T\d{6}Z$")
LOCAL = re.compile(r"^\d{8}T\d{6}$")
UUID5 = re.compile(r"^[0-9a-f]{8}-[0-9a-f]{4}-5[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$")

# What must stand exactly once, and what may stand at most once, in each component (3.6).
RULES = {
    "VCALENDAR": (
        {"VERSION", "PRODID"},
        {"CALSCALE", "NAME", "DESCRIPTION", "X-WR-CALNAME", "X-BACKPOT-SHOW", "X-BACKPOT-COOKS"},
    ),
    "VEVENT": (
        {"UID", "DTSTAMP", "DTSTART", "SEQUENCE", "SUMMARY", "STATUS", "LAST-MODIFIED", "TRANSP"},
        {"DTEND", "DESCRIPTION", "LOCATION", "CATEGORIES"},
    ),
    "VALARM": ({"ACTION", "TRIGGER", "DESCRIPTION"}, set()),
    "VTIMEZONE": ({"TZID"}, {"X-LIC-LOCATION"}),
    "STANDARD": ({"DTSTART", "TZOFFSETFROM", "TZOFFSETTO"}, {"TZNAME", "RRULE"}),
    "DAYLIGHT": ({"DTSTART", "TZOFFSETFROM", "TZOFFSETTO"}, {"TZNAME", "RRULE"}),
}
MANY = {"STANDARD": {"RDATE"}, "DAYLIGHT": {"RDATE"}}
INSIDE = {
    "VCALENDAR": {"VTIMEZONE", "VEVENT"},
    "VTIMEZONE": {"STANDARD", "DAYLIGHT"},
    "VEVENT": {"VALARM"},
}


class Component:
    def __init__(self, name, line):
        self.name, self.line, self.properties, self.parts = name, line, [], []

    def values(self, name):
        return [value for n, _, value, _ in self.properties if n == name]

    def value(self, name):
        found = self.values(name)
        return found[0] if found else None


def lines_of(octets, fault):
    """Unfolded lines with their numbers, after every rule of 3.1."""
    if not octets.endswith(b"\r\n"):
        fault(0, "the file does not end in CR LF")
    physical = octets.split(b"\r\n")
    if physical and physical[-1] == b"":
        physical.pop()
    unfolded = []
    for number, line in enumerate(physical, 1):
        if b"\n" in line or b"\r" in line:
            fault(number, "a CR or LF that is no line end")
        if len(line) > 75:
            fault(number, "longer than 75 octets")
        if not line:
            fault(number, "an empty line")
        try:
            line.decode("utf-8")
        except UnicodeDecodeError:
            fault(number, "not UTF-8, or folded inside a character")
        if re.search(rb"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f]", line):
            fault(number, "a control character")
        if line[:1] in (b" ", b"\t"):
            if not unfolded:
                fault(number, "the first line is a continuation")
            else:
                unfolded[-1][1].extend(line[1:])
        else:
            unfolded.append([number, bytearray(line)])
    return [(number, bytes(line).decode("utf-8", "replace")) for number, line in unfolded]


def parse(lines, fault):
    """The tree of components; RFC 5545 3.1 and 3.6."""
    stack, roots = [], []
    for number, line in lines:
        match = re.match(r'^([A-Z0-9-]+)((?:;[A-Z0-9-]+=(?:"[^"]*"|[^";:,]*))*):(.*)$', line, re.S)
        if not match:
            fault(number, "no content line: " + line[:40])
            continue
        name, parameters, value = match.groups()
        if name == "BEGIN":
            part = Component(value, number)
            if stack and value not in INSIDE.get(stack[-1].name, ()):
                fault(number, f"{value} may not stand in {stack[-1].name}")
            (stack[-1].parts if stack else roots).append(part)
            stack.append(part)
        elif name == "END":
            if not stack or stack[-1].name != value:
                fault(number, f"END:{value} ends nothing")
            else:
                stack.pop()
        elif not stack:
            fault(number, "a property outside every component")
        else:
            named = dict(p.split("=", 1) for p in parameters.split(";")[1:])
            stack[-1].properties.append((name, named, value, number))
    for open_part in stack:
        fault(open_part.line, f"{open_part.name} does not end")
    if len(roots) != 1 or roots[0].name != "VCALENDAR":
        fault(0, "not one VCALENDAR")
        return None
    return roots[0]


def check_counts(part, fault):
    required, optional = RULES.get(part.name, (set(), set()))
    for name in required:
        if len(part.values(name)) != 1:
            fault(part.line, f"{part.name} has {len(part.values(name))} {name}")
    for name, _, value, number in part.properties:
        if name in optional and len(part.values(name)) > 1:
            fault(number, f"{name} stands more than once")
        if name not in required | optional | MANY.get(part.name, set()):
            fault(number, f"{name} is not known in {part.name}")
        if value == "":
            fault(number, f"{name} is empty")
    for inner in part.parts:
        check_counts(inner, fault)


def check_text(part, fault):
    for name, parameters, value, number in part.properties:
        if name in ESCAPED and re.search(r"(?<!\\)(?:\\\\)*[;,]", value):
            fault(number, f"a bare ';' or ',' in {name}")
        if name in ESCAPED and re.search(r"(?<!\\)(?:\\\\)*\\(?![\\;,nN])", value):
            fault(number, f"an escape that is none in {name}")
        if name == "CATEGORIES" and re.search(r"[,;\\]", value):
            fault(number, "a CATEGORIES that readers would split")
        if name == "X-BACKPOT-SHOW" and not re.match(r"^[a-z0-9-]+$", value):
            fault(number, "a show that is no id")
        if parameters and name not in ("DTSTART", "DTEND"):
            fault(number, f"{name} with parameters")
    for inner in part.parts:
        check_text(inner, fault)


def is_real(value):
    digits = [int(value[a:b]) for a, b in ((0, 4), (4, 6), (6, 8), (9, 11), (11, 13), (13, 15))]
    year, month, day, hour, minute, second = digits
    leap = year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)
    length = [31, 29 if leap else 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]
    return 1 <= month <= 12 and 1 <= day <= length[month - 1] and hour < 24 and minute < 60 and second < 60


def check_times(event, zones, fault):
    forms = {}
    for name, parameters, value, number in event.properties:
        if name in ("DTSTAMP", "LAST-MODIFIED"):
            if not UTC.match(value) or not is_real(value):
                fault(number, f"{name} is no moment in UTC form")
        elif name in ("DTSTART", "DTEND"):
            zone = parameters.get("TZID")
            if set(parameters) - {"TZID"}:
                fault(number, f"{name} with a parameter other than TZID")
            if not (LOCAL if zone else UTC).match(value) or not is_real(value):
                fault(number, f"{name} is neither UTC nor local with TZID")
            if zone and zone not in zones:
                fault(number, f"no VTIMEZONE for {zone}")
            forms[name] = (zone, value)
    if len(forms) == 2:
        if forms["DTSTART"][0] != forms["DTEND"][0]:
            fault(event.line, "DTSTART and DTEND in two zones")
        elif forms["DTSTART"][1] >= forms["DTEND"][1]:
            fault(event.line, "DTEND not after DTSTART")


def check_event(event, zones, seen, fault):
    uid = event.value("UID") or ""
    if not UUID5.match(uid):
        fault(event.line, "the UID is no UUID of version 5")
    if uid in seen:
        fault(event.line, "the UID stands twice")
    seen.add(uid)
    if not re.match(r"^\d+$", event.value("SEQUENCE") or ""):
        fault(event.line, "SEQUENCE is no number")
    if event.value("STATUS") not in ("CONFIRMED", "CANCELLED"):
        fault(event.line, "STATUS is neither CONFIRMED nor CANCELLED")
    if event.value("TRANSP") not in ("OPAQUE", "TRANSPARENT"):
        fault(event.line, "TRANSP is neither OPAQUE nor TRANSPARENT")
    if event.value("DTSTAMP") != event.value("LAST-MODIFIED"):
        fault(event.line, "DTSTAMP is not LAST-MODIFIED though there is no METHOD")
    if event.value("STATUS") == "CANCELLED" and event.parts:
        fault(event.line, "a cancelled event rings")
    check_times(event, zones, fault)
    for alarm in event.parts:
        if alarm.value("ACTION") != "DISPLAY":
            fault(alarm.line, "ACTION is not DISPLAY")
        if not re.match(r"^-?P(?=.)(\d+D)?(T(?=.)(\d+H)?(\d+M)?(\d+S)?)?$", alarm.value("TRIGGER") or ""):
            fault(alarm.line, "TRIGGER is no duration")


def check_zone(zone, used, fault):
    if zone.value("TZID") not in used:
        fault(zone.line, "a VTIMEZONE that nothing uses")
    if (zone.value("TZID") or "").startswith("/"):
        fault(zone.line, "TZID with a prefix")
    if not zone.parts:
        fault(zone.line, "a VTIMEZONE without rules")
    for rule in zone.parts:
        if not LOCAL.match(rule.value("DTSTART") or ""):
            fault(rule.line, "a rule that does not start at a local time")
        for name in ("TZOFFSETFROM", "TZOFFSETTO"):
            if not re.match(r"^[+-]\d{4}(\d{2})?$", rule.value(name) or ""):
                fault(rule.line, f"{name} is no offset")
        for dates in rule.values("RDATE"):
            if not all(LOCAL.match(d) for d in dates.split(",")):
                fault(rule.line, "RDATE is not local")


def check(octets):
    """All faults of a file, each as (line, text)."""
    faults = []

    def fault(line, text):
        faults.append((line, text))

    calendar = parse(lines_of(octets, fault), fault)
    if calendar is None:
        return faults
    check_counts(calendar, fault)
    check_text(calendar, fault)
    if calendar.value("VERSION") != "2.0":
        fault(calendar.line, "VERSION is not 2.0")
    if not calendar.parts:
        fault(calendar.line, "a calendar without components")
    zones = {p.value("TZID") for p in calendar.parts if p.name == "VTIMEZONE"}
    used, seen = set(), set()
    for event in (p for p in calendar.parts if p.name == "VEVENT"):
        check_event(event, zones, seen, fault)
        used |= {q["TZID"] for _, q, _, _ in event.properties if "TZID" in q}
    for zone in (p for p in calendar.parts if p.name == "VTIMEZONE"):
        check_zone(zone, used, fault)
    return faults


def main():
    bad = False
    for name in sys.argv[1:]:
        with open(name, "rb") as file:
            for line, text in check(file.read()):
                print(f"{name}:{line}: {text}")
                bad = True
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
