"""Runs the examples of every command's help, as they stand there.

usage: examples.py PROGRAM DATA_FOLDER WORK_FOLDER [MODULE]

Each runs in a folder of its own with the files of NEEDS: an invented site with its readings, cases and a drawing. Pictures need
the module that draws them, `man` the program of that name, the sketch page `sh cli/sketch/build`; without them those examples are left out, and named.
"""
import pathlib
import re
import shutil
import signal
import struct
import subprocess
import sys
import time
import zlib

from manual_text import examples_of
from program import DATA, PROGRAM, WORK, expect, run

MODULE = len(sys.argv) > 4
SITES = pathlib.Path(DATA) / "sites"
DRAWINGS = pathlib.Path(DATA).parent / "tests" / "golden" / "trace" / "drawings"
STATUS = {"linkmargin check site.yaml --fail-if-weak": 3}
# What is typed where an example asks for something.
TYPED = {"linkmargin starter --ask --output site.yaml": "\n" * 40}


def white_png(width, height):
    def chunk(kind, body):
        return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))

    rows = zlib.compress((b"\0" + b"\xff" * width) * height)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)) + chunk(b"IDAT", rows) + chunk(b"IEND", b"")


def renamed(file):
    """The demo site has no hall motion, which the examples name."""
    return (SITES / file).read_text().replace("clay shed contact", "hall motion")


def shards(folder):
    for part in (1, 2):
        run("whatif", folder / "cases.yaml", "--shard", f"{part}/2", "--output", folder / f"part-{part}.csv")


def several(folder):
    (folder / "sites").mkdir()
    for name in ("kiln-lane", "corner-kiosk"):
        shutil.copy(SITES / f"{name}.yaml", folder / "sites")


def started(folder):
    run("whatif", folder / "cases.yaml", "--output", folder / "runs.csv")


def small(folder, file):
    shutil.copy(SITES / "corner-kiosk.yaml", folder / file)


# Commands whose examples take seconds on the larger site.
ON_SMALL_SITE = ("place", "report")

# Words of an example, and what puts the file there.
NEEDS = {
    "site.yaml": lambda folder: (folder / "site.yaml").write_text(renamed("kiln-lane.yaml")),
    "moved.yaml": lambda folder: (folder / "moved.yaml").write_text(renamed("kiln-lane.yaml")),
    "today.csv": lambda folder: (folder / "today.csv").write_text(renamed("kiln-lane-readings.csv")),
    "a.yaml": lambda folder: (folder / "a.yaml").write_text(renamed("kiln-lane.yaml")),
    "a.csv": lambda folder: (folder / "a.csv").write_text(renamed("kiln-lane-readings.csv")),
    "b.yaml": lambda folder: (folder / "b.yaml").write_text(renamed("kiln-lane.yaml")),
    "b.csv": lambda folder: (folder / "b.csv").write_text(renamed("kiln-lane-readings.csv")),
    "places.csv": lambda folder: (folder / "places.csv").write_text("profile,storey,x_m,y_m,height_m\ncontact,ground,0.5,4.1,2\n"),
    "plan.dxf": lambda folder: shutil.copy(DRAWINGS / "double-lines.dxf", folder / "plan.dxf"),
    "layers.yaml": lambda folder: (folder / "layers.yaml").write_text("walls: [A-WALL]\ndoors: [A-DOOR]\nwindows: [A-WINDOW]\nnames: [A-ROOM-NAME]\n"),
    "plan.png": lambda folder: [(folder / "plan.png").write_bytes(white_png(120, 90)), small(folder, "site.yaml")],
    "cases.yaml": lambda folder: [shutil.copy(SITES / "kiln-lane.yaml", folder), shutil.copy(SITES / "kiln-lane-what-if.yaml", folder / "cases.yaml")],
    "part-*.csv": lambda folder: [NEEDS["cases.yaml"](folder), shards(folder)],
    "sites/*.yaml": several,
    "--resume": started,
}


def why_left_out(line):
    if not MODULE and re.search(r"\.(png|pdf)\b", line) and "--under" not in line:
        return "no module that draws pictures"
    page = pathlib.Path(PROGRAM).resolve().parents[2] / "linkmargin.html"
    if line.startswith("linkmargin sketch") and not page.exists():
        return "the sketch page is not built"
    return "man is not installed" if "| man" in line and not shutil.which("man") else ""


def prepared(line, number):
    folder = pathlib.Path(WORK) / str(number)
    folder.mkdir(parents=True)
    outputs = re.findall(r"(?:-o|--output|--apply|--learned|--page) (\S+)", line)
    for word in line.split():
        if word in NEEDS and word not in outputs:
            NEEDS[word](folder)
            if line.split()[1] in ON_SMALL_SITE and word in ("site.yaml", "moved.yaml"):
                small(folder, word)
    return folder


def run_watch(command, folder):
    """Until its page is there."""
    process = subprocess.Popen(command, cwd=folder, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE)
    end = time.monotonic() + 30
    while not (folder / "site.html").exists() and process.poll() is None and time.monotonic() < end:
        time.sleep(0.05)
    process.send_signal(signal.SIGINT)
    error = process.communicate(timeout=30)[1]
    return (folder / "site.html").exists() and process.returncode in (0, -signal.SIGINT), error.decode()


def run_example(line, folder):
    path = {"PATH": f"{pathlib.Path(WORK) / 'bin'}:/usr/bin:/bin", "LC_ALL": "C.UTF-8"}
    if "--watch" in line:
        return run_watch([PROGRAM, *line.split()[1:]], folder)
    done = subprocess.run(["sh", "-c", line], cwd=folder, env=path, input=TYPED.get(line, ""), capture_output=True, text=True)
    written = re.findall(r"(?:-o|--output|--apply|--learned) (\S+)", line)
    missing = [file for file in written if not (folder / file).exists()]
    return done.returncode == STATUS.get(line, 0) and not missing and bool(done.stdout or written), \
        f"status {done.returncode}, missing {missing}: {done.stderr}"


def main():
    shutil.rmtree(WORK, ignore_errors=True)
    (pathlib.Path(WORK) / "bin").mkdir(parents=True)
    (pathlib.Path(WORK) / "bin" / "linkmargin").symlink_to(PROGRAM)
    commands = [line.split("\t")[0] for line in run("suggest", "--", "").stdout.splitlines()[1:] if not line.startswith("--")]
    lines = list(dict.fromkeys(line for command in ["", *commands] for line in examples_of(command)))
    expect(len(lines) >= 55, f"only {len(lines)} examples were found")
    ran = 0
    for number, line in enumerate(lines):
        if left_out := why_left_out(line):
            print(f"left out, {left_out}: {line}")
            continue
        good, why = run_example(line, prepared(line, number))
        expect(good, f"{line}\n{why}")
        ran += 1
    print(f"{ran} of {len(lines)} examples ran")


main()
