# tests/scripts/tally.py - what the Python tests beside it count with.
import sys

passed = failed = 0


def check(name, good, what=""):
    global passed, failed
    if good:
        passed += 1
    else:
        failed += 1
        print(f"FAILED: {name}: {what}" if what else f"FAILED: {name}")


def end():
    print(f"{passed} passed, {failed} failed")
    sys.exit(1 if failed or not passed else 0)
