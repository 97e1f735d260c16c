"""Files of rows that are not what was written: a merge refuses and names them, --resume makes their rows again.

usage: row_parts.py PROGRAM DATA_FOLDER WORK_FOLDER
"""
import os
import pathlib
import shutil
import signal
import subprocess
import time

from program import DATA, PROGRAM, WORK, expect, journal, run_what_if as run

RUNS = """# Invented, as the site is.
site: {site}
sweep:
  /hubs/hub/height_m: {{from: 0.9, to: 2.3, step: 0.1}}
random: {{runs: {draws}, seed: 7}}
"""


def other_digit(data, place):
    """A digit at or after a place, changed into another."""
    while not chr(data[place]).isdigit():
        place += 1
    return data[:place] + (b"7" if data[place:place + 1] != b"7" else b"3") + data[place + 1:]


def damages(whole, others):
    """What may happen to a part: by name, with its bytes then."""
    lines = whole.splitlines(keepends=True)
    middle = len(whole) // 2
    return {
        "empty": b"",
        "short by a row": b"".join(lines[:-1]),
        "short by half a row": whole[:-20],
        "half": whole[:middle],
        "garbage": b"\0\xff garbage\n" * 500,
        "garbage of its size": b"x" * (len(whole) - 1) + b"\n",
        "a changed digit": other_digit(whole, middle),
        "a changed last digit": other_digit(whole, len(whole) - 12),
        "a row twice": b"".join(lines[:9] + lines[8:]),
        "two rows exchanged": b"".join(lines[:8] + [lines[9], lines[8]] + lines[10:]),
        "a row too many": whole + lines[-1],
        "the rows of another part": others,
    }


def check_merge(runs, folder, suffix):
    parts, whole = [], {}
    quiet = folder / f"quiet.{suffix}"
    run(runs, "--output", quiet)
    for shard in (1, 2, 3):
        part = folder / f"part-{shard}.{suffix}"
        run(runs, "--output", part, "--shard", f"{shard}/3")
        parts.append(part)
        whole[part] = part.read_bytes()
    merged = folder / f"merged.{suffix}"
    run("--merge", *parts, "--output", merged)
    expect(merged.read_bytes() == quiet.read_bytes(), "merged parts differ from one run")
    refused = 0
    for part in parts:
        other = parts[0] if part != parts[0] else parts[1]
        cases = damages(whole[part], whole[other])
        if suffix == "csv":
            cases["another header"] = whole[part].replace(b"worst_device", b"wurst_device", 1)
            cases["no header"] = whole[part].split(b"\n", 1)[1]
        for name, data in cases.items():
            part.write_bytes(data)
            before = journal(part).read_text()
            said = run("--merge", *parts, "--output", merged, status=2).stderr
            expect(part.name in said, f"{name}: the part is not named: {said}")
            expect(merged.read_bytes() == quiet.read_bytes(), f"{name}: the output was changed")
            resumed = run(runs, "--output", part, "--shard", f"{parts.index(part) + 1}/3", "--resume")
            expect(part.read_bytes() == whole[part], f"{name}: not made good by --resume\n{resumed.stderr}")
            expect(journal(part).read_text() == before, f"{name}: another journal after --resume")
            told = "are not those that were written" in resumed.stderr
            expect(told or name in ("a row too many", "empty"), f"{name}: made again without a word")
            refused += 1
        part.unlink()
        expect(part.name in run("--merge", *parts, "--output", merged, status=1).stderr, "a missing part is not named")
        part.write_bytes(whole[part])
    check_journals(parts, merged, quiet)
    run("--merge", *parts, "--output", merged)
    expect(merged.read_bytes() == quiet.read_bytes(), "merged parts differ at the end")
    # What was merged is a file of rows like any other.
    expect(journal(merged).read_text().endswith("all rows are there\n"), "the merged journal does not end")
    merged.write_bytes(other_digit(merged.read_bytes(), 3000))
    run(runs, "--output", merged, "--resume")
    expect(merged.read_bytes() == quiet.read_bytes(), "a merged file is not resumed")
    print(f"{suffix}: {refused} damaged parts, all refused, all made good")


def check_journals(parts, merged, quiet):
    """Journals that were cut, changed or of another part."""
    for part in parts:
        text = journal(part).read_text()
        lines = text.splitlines(keepends=True)
        other = journal(parts[0] if part != parts[0] else parts[1]).read_text()
        for name, changed in {"a block less": "".join(lines[:-2] + lines[-1:]), "no blocks": "".join(lines[:3] + lines[-1:]),
                              "a checksum": text.replace("crc32 ", "crc32 f", 1), "no end": "".join(lines[:-1]),
                              "another part's": other, "nothing": "", "other words": "rows\n" * 9,
                              "huge": text.replace(" bytes ", " bytes 99999999", 1)}.items():
            journal(part).write_text(changed)
            run("--merge", *parts, "--output", merged, status=2)
            expect(merged.read_bytes() == quiet.read_bytes(), f"journal with {name}: the output was changed")
        journal(part).write_text(text)


def check_places(folder, runs):
    """A merge writes nothing but its output: not through a link that stands where it might write meanwhile."""
    precious = folder / "precious"
    precious.write_text("keep me\n")
    merged = folder / "all.csv"
    os.symlink("precious", folder / "all.csv.part")
    parts = [folder / f"part-{shard}.csv" for shard in (1, 2, 3)]
    run("--merge", *parts, "--output", merged)
    expect(precious.read_text() == "keep me\n", "a merge wrote through a link")
    expect((folder / "all.csv.part").is_symlink(), "a merge took a link away")
    for part in parts:
        before = part.read_bytes()
        os.link(part, folder / "hard.csv")
        for output in (part, folder / "hard.csv", journal(part)):
            said = run("--merge", *parts, "--output", output, status=2).stderr
            expect("which is read" in said, f"a merge over {output}: {said}")
        expect(part.read_bytes() == before, "a merge over a part")
        (folder / "hard.csv").unlink()
    expect(not list(folder.glob(".linkmargin-*")), "pieces are left")


def check_stopped(folder):
    """A merge that is killed leaves the output as it was, one that is interrupted no piece either."""
    runs = folder / "long.yaml"
    runs.write_text(RUNS.format(site=os.path.join(DATA, "sites", "corner-kiosk.yaml"), draws=60000))
    parts = [folder / f"long-{shard}.csv" for shard in (1, 2)]
    for shard, part in enumerate(parts, 1):
        run(runs, "--output", part, "--shard", f"{shard}/2")
    output = folder / "long.csv"
    output.write_text("old\n")
    stopped = 0
    for how in (signal.SIGINT, signal.SIGKILL, signal.SIGTERM):
        for wait_s in (0.02, 0.05, 0.1):
            process = subprocess.Popen([PROGRAM, "whatif", "--merge", *map(str, parts), "--output", str(output)],
                                       stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
            time.sleep(wait_s)
            process.send_signal(how)
            if process.wait() == 0:
                output.write_text("old\n")
                journal(output).unlink()
                continue
            stopped += 1
            expect(output.read_text() == "old\n", "a merge that was stopped changed its output")
            expect(how != signal.SIGINT or not list(folder.glob(".linkmargin-*")), "an interrupted merge left a piece")
    expect(stopped >= 3, f"{stopped} merges were stopped only")
    for piece in folder.glob(".linkmargin-*"):
        piece.unlink()


def main():
    folder = pathlib.Path(WORK)
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    runs = folder / "runs.yaml"
    runs.write_text(RUNS.format(site=os.path.join(DATA, "sites", "corner-kiosk.yaml"), draws=150))
    for suffix in ("csv", "jsonl"):
        check_merge(runs, folder, suffix)
    check_places(folder, runs)
    check_stopped(folder)


main()
