"""The strict check itself, tried on a good calendar broken in one way at a time.

    strict_broken.py GOOD      GOOD names its zone and has an alarm
"""

import re
import sys

from strict import check


def sub(pattern, to):
    """Replace the first match, which must be there."""

    def change(octets):
        changed, n = re.subn(pattern, to, octets, count=1, flags=re.S)
        assert n == 1, pattern
        return changed

    return change


# name, change, part of what must be said
BROKEN = [
    ("LF alone", lambda b: b.replace(b"\r\n", b"\n"), "does not end in CR LF"),
    ("one LF alone", sub(rb"\r\nSUMMARY", b"\nSUMMARY"), "no line end"),
    ("no last line end", lambda b: b[:-2], "does not end in CR LF"),
    ("76 octets", sub(rb"\r\nSUMMARY:", b"\r\nSUMMARY:" + b"a" * 68), "longer than 75"),
    ("an empty line", sub(rb"\r\nSUMMARY", b"\r\n\r\nSUMMARY"), "an empty line"),
    ("folded inside a character", sub(b"\xc3\xa3", b"\xc3\r\n \xa3"), "folded inside a character"),
    ("not UTF-8", sub(rb"\r\nSUMMARY:", b"\r\nSUMMARY:\xff"), "not UTF-8"),
    ("a control character", sub(rb"\r\nSUMMARY:", b"\r\nSUMMARY:\x01"), "a control character"),
    ("no colon", sub(rb"\r\nSUMMARY:", b"\r\nSUMMARY "), "no content line"),
    ("no VERSION", sub(rb"VERSION:2.0\r\n", b""), "0 VERSION"),
    ("another VERSION", sub(rb"VERSION:2.0", b"VERSION:1.0"), "VERSION is not 2.0"),
    ("no PRODID", sub(rb"PRODID:[^\r]*\r\n", b""), "0 PRODID"),
    ("no UID", sub(rb"UID:[^\r]*\r\n", b""), "0 UID"),
    ("a UID of version 4", sub(rb"(UID:.{14})5", rb"\g<1>4"), "no UUID of version 5"),
    ("no DTSTAMP", sub(rb"DTSTAMP:[^\r]*\r\n", b""), "0 DTSTAMP"),
    ("DTSTAMP local", sub(rb"(DTSTAMP:[^\r]*)Z\r", rb"\1\r"), "DTSTAMP is no moment"),
    ("DTSTAMP alone moved", sub(rb"(DTSTAMP:\d{8}T\d{5})\d", rb"\g<1>9"), "not LAST-MODIFIED"),
    ("no SEQUENCE", sub(rb"SEQUENCE:[^\r]*\r\n", b""), "0 SEQUENCE"),
    ("SEQUENCE below zero", sub(rb"SEQUENCE:", b"SEQUENCE:-"), "SEQUENCE is no number"),
    ("no DTSTART", sub(rb"(VEVENT.*?)DTSTART;[^\r]*\r\n", rb"\1"), "0 DTSTART"),
    ("floating", sub(rb"(VEVENT.*?DTSTART);TZID=[^:]*", rb"\1"), "neither UTC nor local"),
    ("both zone and Z", sub(rb"(VEVENT.*?DTSTART;TZID=[^\r]*)\r", rb"\1Z\r"), "neither UTC nor local"),
    ("month 13", sub(rb"(VEVENT.*?DTSTART[^:]*:\d{4})\d\d", rb"\g<1>13"), "neither UTC nor local"),
    ("30 February", sub(rb"(VEVENT.*?DTSTART[^:]*:\d{4})\d{4}", rb"\g<1>0230"), "neither UTC nor local"),
    ("end before start", sub(rb"(VEVENT.*?DTEND[^:]*:)\d{4}", rb"\g<1>2001"), "DTEND not after DTSTART"),
    ("two zones", sub(rb"(VEVENT.*?DTEND);TZID=[^:]*(:\d{8}T\d{6})", rb"\1\2Z"), "in two zones"),
    ("no VTIMEZONE", sub(rb"BEGIN:VTIMEZONE.*END:VTIMEZONE\r\n", b""), "no VTIMEZONE for"),
    ("another TZID", sub(rb"\r\nTZID:", b"\r\nTZID:X"), "no VTIMEZONE for"),
    ("a zone without rules", sub(rb"(TZID:[^\r]*\r\n).*?END:VTIMEZONE", rb"\1END:VTIMEZONE"), "without rules"),
    ("a rule in UTC", sub(rb"(BEGIN:DAYLIGHT.*?DTSTART:[^\r]*)", rb"\1Z"), "does not start at a local time"),
    ("no offset", sub(rb"TZOFFSETTO:[^\r]*", b"TZOFFSETTO:1h"), "is no offset"),
    ("RDATE in UTC", sub(rb"(BEGIN:DAYLIGHT\r\n)", rb"\1RDATE:20260329T010000Z\r\n"), "RDATE is not local"),
    ("a bare comma", sub(rb"\r\nSUMMARY:", b"\r\nSUMMARY:a,"), "a bare ';' or ','"),
    ("a bare semicolon", sub(rb"\r\nSUMMARY:", b"\r\nSUMMARY:a;"), "a bare ';' or ','"),
    ("a comma behind two backslashes", sub(rb"\r\nSUMMARY:", rb"\r\nSUMMARY:\\\\,"), "a bare ';' or ','"),
    ("a bad escape", sub(rb"\r\nSUMMARY:", rb"\r\nSUMMARY:\\t"), "an escape that is none"),
    ("two categories", sub(rb"\r\nCATEGORIES:", b"\r\nCATEGORIES:a,"), "readers would split"),
    ("two summaries", sub(rb"(\r\nSUMMARY:x?)", rb"\r\nSUMMARY:x\1"), "2 SUMMARY"),
    ("an empty summary", sub(rb"\r\nSUMMARY:[^\r]*(\r\n [^\r]*)*", b"\r\nSUMMARY:"), "SUMMARY is empty"),
    ("an unknown property", sub(rb"\r\nSUMMARY:", b"\r\nPRIORITY:1\r\nSUMMARY:"), "PRIORITY is not known"),
    ("a parameter", sub(rb"\r\nSUMMARY:", b"\r\nSUMMARY;LANGUAGE=en:"), "SUMMARY with parameters"),
    ("METHOD", sub(rb"VERSION:2.0\r\n", b"VERSION:2.0\r\nMETHOD:PUBLISH\r\n"), "METHOD is not known"),
    ("no such STATUS", sub(rb"STATUS:[A-Z]*", b"STATUS:DONE"), "STATUS is neither"),
    ("no such TRANSP", sub(rb"TRANSP:[A-Z]*", b"TRANSP:CLEAR"), "TRANSP is neither"),
    ("a cancelled event that rings", sub(rb"STATUS:CONFIRMED(\r\nTRANSP:OPAQUE)", rb"STATUS:CANCELLED\1"), "rings"),
    ("an alarm without words", sub(rb"(ACTION:DISPLAY\r\n)DESCRIPTION:.*?(TRIGGER)", rb"\1\2"), "0 DESCRIPTION"),
    ("an alarm without TRIGGER", sub(rb"TRIGGER:[^\r]*\r\n", b""), "0 TRIGGER"),
    ("no duration", sub(rb"TRIGGER:[^\r]*", b"TRIGGER:5 min"), "TRIGGER is no duration"),
    ("an alarm without ACTION", sub(rb"ACTION:DISPLAY\r\n", b""), "0 ACTION"),
    ("another ACTION", sub(rb"ACTION:DISPLAY", b"ACTION:EMAIL"), "ACTION is not DISPLAY"),
    ("an alarm that does not end", sub(rb"END:VALARM\r\n", b""), "ends nothing"),
    ("an alarm in the calendar", sub(rb"(BEGIN:VALARM.*?END:VALARM\r\n)(END:VEVENT\r\n)", rb"\2\1"), "may not stand in VCALENDAR"),
    ("cut short", sub(rb"END:VCALENDAR\r\n", b""), "VCALENDAR does not end"),
    ("nothing", lambda b: b"\r\n", "not one VCALENDAR"),
    ("two calendars", lambda b: b + b, "not one VCALENDAR"),
]


def twice(octets):
    event = re.search(rb"BEGIN:VEVENT.*?END:VEVENT\r\n", octets, re.S).group(0)
    return octets.replace(b"END:VCALENDAR", event + b"END:VCALENDAR")


BROKEN.append(("an event twice", twice, "the UID stands twice"))


def main():
    with open(sys.argv[1], "rb") as file:
        good = file.read()
    passed = failed = 0
    assert check(good) == [], check(good)
    for name, change, want in BROKEN:
        broken = change(good)
        found = check(broken)
        if broken != good and any(want in text for _, text in found):
            passed += 1
        else:
            failed += 1
            print(f"{name}: nothing of \"{want}\" in {found[:3]}")
    print(f"{passed} passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
