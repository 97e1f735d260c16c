"""A drawing made again at each save: a plan while the file is sound, its faults while it is not, what was overlapping or on no
wall shown where it is; a page beside it; a file that is away for a moment.

usage: watch.py PROGRAM DATA_FOLDER WORK_FOLDER
"""
import pathlib
import re
import subprocess
import time

from program import DATA, PROGRAM, WORK, expect, run

FOLDER = pathlib.Path(WORK)
FOLDER.mkdir(parents=True, exist_ok=True)
SITE, PLAN, PAGE = FOLDER / "site.yaml", FOLDER / "plan.svg", FOLDER / "pages" / "site.html"
PATIENCE_S = 20

PLAIN = """site: My site
radio: {frequency_mhz: 868.3}
construction: solid brick
storeys:
  - name: ground
    height_m: 2.5
    rooms:
      hall: {rect_m: [0, 0, 2, 5]}
      shop: {rect_m: [2, 0, 6, 5]}
    openings:
      - {name: front door, between: [hall, outside], at_m: [1, 0]}
hubs:
  hub: {in: hall, at: corner top left}
"""


def wait_for(holds, what):
    end = time.monotonic() + PATIENCE_S
    while time.monotonic() < end:
        if PLAN.exists() and holds(PLAN.read_text()):
            return PLAN.read_text()
        time.sleep(0.05)
    expect(False, f"{what}: {PLAN.read_text()[:2000] if PLAN.exists() else 'nothing is drawn'}")


def red_rooms(drawing):
    return set(re.findall(r'<polygon [^>]*fill="#b3261e"[^>]*><title>([^<]*)</title>', drawing))


def main():
    for old in (SITE, PLAN, PAGE):
        old.unlink(missing_ok=True)
    PAGE.parent.mkdir(exist_ok=True)
    SITE.write_text(PLAIN)
    process = subprocess.Popen([PROGRAM, "draw", SITE, "--watch", "--output", PLAN, "--page", PAGE, "--language", "en"],
                               stderr=subprocess.PIPE, text=True)
    try:
        wait_for(lambda drawing: "The plan as the site file has it" in drawing, "the plan at first")
        page = PAGE.read_text()
        expect('src="../plan.svg"' in page and "http" not in page, page)
        SITE.write_text(PLAIN.replace("[2, 0, 6, 5]", "[1.5, 0, 6, 5]"))
        drawing = wait_for(lambda text: "One fault in" in text, "overlapping rooms")
        expect("9:13: rooms" in drawing and red_rooms(drawing) == {"hall", "shop"}, drawing)
        SITE.write_text(PLAIN.replace("at_m: [1, 0]", "at_m: [1, 2]"))
        drawing = wait_for(lambda text: "11:" in text, "an opening on no wall")
        expect(not red_rooms(drawing) and re.search(r'stroke="#b3261e"[^>]*><title>front door</title>', drawing), drawing)
        SITE.write_text(PLAIN.replace("rooms:", "roms:"))
        wait_for(lambda text: "unknown key" in text and "7:5" in text, "an unknown key")
        SITE.write_text("site: [")
        wait_for(lambda text: "1 fault" in text.lower() or "fault" in text and "1:" in text, "no YAML")
        SITE.unlink()
        time.sleep(0.5)
        expect(process.poll() is None, "the program ended while the file was away")
        other = FOLDER / "other.yaml"
        other.write_text(PLAIN.replace("My site", "Another site"))
        other.rename(SITE)
        wait_for(lambda drawing: "Another site" in drawing, "a file put in its place")
    finally:
        process.terminate()
        process.communicate()
    said = run("draw", SITE, "--watch", status=2).stderr
    expect("--watch needs a file that is watched" in said, said)
    said = run("draw", SITE, "--page", PAGE, "--output", PLAN, status=2).stderr
    expect("--page goes with --watch" in said, said)


main()
print("done")
