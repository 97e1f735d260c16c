"""What a file of rows is after kills, power cuts, a full disk, and in shards: byte for byte that of one quiet run.

usage: what_if_rows.py PROGRAM DATA_FOLDER WORK_FOLDER [KILLS]
"""
import os
import pathlib
import random
import shutil
import signal
import subprocess
import sys
import time

from program import DATA, PROGRAM, WORK, expect, journal, run_what_if as run

KILLS = int(sys.argv[4]) if len(sys.argv) > 4 else 200
CUTS = 40

RUNS = """# Invented, as the site is.
site: {site}
cases:
  - {{name: "hub, by the door", set: {{/hubs/hub/at_m: [1.5, 0.5]}}}}
  - {{name: steel "street" door, set: {{/storeys/ground/openings/street door/leaf: steel door}}}}
sweep:
  /hubs/hub/height_m: {{from: 0.9, to: 2.3, step: 0.05}}
random: {{runs: 250, seed: 11}}
"""


def remove(file):
    file.unlink(missing_ok=True)
    journal(file).unlink(missing_ok=True)


def check_kills(runs, whole, file, options):
    """Kills at random moments, each time taken up again; counts those that met unfinished rows."""
    draw = random.Random(5)
    begin = time.monotonic()
    run(runs, "--output", file, *options)
    quiet_s = time.monotonic() - begin
    remove(file)
    sizes = set()
    killed = finished = 0
    while killed < KILLS:
        process = subprocess.Popen([PROGRAM, "whatif", runs, "--output", file, "--resume", *options],
                                   stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        time.sleep(draw.uniform(0, quiet_s / 2))
        process.send_signal(signal.SIGKILL)
        if process.wait() == -signal.SIGKILL:
            killed += 1
            sizes.add(file.stat().st_size if file.exists() else 0)
            continue
        expect(process.returncode == 0, f"status {process.returncode} of a run that was not killed")
        expect(file.read_bytes() == whole, "rows after kills differ")
        finished += 1
        remove(file)
    run(runs, "--output", file, "--resume", *options)
    expect(file.read_bytes() == whole, "rows after the last kill differ")
    expect("all rows are there" in journal(file).read_text(), "the journal of ended runs does not say so")
    expect(len(sizes) >= 3, f"kills met files of {len(sizes)} sizes only")
    print(f"{killed} kills at {len(sizes)} sizes, {finished + 1} files ended, all equal")


def check_cuts(runs, whole, file, options):
    """A file cut anywhere, or with rubbish behind the cut, as after a power cut."""
    draw = random.Random(6)
    for cut in range(CUTS):
        size = draw.randrange(len(whole))
        tail = draw.choice([b"", b"\0" * 50, b"17,rubbish\r\n"])
        file.write_bytes(whole[:size] + tail)
        text = journal(file).read_text().replace("all rows are there\n", "")
        journal(file).write_text(text)
        run(runs, "--output", file, "--resume", *options)
        expect(file.read_bytes() == whole, f"rows after cut {cut} at {size} differ")
    print(f"{CUTS} cuts, all equal")


def check_refusals(runs, file, options):
    def refused(status, part, *more, of=runs):
        said = run(of, "--output", file, *more, status=status).stderr
        expect(part in said, f"'{part}' is not said: {said}")

    remove(file)
    full = run(runs, "--output", file, *options, status=1, limit=1_000_000).stderr
    expect("make room, then give the same command with --resume" in full, "a full disk is not told: " + full)
    refused(2, "that were not ended", *options)
    changed = file.with_name("changed.yaml")
    changed.write_text(runs.read_text().replace("seed: 11", "seed: 12"))
    refused(2, "rows of other runs", "--resume", *options, of=changed)
    refused(2, "rows of other runs", "--resume", "--doors", "open", *options)
    run(runs, "--output", file, "--resume", *options)
    journal(file).unlink()
    refused(2, "no journal beside it", "--resume", *options)
    remove(file)


def check_shards(runs, whole, folder, suffix):
    parts = []
    for shard in range(1, 8):
        part = folder / f"part-{shard}.{suffix}"
        run(runs, "--output", part, "--shard", f"{shard}/7", "--threads", 1 + shard % 3)
        parts.append(part)
    merged = folder / f"merged.{suffix}"
    run("--merge", *reversed(parts), "--output", merged)
    expect(merged.read_bytes() == whole, "merged shards differ")
    said = run("--merge", *parts[:3], *parts[4:], "--output", merged, status=2).stderr
    expect("in none of the files" in said, "a missing shard is not told: " + said)
    expect(merged.read_bytes() == whole, "a merge that failed changed the file")
    journal(parts[2]).write_text(journal(parts[2]).read_text().replace("all rows are there\n", ""))
    said = run("--merge", *parts, "--output", merged, status=2).stderr
    expect("is not ended" in said, "an unfinished shard is not told: " + said)
    run(runs, "--output", parts[2], "--shard", "3/7", "--resume")
    run("--merge", *parts, "--output", merged)
    expect(merged.read_bytes() == whole, "merged shards differ after a lost one was made again")


def main():
    folder = pathlib.Path(WORK)
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    runs = folder / "runs.yaml"
    runs.write_text(RUNS.format(site=os.path.join(DATA, "sites", "corner-kiosk.yaml")))
    for suffix in ("csv", "jsonl"):
        quiet = folder / f"quiet.{suffix}"
        run(runs, "--output", quiet, "--threads", 1)
        whole = quiet.read_bytes()
        expect(whole.count(b"\n") == 87 * 251 + (suffix == "csv"), "the number of rows")
        check_shards(runs, whole, folder, suffix)
        file = folder / f"rows.{suffix}"
        options = ("--threads", "2")
        run(runs, "--output", file, *options)
        check_cuts(runs, whole, file, options)
        check_refusals(runs, file, options)
        if suffix == "csv":
            check_kills(runs, whole, file, options)


main()
