"""Two commits timed against each other in one run: is one of them slower?

Each commit is checked out into a folder of its own and built with the preset `bench`. Then every benchmark that both have is run,
one commit after the other, in turn and as often as asked, and the shortest times are divided: above 1 the second is slower. Times
are of the processor; what the two do at the same moment of a busy machine is the same for both.

usage: compare.py FIRST SECOND [--only PATTERN] [--rounds 3] [--limit 1.10] [--work FOLDER] [-- OPTION...]
       FIRST and SECOND are commits; '.' is the working tree as it is.
       OPTION goes to the benchmarks, such as --benchmark_filter=cast
status: 0, or 1 where a benchmark is slower by more than the limit in the second, or is gone
"""
import argparse
import fnmatch
import json
import pathlib
import shutil
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parents[1]
SECONDS = {"ns": 1e-9, "us": 1e-6, "ms": 1e-3, "s": 1}


def git(*words):
    return subprocess.run(["git", "-C", str(ROOT), *words], check=True, capture_output=True, text=True).stdout.strip()


def checked_out(commit, folder):
    """The commit's files; where they are there already, as they are."""
    if commit == ".":
        return ROOT
    whole = git("rev-parse", "--verify", commit + "^{commit}")
    place = folder / whole[:12]
    if not place.exists():
        place.mkdir(parents=True)
        archive = subprocess.run(["git", "-C", str(ROOT), "archive", whole], check=True, capture_output=True).stdout
        subprocess.run(["tar", "-x", "-C", str(place)], input=archive, check=True)
    return place


def built(place, only):
    """Builds the benchmarks of a tree. @return them by name"""
    names = sorted(path.stem for path in (place / "benchmarks").glob("*_bench.cpp") if fnmatch.fnmatch(path.stem, only))
    for words in (["cmake", "--preset", "bench"], ["cmake", "--build", "--preset", "bench", "--target", *names]):
        done = subprocess.run(words, cwd=place, stdout=sys.stderr)
        if done.returncode != 0:
            sys.exit(f"{place}: '{' '.join(words)}' failed")
    return {name: place / "build/bench/benchmarks" / name for name in names}


def times(report):
    """Seconds of the processor an iteration, by the name of what is timed, of a report in JSON. @return nothing of what failed"""
    return {one["name"]: one["cpu_time"] * SECONDS[one["time_unit"]] for one in report["benchmarks"]
            if one.get("run_type", "iteration") == "iteration" and not one.get("error_occurred")}


def timed(program, options):
    out = program.with_suffix(".json")
    out.unlink(missing_ok=True)
    subprocess.run([str(program), f"--benchmark_out={out}", "--benchmark_out_format=json", *options], stdout=subprocess.DEVNULL,
                   stderr=subprocess.DEVNULL)
    if not out.exists():
        sys.exit(f"{program} wrote no report")
    return times(json.loads(out.read_text()))


def shortest(rounds):
    """Of several rounds the shortest time of each: what disturbs only makes it longer."""
    return {name: min(one[name] for one in rounds if name in one) for name in {name for one in rounds for name in one}}


def lines(first, second, limit):
    """What is printed, and whether all is well."""
    text, well = [], True
    for name in sorted(first.keys() | second.keys()):
        if name not in second:
            text.append(f"{'gone':>8}  {name}")
            well = False
        elif name not in first:
            text.append(f"{'new':>8}  {name}")
        else:
            ratio = second[name] / first[name]
            slower = ratio > limit
            well = well and not slower
            text.append(f"{ratio:8.2f}  {name}  {first[name]:.3g} s, {second[name]:.3g} s{'  SLOWER' if slower else ''}")
    return text, well


def main():
    own, _, options = " ".join(sys.argv[1:]).partition(" -- ")
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("first")
    parser.add_argument("second")
    parser.add_argument("--only", default="*")
    parser.add_argument("--rounds", type=int, default=3)
    parser.add_argument("--limit", type=float, default=1.10)
    parser.add_argument("--work", type=pathlib.Path, default=ROOT / "build" / "compare")
    parser.add_argument("--fresh", action="store_true", help="check both commits out anew")
    asked = parser.parse_args(own.split())
    if asked.fresh:
        shutil.rmtree(asked.work, ignore_errors=True)
    programs = [built(checked_out(commit, asked.work.resolve()), asked.only) for commit in (asked.first, asked.second)]
    rounds = [[], []]
    for name in sorted(programs[0].keys() | programs[1].keys()):
        for _ in range(asked.rounds):
            for of, programs_of in zip(rounds, programs):
                if name in programs_of:
                    of.append({f"{name}: {what}": time for what, time in timed(programs_of[name], options.split()).items()})
    text, well = lines(shortest(rounds[0]), shortest(rounds[1]), asked.limit)
    print(f"time of {asked.second} over that of {asked.first}")
    print("\n".join(text))
    return 0 if well else 1


if __name__ == "__main__":
    sys.exit(main())
