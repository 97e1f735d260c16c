"""Holds the JSON that docs/commands shows of a command to the keys that the command prints, by the expected output of
tests/golden. Usage: check_commands.py PROJECT_ROOT"""
import json
import pathlib
import re
import sys

ROOT = pathlib.Path(sys.argv[1])
sys.path.insert(0, str(ROOT / "tests"))
from run_golden import expected_output  # noqa: E402
PRINTED = {"check": "check/demo-json", "relocate": "relocate/demo-json", "visit": "visit/demo-json", "place": "place/demo-json",
           "calibrate": "calibrate/demo-json", "coverage": "coverage/kiosk-json-threads"}
SOMETIMES = {"nearby_readings", "hub_of"}

failures = []
for command, case in PRINTED.items():
    page = (ROOT / "docs" / "commands" / f"{command}.md").read_text(encoding="utf-8")
    blocks = re.findall(r"```json\n(.*?)```", page, re.S)
    if len(blocks) != 1:
        failures.append(f"{command}: its page shows {len(blocks)} blocks of JSON")
        continue
    shown = set(json.loads(blocks[0])) - SOMETIMES
    printed = set(json.loads(expected_output(ROOT, case)))
    printed -= SOMETIMES
    if shown != printed:
        failures.append(f"{command}: shown alone {sorted(shown - printed)}, printed alone {sorted(printed - shown)}")
print("\n".join(failures) or f"{len(PRINTED)} commands agree")
sys.exit(bool(failures))
