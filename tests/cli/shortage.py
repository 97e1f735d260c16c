"""Threads that cannot start and memory that runs out: an answer or a plain word with status 1, never a defect.
PNG and PDF are drawn by libraries that need threads of their own: without them there is no picture, and a plain word too.

usage: shortage.py PROGRAM DATA_FOLDER WORK_FOLDER [MODULE]
"""
import os
import pathlib
import resource
import shutil
import subprocess
import sys

from program import DATA, PROGRAM, WORK, expect

KILN = os.path.join(DATA, "sites", "kiln-lane.yaml")
KIOSK = os.path.join(DATA, "sites", "corner-kiosk.yaml")
READINGS = os.path.join(DATA, "sites", "kiln-lane-readings.csv")
PICTURES = len(sys.argv) > 4
NOBODY = 64123  # no process is this user's: a limit of one leaves no thread to start


def run(words, memory=None, processes=None):
    def before():
        if memory is not None:
            resource.setrlimit(resource.RLIMIT_AS, (memory, memory))
        if processes is not None:
            os.setgroups([])
            os.setresgid(NOBODY, NOBODY, NOBODY)
            resource.setrlimit(resource.RLIMIT_NPROC, (processes, processes))
            os.setresuid(NOBODY, NOBODY, NOBODY)

    done = subprocess.run([PROGRAM, *words], capture_output=True, preexec_fn=before, cwd=WORK,
                          env={**os.environ, "SOURCE_DATE_EPOCH": "0", "LC_ALL": "C"})
    return done.returncode, done.stdout, done.stderr.decode()


def commands():
    header, first = run(["check", KILN, "--format", "csv"])[1].decode().splitlines()[:2]
    device = first.split(",")[header.split(",").index("device")]
    yield ["check", KILN]
    yield ["explain", KILN, device]
    yield ["coverage", KIOSK, "--step", "0.5", "--format", "svg"]
    yield ["relocate", KIOSK]
    yield ["visit", KIOSK]
    yield ["place", KIOSK, "--step", "1"]
    yield ["calibrate", KILN, READINGS]
    yield ["report", KIOSK]
    yield ["whatif", "runs.yaml", "--format", "csv"]


def check_threads(words):
    status, written, said = run([*words, "--threads", "8"])
    expect(status == 0, f"{words}: status {status}: {said}")
    for processes in (1, 3):
        short = run([*words, "--threads", "8"], processes=processes)
        expect(short[0] == 0 and short[1] == written,
               f"{words} with {processes} of 8 threads: status {short[0]}, {short[2]}")


def check_picture_threads(words):
    status, written, said = run(words, processes=1)
    expect(status == 1 and not written and said.startswith("linkmargin: "),
           f"{words} without a thread: status {status}, {len(written)} bytes: {said}")


def least_memory():
    """The megabytes that hardly start the program: under it the run time has no memory left to throw with."""
    return next(quarters / 4 for quarters in range(32, 400) if run(["--version"], memory=quarters * 2**18)[0] == 0)


def check_memory(words, limits, threads=("--threads", "2")):
    """From what is enough down to what is not."""
    enough, refused = 0, 0
    for megabytes in limits:
        status, written, said = run([*words, *threads], memory=int(megabytes * 2**20))
        if status == 127 or "error while loading shared libraries" in said:
            break
        expect(status in (0, 1), f"{words} with {megabytes} MB: status {status}: {said}")
        enough += status == 0
        refused += status == 1
        expect(status == 0 or "not enough memory" in said or "Cannot allocate memory" in said,
               f"{words} with {megabytes} MB says: {said}")
    return enough, refused


def main():
    shutil.rmtree(WORK, ignore_errors=True)
    pathlib.Path(WORK).mkdir(parents=True)
    pathlib.Path(WORK, "runs.yaml").write_text(
        f"# Invented.\nsite: {KIOSK}\nsweep:\n  /hubs/hub/height_m: {{from: 0.9, to: 2.3, step: 0.1}}\nrandom: {{runs: 50}}\n")
    least = least_memory()
    enough = refused = 0
    for words in commands():
        if os.getuid() == 0 and os.access(PROGRAM, os.X_OK):
            check_threads(words)
        some = check_memory(words, (400, 60, 26, 19, 16, 15, least + 0.5, least))
        enough, refused = enough + some[0], refused + some[1]
    if PICTURES:
        for form in ("png", "pdf"):
            words = ["draw", KIOSK, "--format", form]
            some = check_memory(words, (1000, 300, 250, 200, 150, 120, 100, 80, 60, 40, 26), threads=())
            expect(some[0] >= 1 and some[1] >= 5, f"{words}: {some[0]} answers and {some[1]} refusals")
            if os.getuid() == 0 and os.access(PROGRAM, os.X_OK):
                check_picture_threads(words)
    expect(enough >= 5 and refused >= 5, f"{enough} answers and {refused} refusals: the limits are none")
    print(f"memory: {enough} answers, {refused} refusals")


main()
