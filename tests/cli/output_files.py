"""What a command writes, where and how: never over a file that it reads, whole or not there, several together or none.

usage: output_files.py PROGRAM DATA_FOLDER WORK_FOLDER
"""
import fcntl
import os
import pathlib
import pty
import re
import shutil
import signal
import subprocess
import sys
import time
import urllib.parse

from program import DATA, PROGRAM, WORK, expect, run

SITE = pathlib.Path(DATA, "sites", "corner-kiosk.yaml")
KILN = pathlib.Path(DATA, "sites", "kiln-lane.yaml")
READINGS = pathlib.Path(DATA, "sites", "kiln-lane-readings.csv")
RUNS = "# Invented.\nsite: {site}\nsweep:\n  /hubs/hub/height_m: [1.4, 1.5]\n"


def folder_of(name):
    folder = pathlib.Path(WORK, name)
    folder.mkdir()
    return folder


def kept(file, before, said, part="which is read"):
    expect(file.read_bytes() == before, f"{file} was written over")
    expect(part in said, f"'{part}' is not said: {said}")


def check_inputs():
    """Every input of every command, by its own name, a link and a hard link."""
    folder = folder_of("inputs")
    texts = {
        "site": SITE.read_bytes(),
        "plan": SITE.read_bytes(),
        "plan.json": SITE.read_bytes(),
        "plan.txt": SITE.read_bytes(),
        "rows.csv.journal": SITE.read_bytes(),
        "materials": b"materials:\n  own wall: {loss_db: 4}\n",
        "cases": b"cases:\n  - {name: higher, set: {/hubs/hub/height_m: 1.6}}\n",
        "readings": READINGS.read_bytes(),
        "kiln": KILN.read_bytes(),
        "en": pathlib.Path(DATA, "languages", "en.yaml").read_bytes(),
    }
    for name, text in texts.items():
        (folder / name).write_bytes(text)
    for name in ("plan", "plan.json", "plan.txt", "rows.csv.journal"):
        (folder / f"runs-{name}").write_text(RUNS.format(site=name))
    asked = [
        ("site", ["check", "site"]), ("site", ["draw", "site"]), ("site", ["explain", "site", "DEVICE"]),
        ("site", ["relocate", "site"]), ("site", ["visit", "site"]), ("site", ["coverage", "site", "--step", "1"]),
        ("site", ["report", "site"]), ("materials", ["check", "site", "--materials", "materials"]),
        ("materials", ["materials", "--materials", "materials"]),
        ("cases", ["report", "site", "--cases", "cases"]), ("plan", ["report", "site", "--before", "plan"]),
        ("en", ["report", "site", "--language", "./en"]),
        ("readings", ["check", "kiln", "--readings", "readings"]),
        ("readings", ["relocate", "kiln", "--readings", "readings"]),
        ("readings", ["visit", "kiln", "--readings", "readings"]),
        ("cases", ["place", "site", "--brief", "--step", "1", "--cases", "cases"]),
        ("plan", ["whatif", "runs-plan"]), ("plan.txt", ["whatif", "runs-plan.txt"]),
        ("plan.json", ["whatif", "runs-plan.json"]), ("plan", ["whatif", "runs-plan", "--format", "csv"]),
        ("runs-plan", ["whatif", "runs-plan"]),
    ]
    header, first = run("check", SITE, "--format", "csv").stdout.splitlines()[:2]
    device = first.split(",")[header.split(",").index("device")]
    os.chdir(folder)
    for name, words in asked:
        words = [device if word == "DEVICE" else word for word in words]
        file = folder / name
        before = file.read_bytes()
        kept(file, before, run(*words, "--output", name, status=2).stderr)
        os.symlink(name, folder / "link")
        kept(file, before, run(*words, "--output", "link", status=2).stderr)
        os.link(file, folder / "hard")
        kept(file, before, run(*words, "--output", "hard", status=2).stderr)
        (folder / "link").unlink()
        (folder / "hard").unlink()
    for option in ("relocate", "visit", "place"):
        more = ["--brief", "--step", "1"] if option == "place" else []
        os.link(folder / "site", folder / "hard")
        kept(folder / "site", texts["site"], run(option, "site", *more, "--apply", "hard", status=2).stderr)
        (folder / "hard").unlink()
    journal = folder / "rows.csv.journal"
    kept(journal, texts["rows.csv.journal"], run("whatif", "runs-rows.csv.journal", "-o", "rows.csv", status=2).stderr)
    expect(not (folder / "rows.csv").exists(), "rows were begun")
    with open("site") as stdin:
        kept(folder / "site", texts["site"], run("check", "-", "--output", "site", status=2, stdin=stdin).stderr)
    with open("site", "a") as appended:
        kept(folder / "site", texts["site"], run("check", "site", status=2, stdout=appended).stderr)
        kept(folder / "site", texts["site"], run("check", "site", "-o", f"/proc/self/fd/1", status=2, stdout=appended).stderr)
    (folder / "brick").write_text("a file of that name, which is not read\n")
    run("materials", "brick", "--output", "brick")
    if os.access("/dev/shm", os.W_OK):
        shared = pathlib.Path(f"/dev/shm/linkmargin-test-{os.getpid()}")
        try:
            run("starter", "--output", shared)
            before = shared.read_bytes()
            kept(shared, before, run("check", shared, "--output", shared, status=2).stderr)
        finally:
            shared.unlink(missing_ok=True)


def check_links():
    folder = folder_of("links")
    os.symlink("there", folder / "here")
    os.symlink("here", folder / "there")
    said = run("check", SITE, "--output", folder / "here", status=1).stderr
    expect("symbolic link" in said, "a circle of links is not told: " + said)
    expect((folder / "here").is_symlink() and (folder / "there").is_symlink(), "a link was replaced")
    os.symlink("here", folder / "rows.csv")
    (folder / "runs.yaml").write_text(RUNS.format(site=SITE))
    run("whatif", folder / "runs.yaml", "--output", folder / "rows.csv", status=1)
    expect((folder / "rows.csv").is_symlink(), "a link was replaced by rows")
    os.symlink("new", folder / "to-nothing")
    run("starter", "--output", folder / "to-nothing")
    expect((folder / "to-nothing").is_symlink() and (folder / "new").is_file(), "a link to nothing is not followed")


def check_leftovers():
    """What a killed program left is taken away by the next one, once nobody writes it and it is old."""
    folder = folder_of("leftovers")
    fresh, locked, old, like = (folder / name for name in (".linkmargin-fresh1.part", ".linkmargin-locked.part",
                                                           ".linkmargin-oldone.part", ".linkmargin-settings.yaml"))
    for file in (fresh, locked, old, like):
        file.write_text("a piece")
    # A file's time of change cannot be set back: the test waits.
    with open(locked) as held:
        fcntl.flock(held, fcntl.LOCK_EX)
        run("starter", "--output", folder / "at-once.yaml")
        expect(all(file.exists() for file in (fresh, locked, old, like)), "a new file was taken away")
        time.sleep(7)
        fresh.unlink()
        fresh.write_text("a piece")
        run("starter", "--output", folder / "later.yaml")
        expect(not old.exists(), "a leftover stays")
        expect(fresh.exists(), "a new file was taken away")
        expect(locked.exists(), "a file that is being written was taken away")
        expect(like.exists(), "a file of another kind was taken away")


def check_together():
    """Several outputs: all of them or none."""
    folder = folder_of("together")
    outputs = {"site": folder / "site.yaml", "learned": folder / "learned.yaml", "picture": folder / "picture.svg"}
    old = {key: f"the old {key}\n" for key in outputs}
    words = ["calibrate", KILN, READINGS]

    def calibrate(site, learned, picture, status, limit=None):
        for key, file in outputs.items():
            file.write_text(old[key])
        said = run(*words, "--output", site, "--learned", learned, "--picture", picture, status=status, limit=limit).stderr
        return said, {key: file.read_text() for key, file in outputs.items()}

    (folder / "a folder").mkdir()
    site, learned, picture = outputs.values()
    for out in ((folder / "a folder" / "x.yaml" / "y", learned, picture), (site, folder / "a folder", picture),
                (site, learned, folder / "none" / "p.svg"), (site, learned, "/dev/full")):
        said, now = calibrate(*out, status=1)
        expect(now == old, f"{out}: some were written though one could not be: {said}")
    said, now = calibrate(site, learned, picture, status=1, limit=len(KILN.read_text()) + 2000)
    expect(now == old, "a full disk: some were written: " + said)
    said, now = calibrate(site, learned, picture, status=0)
    expect(all(now[key] != old[key] for key in old), "not all were written")
    expect(not list(folder.glob(".linkmargin-*")), "pieces are left")
    run(*words, "-o", site)
    for command in (["relocate", KILN], ["visit", KILN], ["place", SITE, "--brief", "--step", "1"]):
        site.write_text("old\n")
        run(*command, "--apply", site, "--output", folder / "none" / "answer.txt", status=1)
        expect(site.read_text() == "old\n", f"{command}: --apply was written without the answer")
        run(*command, "--apply", site, "--output", f"{folder}/../together/site.yaml", status=2)
    if os.getuid() == 0 and pathlib.Path("/usr/bin/setpriv").exists():
        check_put_back(folder, words)


def check_put_back(folder, words):
    """The last rename fails, in a folder where nobody replaces another's file: the first is as it was."""
    sticky = folder / "sticky"
    sticky.mkdir()
    (sticky / "picture.svg").write_text("another's\n")
    (sticky / "picture.svg").chmod(0o666)
    (sticky / "site.yaml").write_text("mine\n")
    os.chown(sticky / "site.yaml", 65534, 65534)
    sticky.chmod(0o1777)
    for above in sticky.resolve().parents:
        if not os.stat(above).st_mode & 0o001:
            return
    done = subprocess.run(["setpriv", "--reuid", "65534", "--clear-groups", PROGRAM, *map(str, words), "--output",
                           str(sticky / "site.yaml"), "--picture", str(sticky / "picture.svg")], capture_output=True, text=True)
    expect(done.returncode == 1, f"status {done.returncode}: {done.stderr}")
    expect((sticky / "picture.svg").read_text() == "another's\n", "another's file was replaced")
    expect((sticky / "site.yaml").read_text() == "mine\n", "the first of two was not put back")
    expect(not list(sticky.glob(".linkmargin-*")), "pieces are left")


def check_endings():
    folder = folder_of("endings")
    names = run("check", KILN, "--format", "csv").stdout.splitlines()
    device = names[1].split(",")[names[0].split(",").index("device")]
    (folder / "runs.yaml").write_text(RUNS.format(site=SITE))
    for words in (["check", KILN], ["relocate", KILN], ["visit", KILN], ["explain", KILN, device], ["materials"], ["place", SITE, "--brief", "--step", "1"],
                  ["coverage", SITE, "--step", "1"]):
        for ending in ("csv", "json", "txt", "CSV"):
            file = folder / f"answer.{ending}"
            run(*words, "-o", file)
            word = "text" if ending == "txt" else ending.lower()
            expect(file.read_text() == run(*words, "--format", word).stdout, f"{words}: {ending} is not that format")
        expect("stands for no format" in run(*words, "-o", folder / "a.doc", status=2).stderr, f"{words}: .doc")
        expect("but --format says json" in run(*words, "--format", "json", "-o", folder / "a.csv", status=2).stderr, f"{words}")
    run("whatif", folder / "runs.yaml", "-o", folder / "rows.csv")
    run("calibrate", KILN, READINGS, "-o", folder / "learned.yaml")
    expect("is the calibrated site" in run("calibrate", KILN, READINGS, "-o", folder / "r.json", status=2).stderr,
           "a calibrated site named .json")


def on_terminal(*words):
    """What a command writes to a terminal, and its status."""
    parent, child = pty.openpty()
    process = subprocess.Popen([PROGRAM, *map(str, words)], stdout=child, stderr=subprocess.PIPE, text=True,
                               env={**os.environ, "TERM": "xterm", "LC_ALL": "C.UTF-8", "NO_COLOR": "1"})
    os.close(child)
    written = b""
    try:
        while block := os.read(parent, 65536):
            written += block
    except OSError:
        pass
    said = process.stderr.read()
    return process.wait(), written.decode(), said


def check_terminal():
    for words in (["draw", KILN], ["coverage", SITE, "--format", "svg", "--step", "1"]):
        status, written, said = on_terminal(*words)
        expect(status == 2 and written == "", f"{words}: {len(written)} bytes flood a terminal, status {status}")
        expect("--output" in said, "the way out is not told: " + said)
    expect(run("draw", KILN).stdout.startswith("<?xml") or "<svg" in run("draw", KILN).stdout, "a pipe takes the drawing")
    status, written, said = on_terminal("materials", "cavity wall")
    lines = [line for line in (written + said).splitlines() if line.strip()]
    expect(status == 0 and lines.count(lines[-1]) == 1, f"the last line twice: {lines[-3:]}")


def check_pages():
    """A page a site and the index, in a folder."""
    folder = folder_of("pages")
    (folder / "a").mkdir()
    (folder / "b").mkdir()
    hostile = folder / "b" / '"><img src=x>&#%?.yaml'
    for file in (folder / "a" / "yard.yaml", folder / "b" / "yard.yaml", hostile):
        file.write_bytes(SITE.read_bytes())
    wrong = folder / "index.yaml"
    wrong.write_text(SITE.read_text().replace("height_m: 1.5, capacity", "hight_m: 1.5, capacity"))
    sites = [folder / "a" / "yard.yaml", wrong, folder / "b" / "yard.yaml", folder / "none.yaml", hostile]
    out = folder / "new" / "pages"
    said = run("report", *sites, "--output", out, status=2).stderr
    expect("index.yaml:" in said and "none.yaml: no such file" in said, "faults are not said: " + said)
    names = ["index.html", "yard-2.html", "yard.html", hostile.stem + ".html"]
    expect(sorted(path.name for path in out.iterdir()) == sorted(names), f"{list(out.iterdir())}")
    index = (out / "index.html").read_text()
    links = [urllib.parse.unquote(link) for link in re.findall(r'href="([^"]*)"', index)]
    expect(links == ["yard.html", "yard-2.html", hostile.stem + ".html"], f"links of the index: {links}")
    expect("<img" not in index and index.count("Not written: 1 fault.") == 2, "the index's rows")
    fixed = {**os.environ, "SOURCE_DATE_EPOCH": "1790000000"}
    alone = subprocess.run([PROGRAM, "report", sites[0]], capture_output=True, env=fixed, check=True).stdout
    (out / "yard.html").write_text("old")
    os.link(out / "yard.html", folder / "kept")
    subprocess.run([PROGRAM, "report", sites[0], sites[2], "-o", out], env=fixed, check=True)
    expect((out / "yard.html").read_bytes() == alone, "a page of several is not the page of one")
    expect((folder / "kept").read_text() == "old", "a page was written into the file that was there")
    expect(not [path for path in out.iterdir() if path.name.startswith(".")], "something is left over")
    # A page in an input's place, whichever comes first; a folder that is a file, or cannot be made.
    (folder / "a" / "yard.html").write_bytes(SITE.read_bytes())
    for words in ([folder / "a" / "yard.yaml", folder / "a" / "yard.html"], [folder / "a" / "yard.html", SITE]):
        kept(folder / "a" / "yard.html", SITE.read_bytes(),
             run("report", *words, "--output", folder / "a", status=2).stderr)
    expect(sorted(path.name for path in (folder / "a").iterdir()) == ["yard.html", "yard.yaml"], "pages were begun")
    for place in (folder / "kept", folder / "kept" / "under"):
        expect("Not a directory" in run("report", *sites[:1], SITE, "-o", place, status=1).stderr, f"{place}")
    expect((folder / "kept").read_text() == "old", "a file was taken for a folder")


def check_signals():
    """Ctrl-C while a pipe waits for its reader ends the program."""
    folder = folder_of("signals")
    os.mkfifo(folder / "pipe")
    process = subprocess.Popen([PROGRAM, "check", SITE, "--output", folder / "pipe"], stderr=subprocess.DEVNULL)
    time.sleep(1)
    process.send_signal(signal.SIGINT)
    try:
        process.wait(5)
    except subprocess.TimeoutExpired:
        process.kill()
        sys.exit("failed: a signal does not end what waits for a reader")


def main():
    shutil.rmtree(WORK, ignore_errors=True)
    pathlib.Path(WORK).mkdir(parents=True)
    for check in (check_inputs, check_links, check_together, check_endings, check_terminal, check_pages, check_signals, check_leftovers):
        check()
        print(check.__name__.replace("_", " "), "holds")


main()
