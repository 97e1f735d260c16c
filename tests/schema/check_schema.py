"""Holds every file in data/ against its JSON Schema, a list of spoilt sites against refusal, and the bounds of the
schemas that are written by hand against lib/linkmargin/site/limits.hpp; the others are printed (linkmargin_schema).
Usage: check_schema.py PROJECT_ROOT"""
import copy
import json
import pathlib
import re
import sys

import jsonschema
import yaml

ROOT = pathlib.Path(sys.argv[1])
DOCS = ROOT / "docs"
SCHEMAS = {name: json.loads((DOCS / name).read_text(encoding="utf-8"))
           for name in ("site.schema.json", "materials.schema.json", "cases.schema.json", "what-if.schema.json")}
failures = []


def fail(text):
    failures.append(text)


def validator(name):
    schema = SCHEMAS[name]
    jsonschema.Draft202012Validator.check_schema(schema)
    uri = (DOCS / name).resolve().as_uri()
    store = {(DOCS / other).resolve().as_uri(): body for other, body in SCHEMAS.items()}
    return jsonschema.Draft202012Validator(schema, resolver=jsonschema.RefResolver(uri, schema, store=store))


class Loader(yaml.SafeLoader):
    """As in YAML 1.2 only true and false are switches by themselves, so that the key `on` of a mount stays a word."""


Loader.yaml_implicit_resolvers = {
    letter: [(tag, pattern) for tag, pattern in found if tag != "tag:yaml.org,2002:bool" or letter in "tTfF"]
    for letter, found in yaml.SafeLoader.yaml_implicit_resolvers.items()}


def parsed(text):
    return yaml.load(text, Loader=Loader)


def load(path):
    return parsed(path.read_text(encoding="utf-8"))


def first_fault(check, document):
    fault = jsonschema.exceptions.best_match(check.iter_errors(document))
    if fault is None:
        return None
    return "/" + "/".join(str(step) for step in fault.absolute_path) + ": " + fault.message[:200]


SITE = validator("site.schema.json")
TABLES = validator("materials.schema.json")
CASES = validator("cases.schema.json")
RUNS = validator("what-if.schema.json")


# --- every file of data/ ---

def check_files():
    runs = [*sorted((ROOT / "data" / "sites").glob("*-what-if.yaml")),
            *(ROOT / "tests" / "golden" / "whatif" / case / "kiosk.yaml" for case in ("rows", "lines"))]
    sites = [ROOT / "data" / "starter.yaml", ROOT / "tests" / "fixtures" / "kiln-lane-short.yaml",
             *(path for path in sorted((ROOT / "data" / "sites").glob("*.yaml")) if path not in runs)]
    tables = [ROOT / "data" / "materials.yaml", ROOT / "data" / "profiles.yaml"]
    seen = 0
    for check, paths in ((SITE, sites), (TABLES, tables), (RUNS, runs)):
        for path in paths:
            seen += 1
            fault = first_fault(check, load(path))
            if fault:
                fail(f"{path.relative_to(ROOT)} is refused: {fault}")
    cases = sorted((ROOT / "tests" / "golden").rglob("cases.yaml"))
    for path in cases:
        seen += 1
        fault = first_fault(CASES, load(path))
        if fault:
            fail(f"{path.relative_to(ROOT)} is refused: {fault}")
    for spoilt_cases in ({}, {"cases": []}, {"cases": [{"set": {}}]}, {"cases": [{"name": "a"}]}, {"cases": [{"name": "a", "set": {"radio": 1}}]},
                         {"cases": [{"name": "a", "set": {"/radio/diffraction": [1]}}]}, {"cases": [{"name": "a", "set": {}, "by": 1}]}):
        if first_fault(CASES, spoilt_cases) is None:
            fail(f"cases.schema.json takes {spoilt_cases}")
    run = {"site": "a.yaml", "cases": [{"name": "a", "doors": "open"}], "sweep": {"/hubs/hub/height_m": [1]}, "random": {"runs": 5}}
    if fault := first_fault(RUNS, run):
        fail(f"what-if.schema.json refuses {run}: {fault}")
    case = {"name": "a", "doors": "open"}
    for change in ({"site": 3}, {"sites": ["b.yaml"]}, {"cases": []}, {"cases": [{"name": "a"}]}, {"cases": [case | {"set": 1}]},
                   {"cases": [case | {"doors": "shut"}]}, {"cases": [case | {"sett": {}}]},
                   {"cases": [case | {"move": {"a": {"by_m": [1, 1], "at_m": [1, 1]}}}]}, {"cases": [case | {"remove": ["hub"]}]},
                   {"cases": [case | {"add": {"/rooms/a": {}}}]}, {"cases": [case | {"add": {"/devices/a": {"profile": "b"}}}]},
                   {"sweep": {}}, {"sweep": {"hub": [1]}}, {"sweep": {"/a": []}}, {"sweep": {"/a": {"from": 1, "to": 2, "step": 0}}},
                   {"random": {}}, {"random": {"runs": 0}}, {"random": {"runs": 1, "seed": -1}}, {"other": 1}):
        if first_fault(RUNS, run | change) is None:
            fail(f"what-if.schema.json takes {change}")
    languages = (ROOT / "data" / "languages").glob("*.yaml")  # check_languages.py
    usual = [ROOT / "data" / "opening-kinds.yaml", ROOT / "data" / "constructions.yaml"]  # short_form_test.cpp
    others = set((ROOT / "data").rglob("*.yaml")) - set(usual) - set(sites) - set(tables) - set(runs) - set(languages)
    for path in sorted(others):
        fail(f"{path.relative_to(ROOT)} has no schema here")
    return seen


# --- spoilt sites ---

ABSENT = object()


def spoilt(document, path, value):
    """A copy with one place changed, added or (ABSENT) taken away."""
    result = copy.deepcopy(document)
    place = result
    for step in path[:-1]:
        place = place[step]
    if value is ABSENT:
        del place[path[-1]]
    else:
        place[path[-1]] = value
    return result


STOREY = ["storeys", 0]
WALL = ["storeys", 0, "walls", 0]
OPENING = ["storeys", 0, "openings", 0]
OBSTACLE = ["storeys", 0, "obstacles", 0]
DEVICE = ["devices", "motion"]
HUB = ["hubs", "hub"]
AREA = ["areas", "drive"]
PROFILE = ["profiles", "own"]
MATERIAL = ["materials", "own"]

BASE = {
    "site": "base", "note": "invented",
    "radio": {"frequency_mhz": 868.3, "model": "walls", "exponent": 2, "diffraction": True},
    "reading": {"zero_dbm": -105, "full_dbm": -55, "weak_below_percent": 40},
    "materials": {"own": {"loss_db": 10, "sigma_db": 3, "use": ["wall"]}},
    "profiles": {"own": {"erp_dbm": 10, "gain_dbi": 0, "sensitivity_dbm": -100, "two_way": True}},
    "storeys": [{
        "name": "ground", "level_m": 0, "height_m": 2.5, "floor": {"material": "concrete", "thickness_m": 0.2},
        "outer_wall": {"material": "brick", "thickness_m": 0.2}, "inner_wall": {"material": "own"},
        "rooms": {"shop": {"rect_m": [0, 0, 4, 3]}, "store": {"corners_m": [[4, 0], [6, 0], [6, 3], [4, 3]]}},
        "boundaries": [{"between": ["shop", "store"], "material": "none"}],
        "walls": [{"name": "yard wall", "from_m": [6, 3], "to_m": [9, 3], "material": "own", "height_m": 1.8}],
        "openings": [{"name": "door", "between": ["shop", "outside"], "at_m": [2, 0], "width_m": 0.9,
                      "height_m": 2, "leaf": "timber door"}],
        "obstacles": [{"name": "rack", "rect_m": [1, 1, 1, 0.5], "height_m": 2, "material": "own"}]}],
    "hubs": {"hub": {"profile": "hub", "storey": "ground", "at_m": [1, 1], "height_m": 2, "capacity": 8}},
    "repeaters": {"landing": {"profile": "repeater", "storey": "ground", "at_m": [2, 1], "height_m": 2}},
    "devices": {"motion": {"profile": "own", "storey": "ground", "at_m": [3, 2], "height_m": 2.2,
                           "may_move": {"radius_m": 0.2}}},
    "areas": {"drive": {"profile": "fob", "storey": "ground", "rect_m": [0, -5, 4, 4]}},
}

LEARNED = {"shift_db": 2.1, "sigma_db": 0.9, "readings": 4}
PAIR = ["/calibration/offset_db", "/radio/exponent", -0.62]

ACCEPTED = [
    ("a calibration", ["calibration"],
     {"offset_db": -3.4, "offset_sigma_db": 1.2, "exponent_sigma": 0.15, "zero_sigma_db": 2, "full_sigma_db": 2.5,
      "readings": 24, "materials": {"own": LEARNED}, "correlations": [PAIR]}),
    ("a calibration of nothing", ["calibration"], {}),
    ("a correlation with a wall of an odd name", ["calibration"],
     {"correlations": [["/calibration/materials/a~1b c/shift_db", "/reading/full_dbm", 0.3]]}),
    ("capacity by class", HUB + ["capacity"], {"fobs": 8, "others": 32}),
    ("slide", DEVICE + ["may_move"], {"along_m": [[0, 0], [1, 1]]}),
    ("room", DEVICE + ["may_move"], {"within": "shop"}),
    ("corners", DEVICE + ["may_move"], {"within_m": [[0, 0], [1, 0], [1, 1]]}),
    ("conducted power", PROFILE, {"power_dbm": 5, "gain_dbi": 2}),
    ("e.i.r.p.", PROFILE, {"eirp_dbm": 5}),
    ("silent profile", PROFILE, {"sensitivity_dbm": -100}),
    ("noise", PROFILE, {"erp_dbm": 5, "bandwidth_khz": 100, "noise_figure_db": 7, "required_snr_db": 12}),
    ("form of the site-general model", ["radio"], {"frequency_mhz": 868, "model": "site_general", "form": "power_loss",
                                                   "environment": "office"}),
    ("constant of the multi-wall model", ["radio"], {"frequency_mhz": 868, "model": "multi_wall", "constant_loss_db": 3}),
    ("routes off", ["radio", "diffraction"], "off"),
    ("echoes off", ["radio", "reverberation"], "off"),
    ("business area", ["radio", "noise"], "business"),
    ("greatest noise rise", ["radio", "noise_rise_db"], 60),
    ("ground reflection on", ["radio", "ground_reflection"], "on"),
    ("fading off", ["fading"], "off"),
    ("one figure of fading", ["fading"], {"k_behind_walls_db": -20}),
    ("fading from all of space", ["fading"], {"k_in_sight_db": 20, "k_over_time_db": 7, "scattering": "space"}),
    ("floor openings", STOREY + ["floor_openings"], [{"name": "stairwell", "rect_m": [1, 1, 1, 2]},
                                                     {"name": "shaft", "corners_m": [[0, 0], [1, 0], [1, 1]]}]),
    ("losses", MATERIAL, {"losses": [{"frequency_mhz": 500, "loss_db": 2}]}),
    ("electrical", MATERIAL, {"electrical": {"a": 5, "b": 0, "c": 0.04, "d": 0.8, "from_mhz": 1000, "to_mhz": 100000}}),
    ("layers", MATERIAL, {"layers": [{"of": "air", "thickness_m": 0.1}]}),
    ("opening in a traced wall", OPENING, {"name": "gate", "wall": "yard wall", "at_m": [7, 3], "width_m": 1,
                                           "height_m": 1.8, "leaf": "none"}),
    ("metal near a device", DEVICE + ["mount"], {"on": "metal", "gap_m": 0.02, "faces_deg": -90}),
    ("a hub that stays", HUB + ["fixed"], True),
    ("a room to keep out of", STOREY + ["rooms", "shop", "keep_out"], True),
    ("a wet room", STOREY + ["rooms", "shop", "use"], "wet"),
    ("a socket", STOREY + ["rooms", "shop", "sockets"], "left wall, 0.4 m from bottom"),
    ("sockets", STOREY + ["rooms", "shop", "sockets"], [{"on": "top wall, 2 m from right"}, {"at_m": [0, 1]}]),
    ("no socket", STOREY + ["rooms", "shop", "sockets"], []),
    ("a room with a roof of its own", STOREY + ["rooms", "shop", "roof"], {"material": "none"}),
    ("a room with a floor of its own", STOREY + ["rooms", "shop", "floor"], "concrete floor 0.2 m"),
    ("a spread of a profile", PROFILE + ["sigma_db"], 3),
    ("metal near a hub", HUB + ["mount"], {"on": "metal", "gap_m": 1}),
    ("metal near a repeater", ["repeaters", "landing", "mount"], {"on": "metal", "gap_m": 0.001}),
    ("leakage", MATERIAL + ["leakage_db"], 25),
    ("all thrown back", MATERIAL + ["reflects_percent"], 100),
    ("nothing thrown back", MATERIAL + ["reflects_percent"], 0),
    ("no devices", ["devices"], ABSENT),
    ("devices left empty", ["devices"], None),
    ("areas left empty", ["areas"], None),
    ("repeaters left empty", ["repeaters"], None),
    ("a level that follows", STOREY + ["level_m"], ABSENT),
    ("a leaf by the name", OPENING + ["leaf"], ABSENT),
    ("the middle of a wall", OPENING + ["at_m"], ABSENT),
    ("a kind of opening", OPENING + ["kind"], "front door"),
    ("an opening by room and side", OPENING, {"name": "front door", "in": "shop", "wall": "bottom", "from_left_m": 0.6}),
    ("a profile by the name", DEVICE + ["profile"], ABSENT),
    ("a wall in a text", STOREY + ["outer_wall"], "brick 0.215 m"),
    ("a room by size and neighbour", STOREY + ["rooms", "shop"],
     {"size_m": [6, 5], "left_of": "store", "flush": "top", "shift_m": -1, "gap_m": 2, "outer_wall": "stone", "inner_wall": "own"}),
    ("a room over others", STOREY + ["rooms", "shop"], {"over": ["a", "b"]}),
    ("a size over others", STOREY + ["rooms", "shop"], {"size_m": [3, 2], "over": "a", "flush": "top right", "shift_m": [1, 0]}),
    ("a grid", STOREY + ["grid"], [{"depth_m": 3.2, "living room": 4.2, "hall": 2.2}, {"depth_m": 1.8, "wc": 1.4}]),
    ("a construction of the house", ["construction"], "brick 1930s"),
    ("a construction of a storey", STOREY + ["construction"], "timber frame"),
    ("sizes inside", STOREY + ["measured"], "inside"),
    ("a device in a room", DEVICE, {"profile": "own", "in": "shop", "at": "corner top left"}),
    ("a device at a point of a room", DEVICE, {"in": "shop", "at": [1.5, 2]}),
    ("a contact on an opening", DEVICE, {"on": "door"}),
    ("a hub in a room", HUB, {"in": "shop", "at": "centre", "capacity": 8}),
    ("least frequency", ["radio", "frequency_mhz"], 300),
    ("greatest frequency", ["radio", "frequency_mhz"], 6000),
]

REFUSED = [
    ("unknown key at the top", ["divices"], {}),
    ("unknown key in radio", ["radio", "frequency"], 868.3),
    ("unknown key in a storey", STOREY + ["hight_m"], 2.5),
    ("unknown key in a room", STOREY + ["rooms", "shop", "flooring"], "wood"),
    ("unknown key in an opening", OPENING + ["leave"], "none"),
    ("unknown key in a device", DEVICE + ["position"], [1, 1]),
    ("unknown key in a material", MATERIAL + ["loss"], 3),
    ("unknown key in a profile", PROFILE + ["erp_mw"], 10),
    ("unit missing: frequency", ["radio"], {"frequency": 868.3}),
    ("unit missing: height of a storey", STOREY, {"name": "ground", "level_m": 0, "height": 2.5}),
    ("unit missing: place of a device", DEVICE, {"profile": "own", "storey": "ground", "at": [1, 1], "height_m": 2}),
    ("unit missing: loss", MATERIAL, {"loss": 3}),
    ("site missing", ["site"], ABSENT),
    ("radio missing", ["radio"], ABSENT),
    ("storeys missing", ["storeys"], ABSENT),
    ("hubs missing", ["hubs"], ABSENT),
    ("no storey", ["storeys"], []),
    ("no hub", ["hubs"], {}),
    ("end of a wall missing", WALL + ["to_m"], ABSENT),
    ("height of an obstacle missing", OBSTACLE + ["height_m"], ABSENT),
    ("text for a number", ["radio", "frequency_mhz"], "868.3 MHz"),
    ("number for a list", ["storeys"], 3),
    ("list for a map", ["devices"], []),
    ("text for a switch", ["radio", "diffraction"], "maybe"),
    ("switch for a number", STOREY + ["height_m"], True),
    ("half a slot", DEVICE + ["slots"], 1.5),
    ("a number for a hub that stays", HUB + ["fixed"], 1),
    ("a device that is fixed", DEVICE + ["fixed"], True),
    ("a word for a room to keep out of", STOREY + ["rooms", "shop", "keep_out"], "hubs"),
    ("a socket measured across its wall", STOREY + ["rooms", "shop", "sockets"], "left wall, 0.4 m from left"),
    ("a socket of two forms", STOREY + ["rooms", "shop", "sockets"], {"on": "left wall, 1 m from top", "at_m": [0, 1]}),
    ("a room of no known use", STOREY + ["rooms", "shop", "use"], "damp"),
    ("a negative spread of a profile", PROFILE + ["sigma_db"], -3),
    ("text for a capacity", HUB + ["capacity"], "many"),
    ("one coordinate", DEVICE + ["at_m"], [1]),
    ("three coordinates", DEVICE + ["at_m"], [1, 2, 3]),
    ("three numbers for a rectangle", STOREY + ["rooms", "shop", "rect_m"], [0, 0, 4]),
    ("five numbers for a rectangle", STOREY + ["rooms", "shop", "rect_m"], [0, 0, 4, 3, 1]),
    ("two corners", STOREY + ["rooms", "store", "corners_m"], [[0, 0], [1, 1]]),
    ("a room with two shapes", STOREY + ["rooms", "shop", "corners_m"], [[0, 0], [1, 0], [1, 1]]),
    ("a room without a shape", STOREY + ["rooms", "shop"], {}),
    ("a size of one number", STOREY + ["rooms", "shop"], {"size_m": [6]}),
    ("a size and a rectangle", STOREY + ["rooms", "shop", "size_m"], [6, 5]),
    ("a flush of no side", STOREY + ["rooms", "shop"], {"size_m": [6, 5], "left_of": "store", "flush": "middle"}),
    ("a negative gap", STOREY + ["rooms", "shop"], {"size_m": [6, 5], "left_of": "store", "gap_m": -1}),
    ("a row without a depth", STOREY + ["grid"], [{"hall": 2.2}]),
    ("a row without a room", STOREY + ["grid"], [{"depth_m": 2.2}]),
    ("an unknown construction", ["construction"], "brik 1930s"),
    ("sizes outside", STOREY + ["measured"], "outside"),
    ("an unknown kind of opening", OPENING + ["kind"], "dor"),
    ("an opening in a room without a side", OPENING, {"name": "front door", "in": "shop"}),
    ("an opening in a room and between", OPENING + ["in"], "shop"),
    ("a device by coordinates and in a room", DEVICE + ["in"], "shop"),
    ("a device nowhere", DEVICE + ["at_m"], ABSENT),
    ("a room called outside", STOREY + ["rooms", "outside"], {"rect_m": [9, 9, 1, 1]}),
    ("an area without a shape", AREA + ["rect_m"], ABSENT),
    ("an obstacle with two shapes", OBSTACLE + ["corners_m"], [[0, 0], [1, 0], [1, 1]]),
    ("one room of a boundary", STOREY + ["boundaries", 0, "between"], ["shop"]),
    ("an opening in two walls", OPENING + ["wall"], "yard wall"),
    ("an opening in no wall", OPENING + ["between"], ABSENT),
    ("two powers: e.r.p. and e.i.r.p.", PROFILE + ["eirp_dbm"], 12),
    ("two powers: e.r.p. and conducted", PROFILE + ["power_dbm"], 12),
    ("conducted power without a gain", PROFILE, {"power_dbm": 10}),
    ("two sensitivities", PROFILE + ["bandwidth_khz"], 25),
    ("half a receiver", PROFILE, {"erp_dbm": 10, "bandwidth_khz": 25, "noise_figure_db": 7}),
    ("two ways without a sensitivity", PROFILE, {"erp_dbm": 10, "two_way": True}),
    ("two kinds of material", MATERIAL + ["layers"], [{"of": "brick", "thickness_m": 0.1}]),
    ("a material of no kind", MATERIAL, {"sigma_db": 3}),
    ("a frequency without its loss", MATERIAL, {"losses": [{"frequency_mhz": 1, "loss_db": 1}], "frequency_mhz": 868}),
    ("a layer without a thickness", MATERIAL, {"layers": [{"of": "brick"}]}),
    ("no layers", MATERIAL, {"layers": []}),
    ("electrical without its range", MATERIAL, {"electrical": {"a": 5, "b": 0, "c": 0.04, "d": 0.8}}),
    ("a use of no kind", MATERIAL + ["use"], ["ceiling fan"]),
    ("a material called none", ["materials", "none"], {"loss_db": 1}),
    ("a material called air", ["materials", "air"], {"loss_db": 1}),
    ("two ways to move", DEVICE + ["may_move", "within"], "shop"),
    ("no way to move", DEVICE + ["may_move"], {}),
    ("a line of one point", DEVICE + ["may_move"], {"along_m": [[0, 0]]}),
    ("an unknown model", ["radio", "model"], "wallz"),
    ("an unknown form", ["radio", "form"], "classic"),
    ("two ways without a power", PROFILE, {"sensitivity_dbm": -100, "two_way": True}),
    ("a wall between a room and itself", STOREY + ["boundaries", 0, "between"], ["shop", "shop"]),
    ("rooms without an outer wall", STOREY + ["outer_wall"], ABSENT),
    ("two rooms without an inner wall", STOREY + ["inner_wall"], ABSENT),
    ("a form without its model", ["radio", "form"], "power_loss"),
    ("a constant loss without its model", ["radio", "constant_loss_db"], 3),
    ("an environment without its model", ["radio", "environment"], "home"),
    ("a profile that neither sends nor receives", PROFILE, {"gain_dbi": 2}),
    ("a name of spaces", ["site"], "  "),
    ("a switch in words", ["radio", "diffraction"], "true"),
    ("an empty name", ["devices", ""], BASE["devices"]["motion"]),
    ("a name of 81 letters", ["site"], "x" * 81),
    ("a control character in a name", ["site"], "a\tb"),
    ("a blank before a name", ["site"], " a"),
    ("a blank after a name", ["devices", "a "], BASE["devices"]["motion"]),
    ("a character of no width in a name", ["site"], "a\u200bb"),
    ("a name written backwards", ["devices", "a\u202eb"], BASE["devices"]["motion"]),
    ("hubs left empty", ["hubs"], None),
    ("hertz for megahertz", ["radio", "frequency_mhz"], 868300000),
    ("centimetres for metres", DEVICE + ["height_m"], 210),
    ("a room 600 m wide", STOREY + ["rooms", "shop", "rect_m"], [0, 0, 600, 3]),
    ("a percentage over 100", ["reading", "weak_below_percent"], 140),
    ("a negative loss", MATERIAL, {"loss_db": -3}),
    ("a sensitivity without its sign", PROFILE + ["sensitivity_dbm"], 100),
    ("metal without a gap", DEVICE + ["mount"], {"on": "metal"}),
    ("a gap to nothing", DEVICE + ["mount"], {"gap_m": 0.02}),
    ("a mount on wood", DEVICE + ["mount"], {"on": "wood", "gap_m": 0.02}),
    ("a gap in centimetres", DEVICE + ["mount"], {"on": "metal", "gap_m": 2}),
    ("a mount of an area", AREA + ["mount"], {"on": "metal", "gap_m": 0.02}),
    ("a leakage of nothing", MATERIAL + ["leakage_db"], 0),
    ("more thrown back than arrives", MATERIAL + ["reflects_percent"], 101),
    ("a negative share thrown back", MATERIAL + ["reflects_percent"], -1),
    ("a number for echoes", ["radio", "reverberation"], 1),
    ("a number for fading", ["fading"], 7),
    ("an unknown key in fading", ["fading"], {"k_db": 7}),
    ("a K of 21 dB", ["fading"], {"k_in_sight_db": 21}),
    ("an unknown scattering", ["fading"], {"scattering": "sphere"}),
    ("an unknown noise area", ["radio", "noise"], "city"),
    ("a negative noise rise", ["radio", "noise_rise_db"], -1),
    ("a floor opening without a name", STOREY + ["floor_openings"], [{"rect_m": [1, 1, 1, 2]}]),
    ("a floor opening without a shape", STOREY + ["floor_openings"], [{"name": "stairwell"}]),
    ("a floor opening with two shapes", STOREY + ["floor_openings"],
     [{"name": "stairwell", "rect_m": [1, 1, 1, 2], "corners_m": [[0, 0], [1, 0], [1, 1]]}]),
    ("a floor opening of a material", STOREY + ["floor_openings"],
     [{"name": "stairwell", "rect_m": [1, 1, 1, 2], "material": "own"}]),
    ("a calibration left empty", ["calibration"], None),
    ("an unknown key in a calibration", ["calibration"], {"offset": 3}),
    ("an offset of 61 dB", ["calibration"], {"offset_db": 61}),
    ("half a reading learned from", ["calibration"], {"readings": 2.5}),
    ("a material learned without its shift", ["calibration"], {"materials": {"own": {"sigma_db": 1}}}),
    ("a correlation of one", ["calibration"], {"correlations": [PAIR[:2] + [1]]}),
    ("a correlation of one parameter", ["calibration"], {"correlations": [PAIR[1:]]}),
    ("a correlation of three parameters", ["calibration"], {"correlations": [PAIR + [0.5]]}),
    ("a correlation of no parameter", ["calibration"], {"correlations": [["/radio/diffraction", "/radio/exponent", 0.5]]}),
    ("infinity", DEVICE + ["height_m"], float("inf")),
]


def check_changes():
    fault = first_fault(SITE, BASE)
    if fault:
        fail(f"the base of the spoilt sites is refused itself: {fault}")
        return
    for label, path, value in ACCEPTED:
        fault = first_fault(SITE, spoilt(BASE, path, value))
        if fault:
            fail(f"refused, though sound: {label}: {fault}")
    for label, path, value in REFUSED:
        if first_fault(SITE, spoilt(BASE, path, value)) is None:
            fail(f"accepted, though spoilt: {label}")
    if first_fault(TABLES, {"materials": {}, "profiles": {}}) is None:
        fail("accepted, though spoilt: a table of both kinds")
    if first_fault(TABLES, {}) is None:
        fail("accepted, though spoilt: an empty table file")
    fault = first_fault(TABLES, {"learned": {"brick": LEARNED}})
    if fault:
        fail(f"refused, though sound: a file of learned walls alone: {fault}")
    if first_fault(TABLES, {"learned": {"brick": LEARNED}, "profiles": {}}) is None:
        fail("accepted, though spoilt: a table of learned walls and profiles")


# --- bounds ---

RANGE = re.compile(r"constexpr Range (k\w+)\{\s*([-+.\de]+),\s*([-+.\de]+),")
PAIRS = (("minimum", "maximum"), ("minItems", "maxItems"), ("minProperties", "maxProperties"))


def bounded(schema, where=""):
    """Every part of a schema that states an upper bound."""
    if isinstance(schema, dict):
        if any(upper in schema for _, upper in PAIRS):
            yield where, schema
        for key, part in schema.items():
            yield from bounded(part, where + "/" + key)
    elif isinstance(schema, list):
        for index, part in enumerate(schema):
            yield from bounded(part, f"{where}/{index}")


# The columns of a readings file (CSV, which has no schema), by their bound in limits.hpp.
READING_COLUMNS = {"reading_percent": "kPercent", "level_dbm": "kReceivedDbm", "x_m": "kPlanCoordinateM",
                   "y_m": "kPlanCoordinateM", "height_m": "kRadioHeightM"}
READING_COUNT = "kReadings"


def limit_ranges():
    text = "".join((ROOT / "lib/linkmargin" / name).read_text(encoding="utf-8")
                   for name in ("site/limits.hpp", "site/edit/what_if.hpp", "text/name_flaw.hpp"))
    text = re.sub(r"(?<=\d)'(?=\d)", "", text)
    return {name: (float(low), float(high)) for name, low, high in RANGE.findall(text)}, text


def check_bounds():
    ranges, text = limit_ranges()
    used = {*READING_COLUMNS.values(), READING_COUNT, "kWhatIfRuns"}  # runs are counted, not written
    for file_name in ("cases.schema.json", "what-if.schema.json"):
        for where, part in bounded(SCHEMAS[file_name]):
            name = part.get("$comment")
            used.add(name)
            lower, upper = next(pair for pair in PAIRS if pair[1] in part)
            stated = (float(part.get(lower, 0)), float(part[upper]))
            if stated != ranges.get(name):
                fail(f"{file_name}{where}: {stated} is not {name} {ranges.get(name)}")
    tables = "".join(path.read_text(encoding="utf-8") for folder in ("lib/linkmargin/site/schema", "tests/schema")
                     for path in (ROOT / folder).glob("*.?pp"))
    used |= set(re.findall(r"limits::(k\w+)", tables))
    for name in sorted(ranges.keys() - used):
        fail(f"{name} is in no schema")
    return len(used)


# --- the reference ---

CELL_RANGE = re.compile(r"^(-?[\d.]+)\.\.(-?[\d.]+)$")


def properties(part, schema):
    if isinstance(part, dict):
        for key, value in part.get("properties", {}).items():
            yield key, value, schema
        for value in part.values():
            yield from properties(value, schema)
    elif isinstance(part, list):
        for value in part:
            yield from properties(value, schema)


def reference_text():
    """The pages of the site file, one after the other."""
    pages = [DOCS / "site-file.md", *sorted((DOCS / "site-file").glob("*.md"))]
    return "".join(page.read_text(encoding="utf-8") for page in pages)


def check_reference():
    """The reference tells of every key, and of the columns of readings with their ranges. The tables of keys are printed."""
    text = reference_text()
    for schema in SCHEMAS.values():
        for key, part, owner in properties(schema, schema):
            if f"`{key}`" not in text and f"`{key}: " not in text:
                fail(f"the pages of the site file do not tell of '{key}'")
    low, high = limit_ranges()[0][READING_COUNT]
    if f"{low:.0f} to {high:.0f} readings" not in text:
        fail("site-file/readings.md does not tell how many readings a file may hold")
    rows = 0
    for line in (DOCS / "site-file" / "readings.md").read_text(encoding="utf-8").splitlines():
        cells = [cell.strip() for cell in line.strip("|").split("|")]
        for match in filter(None, (CELL_RANGE.match(cell) for cell in cells)):
            rows += 1
            bounds = float(match[1]), float(match[2])
            keys = re.findall(r"`(\w+)`", cells[0])
            if not any(bounds == limit_ranges()[0].get(READING_COLUMNS.get(key)) for key in keys):
                fail(f"site-file/readings.md: {match[0]} is no range of {keys}")
    if rows != len(READING_COLUMNS) - 1:  # x_m and y_m share a row
        fail(f"site-file/readings.md: {rows} ranges of columns of readings found")
    for block in re.findall(r"```yaml\n(.*?)```", text, re.DOTALL):
        check_fragment(parsed(block), block)
    return rows


def check_profile_names():
    """The site file's pages and the starter name every built-in profile, and no other."""
    built_in = list(load(ROOT / "data" / "profiles.yaml")["profiles"])
    reference = reference_text()
    starter = (ROOT / "data" / "starter.yaml").read_text(encoding="utf-8")
    listed = re.search(r"The built-in profiles are (.*?)\.", reference, re.DOTALL)
    named = re.search(r"# built-in profiles: (.*)", starter)
    found = {"site-file/materials.md": re.findall(r"`([^`]+)`", listed[1]) if listed else [],
             "starter.yaml": named[1].split(", ") if named else []}
    for file_name, names in found.items():
        if names != built_in:
            fail(f"{file_name} lists the built-in profiles {names}, the table has {built_in}")


def check_fragment(fragment, block):
    """An example of the reference, put into the base site in the place of its key."""
    if "cases" in fragment:
        fault = first_fault(RUNS if "sweep" in fragment else CASES, fragment)
        if fault:
            fail(f"the site file's pages: an example of cases is refused: {fault}\n{block}")
        return
    for key, value in fragment.items():
        place = [key] if key in SCHEMAS["site.schema.json"]["properties"] else STOREY + [key]
        fault = first_fault(SITE, spoilt(BASE, place, value))
        if fault:
            fail(f"the site file's pages: an example is refused: {fault}\n{block}")


# --- the table itself ---

def check_tables():
    materials = load(ROOT / "data" / "materials.yaml")["materials"]
    if len(materials) < 45:
        fail(f"only {len(materials)} materials")
    for name, entry in materials.items():
        if name != name.lower():
            fail(f"material '{name}' is not in lower case")
        for key in ("sigma_db", "use", "source", "verified"):
            if key not in entry:
                fail(f"material '{name}' has no {key}")
        if ("no published source" in entry["verified"]) != entry["source"].startswith("common practice"):
            fail(f"material '{name}': source and verification contradict each other")
        frequencies = [point["frequency_mhz"] for point in entry.get("losses", [])]
        if frequencies != sorted(set(frequencies)):
            fail(f"material '{name}': frequencies do not rise")
        for layer in entry.get("layers", []):
            if layer["of"] != "air" and "electrical" not in materials.get(layer["of"], {}):
                fail(f"material '{name}': layer of '{layer['of']}' has no electrical properties")
    for name, entry in load(ROOT / "data" / "profiles.yaml")["profiles"].items():
        if "source" not in entry:
            fail(f"profile '{name}' has no source")
    return len(materials)


files = check_files()
check_changes()
limits = check_bounds()
materials = check_tables()
ranges = check_reference()
check_profile_names()
for failure in failures:
    print(failure)
print(f"{files} files, {len(ACCEPTED) + 1} sound and {len(REFUSED) + 3} spoilt documents, {limits} limits, "
      f"{materials} materials, {ranges} documented ranges: {len(failures)} failures")
sys.exit(1 if failures else 0)
