"""Traces a house drawn in three styles, with any line ends and among much else, a large and a hostile drawing, and files of
every version that python3-ezdxf writes.

usage: trace_drawings.py PROGRAM DATA_FOLDER WORK_FOLDER [styles|versions]

Where python3-ezdxf is not installed, `versions` ends with status 77: skipped.
"""
import pathlib
import subprocess
import sys
import time

import yaml

from drawn_house import ROOMS, Dxf, closed_walls, double_lines, many_layers
from program import PROGRAM, WORK, expect

FOLDER = pathlib.Path(WORK)
FOLDER.mkdir(parents=True, exist_ok=True)


def trace(name, text, *options, status=0):
    plan = FOLDER / name
    plan.write_bytes(text if isinstance(text, bytes) else text.encode())
    site = FOLDER / (name + ".yaml")
    site.unlink(missing_ok=True)
    done = subprocess.run([PROGRAM, "trace", plan, "--output", site, "--language", "en", *options], capture_output=True, text=True)
    expect(done.returncode == status, f"{name}: status {done.returncode}: {done.stderr}")
    if status:
        expect(not site.exists(), f"{name}: a file in spite of faults")
        return done.stderr
    checked = subprocess.run([PROGRAM, "check", site], capture_output=True, text=True)
    expect(checked.returncode == 0, f"{name}: check: {checked.stderr}")
    return yaml.safe_load(site.read_text()), done.stdout


def area(corners):
    return abs(sum(a[0] * b[1] - a[1] * b[0] for a, b in zip(corners, corners[1:] + corners[:1]))) / 2


def check_house(name, site, names=tuple(ROOMS), doors=4, windows=1, thickness=True):
    (storey,) = site["storeys"]
    rooms = {room: area(value["corners_m"]) for room, value in storey["rooms"].items()}
    expect(set(rooms) == set(names), f"{name}: rooms {sorted(rooms)}")
    for room, wanted in zip(names, ROOMS.values()):
        expect(abs(rooms[room] - wanted) < 0.01, f"{name}: {room} has {rooms[room]} m2, not {wanted}")
    kinds = [opening["kind"] for opening in storey["openings"]]
    expect(kinds.count("window") == windows and len(kinds) - kinds.count("window") == doors, f"{name}: openings {kinds}")
    if thickness:
        expect(storey["outer_wall"]["thickness_m"] == 0.3, f"{name}: outer wall {storey['outer_wall']}")
        expect(storey["inner_wall"]["thickness_m"] == 0.1, f"{name}: inner wall {storey['inner_wall']}")
    return storey


def styles():
    for end, line_end in (("lf", "\n"), ("crlf", "\r\n"), ("cr", "\r")):
        site, _ = trace(f"double-{end}.dxf", double_lines().whole(line_end))
        storey = check_house(f"double lines, {end}", site)
        widths = sorted((opening["kind"], opening["width_m"]) for opening in storey["openings"])
        expect(widths == [("front door", 0.9), ("inner door", 0.8), ("inner door", 0.9), ("inner door", 0.9), ("window", 1.5)],
               f"openings {widths}")
    site, _ = trace("closed.dxf", closed_walls().whole())
    check_house("closed walls", site, ("Wohnzimmer", "Flur", "Küche", "Bad"))
    fault = trace("many.dxf", many_layers().whole(), status=2)
    expect("does not say its unit" in fault and "--unit mm makes it 9.7 m by 7.7 m" in fault, fault)
    site, report = trace("many.dxf", many_layers().whole(), "--unit", "mm")
    check_house("many layers", site, windows=0, thickness=False)
    for kind, layer, count in (("DIMENSION", "DIM", 12), ("HATCH", "FILL", 5), ("SPLINE", "FURNITURE", 1), ("line", "FURNITURE", 40)):
        expect(any(line.split()[:3] == [kind, layer, str(count)] for line in report.splitlines()), f"{kind} is not told: {report}")


def large():
    drawing = double_lines()
    for i in range(200_000):
        x, y = (i * 7919) % 9700 / 1000, (i * 104729) % 7700 / 1000
        drawing.line(f"FURNITURE {i % 30}", x, y, x + (i % 13) / 30, y + (i % 17) / 30)
    begun = time.monotonic()
    site, _ = trace("large.dxf", drawing.whole())
    seconds = time.monotonic() - begun
    check_house("200,000 lines", site)
    expect(seconds < 20, f"200,000 lines take {seconds:.1f} s")
    drawing = Dxf("m")
    for i in range(200_000):
        drawing.line("WALL", (i * 7919) % 997 / 10, (i * 104729) % 991 / 10, (i * 15485863) % 983 / 10, (i * 32452843) % 977 / 10)
    fault = trace("tangle.dxf", drawing.whole(), status=2)
    expect("more lines of walls, doors and windows than can be traced" in fault, fault)


def layer_map():
    drawing = closed_walls().whole().replace("WAND", "L1").replace("TUER", "L2").replace("FENSTER", "L3").replace("BESCHRIFTUNG", "L4")
    fault = trace("layers.dxf", drawing, status=2)
    expect("none of the layers is known" in fault and "'L1', 'L2', 'L3', 'L4'" in fault, fault)
    layers = FOLDER / "layers.yaml"
    layers.write_text("walls: l1\ndoors: [L2, none*]\nwindows: 'L?'\nnames: L4\n")
    fault = trace("layers.dxf", drawing, "--layers", str(layers), status=0)
    expect("No layer is called none*." in fault[1], fault[1])
    layers.write_text("walls: L1\ndoors: L2\nwindows: L3\nnames: L4\n")
    site, _ = trace("layers.dxf", drawing, "--layers", str(layers))
    check_house("layers by a map", site, ("Wohnzimmer", "Flur", "Küche", "Bad"))
    layers.write_text("wall: L1\n")
    fault = trace("layers.dxf", drawing, "--layers", str(layers), status=2)
    expect("layers.yaml:1:1: unknown key 'wall' (did you mean 'walls'?)" in fault, fault)


def versions():
    try:
        import ezdxf
    except ImportError:
        print("python3-ezdxf is not installed: files of every version are not tried")
        sys.exit(77)
    for version in ("R12", "R2000", "R2004", "R2007", "R2010", "R2013", "R2018"):
        document = ezdxf.new(version, units=6)
        model = document.modelspace()
        for layer in ("WALLS", "DOORS", "ROOM NAMES"):
            document.layers.add(layer)
        rings = ([(0, 0), (8.3, 0), (8.3, 4.3), (0, 4.3)], [(.3, .3), (4, .3), (4, 4), (.3, 4)], [(4.1, .3), (8, .3), (8, 4), (4.1, 4)])
        for ring in rings:
            if version == "R12":
                model.add_polyline2d(ring, close=True, dxfattribs={"layer": "WALLS"})
            else:
                model.add_lwpolyline(ring, close=True, dxfattribs={"layer": "WALLS"})
        block = document.blocks.new("door")
        block.add_line((0, 0), (0, .9))
        block.add_arc((0, 0), .9, 0, 90)
        model.add_blockref("door", (1, 0.15), dxfattribs={"layer": "DOORS"})
        model.add_text("Büro", dxfattribs={"layer": "ROOM NAMES", "height": .2}).dxf.insert = (1, 2)
        if version == "R12":
            model.add_text("Küche", dxfattribs={"layer": "ROOM NAMES", "height": .2}).dxf.insert = (5, 2)
        else:
            model.add_mtext("{\\fSans;Küche}\\P12.3 m²", dxfattribs={"layer": "ROOM NAMES", "insert": (5, 2)})
            model.add_spline([(1, 1), (2, 2), (3, 1)], dxfattribs={"layer": "FURNITURE"})
        path = FOLDER / f"{version}.dxf"
        document.saveas(path)
        options = () if version != "R12" else ("--unit", "m")
        site, report = trace(f"{version}.dxf", path.read_bytes(), *options)
        (storey,) = site["storeys"]
        rooms = {name: round(area(room["corners_m"]), 2) for name, room in storey["rooms"].items()}
        expect(rooms == {"Büro": 15.6, "Küche": 16.4}, f"{version}: rooms {rooms}")
        expect([opening["kind"] for opening in storey["openings"]] == ["front door"], f"{version}: {storey['openings']}")
        expect(version == "R12" or "SPLINE" in report, f"{version}: the spline is not told")
        # What is drawn for others is sound to that reader.
        drawn = FOLDER / f"{version}-drawn.dxf"
        subprocess.run([PROGRAM, "draw", FOLDER / f"{version}.dxf.yaml", "--output", drawn], check=True)
        auditor = ezdxf.readfile(drawn).audit()
        expect(not auditor.errors, f"{version}: {auditor.errors}")


if sys.argv[4:] == ["versions"]:
    versions()
else:
    styles()
    large()
    layer_map()
print("done")
