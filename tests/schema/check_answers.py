"""Holds every answer in JSON against docs/answers.schema.json: those of tests/golden, those of the runs below, and the answers
of the C interface. Each key that the schema knows is met in one of them, and each of them is refused with a key too many,
and with one too few. Usage: check_answers.py PROGRAM C_ANSWERS PROJECT_ROOT"""
import copy
import json
import pathlib
import re
import subprocess
import sys
import tempfile

import jsonschema
import yaml

PROGRAM, C_ANSWERS, ROOT = sys.argv[1], sys.argv[2], pathlib.Path(sys.argv[3])
sys.path.insert(0, str(ROOT / "tests"))
from run_golden import read_case  # noqa: E402
SCHEMA = json.loads((ROOT / "docs" / "answers.schema.json").read_text(encoding="utf-8"))
SITES = ROOT / "data" / "sites"
KILN, KIOSK = str(SITES / "kiln-lane.yaml"), str(SITES / "corner-kiosk.yaml")
READ = str(SITES / "kiln-lane-readings.csv")
FARM = str(ROOT / "tests/fixtures/visit/farm.yaml")
COMMANDS = {"check", "explain", "relocate", "visit", "place", "calibrate", "coverage", "materials", "whatif", "draw"}
FORMATS = {"json", "geojson"}

CASES = """cases:
  - {name: till gone, remove: [/devices/till hold-up]}
  - name: a second hub
    add: {/hubs/second: {profile: hub, storey: upper, at_m: [2, 2], height_m: 1, capacity: 7}}
"""
RUNS_OF = """site: SITE
cases:
  - {name: till gone, remove: [/devices/till hold-up]}
  - {name: all doors open, doors: open}
  - {name: a shelf, add: {/storeys/ground/obstacles/shelf: {rect_m: [3, 6, 1, 1], height_m: 2, material: brick, thickness_m: 0.1}}}
sweep:
  /hubs/hub/height_m: {from: 1, to: 2, step: 1}
  /hubs/hub/storey: [ground, upper]
random: {runs: 1, seed: 3}
"""
FENCES = """site: Two fences in line (invented)
radio: {frequency_mhz: 868.3, model: walls}
reading: {zero_dbm: -105, full_dbm: -30, weak_below_percent: 40}
materials:
  unknown wall: {losses: [{frequency_mhz: 868, loss_db: 12}], sigma_db: 14}
storeys:
  - name: ground
    level_m: 0
    height_m: 2.5
    outer_wall: {material: unknown wall}
    inner_wall: {material: unknown wall}
    rooms:
      west: {rect_m: [0, 0, 4, 4]}
      middle: {rect_m: [4, 0, 8, 4]}
      east: {rect_m: [12, 0, 4, 4]}
    walls:
      - {name: south fence, from_m: [-3, -6], to_m: [4, -6], material: corrugated steel wall}
      - {name: north fence, from_m: [5.5, -6], to_m: [12, -6], material: corrugated steel wall}
hubs:
  hub: {profile: hub, storey: ground, at_m: [1, 1], height_m: 1.5}
devices:
  gate: {profile: contact, storey: ground, at_m: [2.5, -9], height_m: 1.5}
  east motion: {profile: contact, storey: ground, at_m: [15, 3], height_m: 1.5}
"""
CALIBRATED = """calibration:
  offset_db: 1
  offset_sigma_db: 2
  readings: 4
  materials: {stone: {shift_db: 1.5, sigma_db: 1, readings: 3}}
"""


def runs(folder):
    """Arguments of the program and what answers; the files that they read lie in the folder."""
    def made(name, text):
        (folder / name).write_text(text, encoding="utf-8")
        return str(folder / name)

    what_if = made("what-if.yaml", RUNS_OF.replace("SITE", KILN))
    learned = made("calibrated.yaml", pathlib.Path(KILN).read_text(encoding="utf-8") + CALIBRATED)
    places = made("places.csv", "name,profile,storey,x_m,y_m,height_m\na,motion,ground,2,2,2\nb,fob,upper,3,3,1\n")
    cases = made("cases.yaml", CASES)
    fences = made("fences.yaml", FENCES)
    fence_readings = made("fences.csv", "device,reading_percent,x_m,y_m,storey,height_m\n" + "".join(
        f"east motion,30,{12.5 + 0.7 * i:.1f},{0.5 + 1.4 * j:.1f},ground,1.5\n" for i in range(5) for j in range(3)))
    twice = made("twice.csv", "device,reading_percent,taken\nloft smoke,40,2026-03-01 09:10\nloft smoke,44,2026-03-01 09:40\n")
    yield ["check", KILN, "--fail-each"], "check"
    yield ["check", KILN, "--all-pairs", "--doors", "open", "--language", "de"], "check"
    yield ["check", KILN, "--readings", READ], "check"
    yield ["check", learned], "check"
    yield ["check", FARM], "check"
    yield ["check", KILN, "--readings", twice], "check"
    yield ["check", fences], "check"
    yield ["check", KILN, KIOSK], "check_sites"
    yield ["check", KILN, "--at", places], "check_places"
    yield ["explain", KILN, "clay shed contact"], "explain"
    yield ["explain", KILN, "loft smoke", "--readings", READ], "explain"
    yield ["explain", KILN, "clay shed contact", "--reading", "28,33,31"], "explain"
    yield ["explain", KILN, "clay shed contact", "--reading", "0"], "explain"
    yield ["relocate", KILN], "relocate"
    yield ["relocate", KILN, "--readings", READ], "relocate"
    yield ["relocate", FARM], "relocate"
    yield ["visit", KILN], "visit"
    yield ["visit", KILN, "--readings", READ], "visit"
    yield ["visit", FARM], "visit"
    yield ["place", KIOSK], "place"
    yield ["place", KILN, "--anywhere", "--step", "2", "--repeaters", "1"], "place"
    yield ["place", KILN, "--cases", cases, "--step", "2"], "place"
    yield ["place", KIOSK, "--objective", "parts"], "place"
    yield ["place", KIOSK, "--brief"], "place"
    yield ["calibrate", fences, fence_readings], "calibrate"
    yield ["calibrate", KILN, READ, "--advise", "2"], "calibrate"
    yield ["calibrate", KILN, READ, "--hold-out", "0.2"], "calibrate"
    yield ["calibrate", KILN, READ, "--output", str(folder / "out.yaml")], "calibrate"
    yield ["coverage", KIOSK, "--step", "0.5"], "coverage"
    yield ["coverage", KILN, "--step", "1", "--hub", "best", "--readings", READ, "--value", "level"], "coverage"
    yield ["materials"], "materials"
    yield ["materials", "--frequency-mhz", "433.92"], "materials"
    yield ["whatif", what_if], "whatif_run"
    yield ["whatif", what_if, "--devices"], "whatif_run"
    yield ["draw", KILN, "--format", "geojson"], "plan"


failures = []
met = {}      # keys of an answer, by its name
answers = {}  # one answer of each shape, by its name
counted = 0


def validator(name):
    return jsonschema.Draft202012Validator({"$schema": SCHEMA["$schema"], "$defs": SCHEMA["$defs"],
                                            "$ref": "#/$defs/" + name})


def keys(value):
    if isinstance(value, dict):
        yield from value
        for item in value.values():
            yield from keys(item)
    elif isinstance(value, list):
        for item in value:
            yield from keys(item)


def check(where, name, value):
    global counted
    counted += 1
    fault = jsonschema.exceptions.best_match(validator(name).iter_errors(value))
    while fault is not None and fault.context:
        fault = fault.context[-1]  # of several schemas the last: the first is that there is nothing
    if fault is not None:
        failures.append(f"{where}: {name} at {list(fault.absolute_path)}: {fault.message[:300]}")
        return
    new = set(keys(value)) - met.setdefault(name, set())
    met[name] |= new
    if new or name not in answers:
        answers.setdefault(name, []).append(value)


def parsed(output, lines):
    return [json.loads(line) for line in output.splitlines()] if lines else [json.loads(output)]


# --- what is held ---

def name_of(arguments, value):
    """Which answer a command gives; nothing where it is none."""
    command = arguments[0]
    if command not in COMMANDS:
        return None
    if command == "check":
        return "check_sites" if isinstance(value, list) else "check_places" if "--at" in arguments else "check"
    return {"whatif": "whatif_run", "draw": "plan"}.get(command, command)


def check_golden():
    """Every case whose output is JSON, whether or not its arguments say so."""
    found = 0
    for case in sorted((ROOT / "tests" / "golden").glob("*/*.expected")):
        arguments, _, output, _, _ = read_case(case.read_bytes())
        asked = bool(FORMATS & set(arguments))
        if not (asked and output) and not output.startswith((b"{", b"[")):
            continue
        try:
            values = parsed(output.decode(), arguments[0] == "whatif")
        except ValueError as fault:
            if asked:
                failures.append(f"{case.name}: no JSON: {fault}")
            continue
        found += 1
        for value in values:
            name = name_of(arguments, value)
            if name is None:
                failures.append(f"{case}: JSON of a command that is not known to write any")
            else:
                check(case.name, name, value)
    if found < 15:
        failures.append(f"only {found} cases of JSON among tests/golden")
    return found


def check_runs():
    with tempfile.TemporaryDirectory() as name:
        for arguments, answer in runs(pathlib.Path(name)):
            words = arguments if "--format" in arguments else arguments + ["--format", "json"]
            done = subprocess.run([PROGRAM, *words], capture_output=True, text=True)
            shown = " ".join(words)
            if done.returncode != 0:
                failures.append(f"{shown}: status {done.returncode}: {done.stderr[:300]}")
                continue
            for value in parsed(done.stdout, arguments[0] == "whatif"):
                check(shown, answer, value)


def check_c():
    done = subprocess.run([C_ANSWERS, KILN, READ], capture_output=True, text=True)
    if done.returncode != 0:
        failures.append(f"{C_ANSWERS}: status {done.returncode}: {done.stderr[:300]}")
    for part in done.stdout.split("=== ")[1:]:
        name, _, text = part.partition("\n")
        check("C interface", name, json.loads(text))


# --- what the schema says that no answer has ---

def known_keys(schema, seen):
    """The keys that a schema names, with all that it refers to."""
    if isinstance(schema, list):
        for part in schema:
            yield from known_keys(part, seen)
    if not isinstance(schema, dict):
        return
    yield from schema.get("properties", {})
    for key, part in schema.items():
        if key == "$ref" and part not in seen:
            seen.add(part)
            yield from known_keys(SCHEMA["$defs"][part.rsplit("/", 1)[1]], seen)
        elif key == "properties":
            for value in part.values():
                yield from known_keys(value, seen)
        else:
            yield from known_keys(part, seen)


def check_met():
    named = [part["$ref"].rsplit("/", 1)[1] for part in SCHEMA["anyOf"]]
    everywhere = set().union(*met.values())
    for name in named:
        if name not in met:
            failures.append(f"no answer is a {name}")
        own = set(SCHEMA["$defs"][name].get("properties", {}))
        for key in sorted(own - met.get(name, set())):
            failures.append(f"{name}: no answer has its key '{key}'")
        for key in sorted(set(known_keys(SCHEMA["$defs"][name], set())) - everywhere):
            failures.append(f"{name}: no answer has the key '{key}'")
    for name in met.keys() - set(named):
        failures.append(f"{name} is not among the answers of the schema")


# --- spoilt answers ---

OPTIONAL = {"onward", "own_hop_probability", "read_percent", "earlier_percent", "nearby_shift_db", "nearby_readings", "repeaters",
            "repeater_slots", "failures", "part", "learned_shift_db", "capacity", "slots", "slots_used", "thickness_m", "hub_of",
            "readings_percent", "weak_devices", "name", "below_ceiling_m", "height_m"}
MAPS = {"swept", "readings_percent", "materials", "radios"}  # their keys are names


def short(value):
    """The same with the first of each list of objects alone."""
    if isinstance(value, dict):
        return {key: short(item) for key, item in value.items()}
    if isinstance(value, list) and value and isinstance(value[0], dict):
        return [short(value[0])]
    return value


def objects(value, path=(), own=True):
    if isinstance(value, dict):
        if own:
            yield path
        for key, item in value.items():
            yield from objects(item, path + (key,), key not in MAPS or isinstance(item, list))
    elif isinstance(value, list):
        for place, item in enumerate(value):
            yield from objects(item, path + (place,))


def at(value, path):
    for step in path:
        value = value[step]
    return value


def check_spoilt():
    spoilt = 0
    done = set()
    for name, values in answers.items():
        held = validator(name)
        for whole in values:
            value = short(whole)
            if not held.is_valid(value):
                continue  # a pair of sites, made one
            for path in objects(value):
                shape = (name, path, tuple(at(value, path)))
                if shape in done or "edits" in path:
                    continue
                done.add(shape)
                worse = copy.deepcopy(value)
                at(worse, path)["unheard_of"] = 1
                spoilt += 1
                if held.is_valid(worse):
                    failures.append(f"{name}: accepted with an unknown key at {list(path)}")
                for key in set(at(value, path)) - OPTIONAL:
                    worse = copy.deepcopy(value)
                    del at(worse, path)[key]
                    spoilt += 1
                    if held.is_valid(worse):
                        failures.append(f"{name}: accepted without '{key}' at {list(path)}")
    return spoilt


# --- words ---

def check_words():
    """The words of the schema are those of the program and of its catalogue."""
    lib = ROOT / "lib" / "linkmargin"

    def table(file, name):
        text = (lib / file).read_text(encoding="utf-8")
        return re.findall(r'"(\w+)"', re.search(name + r"\[\] = \{(.*?)\};", text, re.DOTALL)[1])

    def words(name, *path):
        part = SCHEMA["$defs"][name]
        for step in path:
            part = part[step]
        return part["enum"]

    catalogue = yaml.safe_load((ROOT / "data/languages/en.yaml").read_text(encoding="utf-8"))["texts"]
    pairs = [(words("caution_code"), table("site/warning_code.cpp", "kNames")),
             (words("fault", "properties", "code"), table("base/diagnostic.cpp", "kCodeWords")),
             (words("part", "properties", "kind"), [word for word in table("site/part_name.hpp", "kPartKinds") if word != "none"]),
             (words("part", "properties", "piece"), table("site/part_name.hpp", "kPartPieces")),
             (words("check_values", "properties", "model"), table("site/environment.hpp", "kModelWords")),
             (words("loss", "properties", "cause"), list(catalogue["loss_cause"])),
             (words("budget_item", "properties", "term"), list(catalogue["term"])),
             (words("coverage", "properties", "value"), list(catalogue["coverage"]["value"]))]
    for held, meant in pairs:
        if sorted(held) != sorted(meant):
            failures.append(f"words of the schema alone: {sorted(set(held) - set(meant))}, "
                            f"of the program alone: {sorted(set(meant) - set(held))}")


jsonschema.Draft202012Validator.check_schema(SCHEMA)
golden = check_golden()
check_runs()
check_c()
check_met()
spoilt = check_spoilt()
check_words()
print("\n".join(failures))
print(f"{counted} answers, {golden} of tests/golden, {len(met)} kinds, {spoilt} spoilt ones: {len(failures)} failures")
sys.exit(bool(failures))
