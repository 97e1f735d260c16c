"""Sums up which lines of lib/linkmargin were run, after a build with --coverage: a table by folder, and the files with most that were not.

usage: lines.py BUILD_FOLDER [--files 15]
"""
import argparse
import collections
import json
import pathlib
import subprocess

ROOT = pathlib.Path(__file__).resolve().parents[2]
LIB = ROOT / "lib" / "linkmargin"


def counted(build):
    """Of each file, whether each line that has code was run: in one object at least, by one instance of a template at least."""
    lines = collections.defaultdict(dict)
    for notes in sorted((build / "lib").rglob("*.gcno")):
        done = subprocess.run(["gcov", "--json-format", "--stdout", notes], capture_output=True, text=True, check=True)
        for text in done.stdout.splitlines():
            for file in json.loads(text)["files"]:
                path = (build / file["file"]).resolve()
                if not path.is_relative_to(LIB):
                    continue
                of_file = lines[path.relative_to(LIB)]
                for line in file["lines"]:
                    number = line["line_number"]
                    of_file[number] = of_file.get(number, False) or line["count"] > 0
    return lines


def ranges(numbers):
    """1, 2, 3, 7 as "1-3 7"."""
    runs = []
    for number in numbers:
        if runs and number == runs[-1][1] + 1:
            runs[-1][1] = number
        else:
            runs.append([number, number])
    return " ".join(str(first) if first == last else f"{first}-{last}" for first, last in runs)


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("build", type=pathlib.Path)
    parser.add_argument("--files", type=int, default=15)
    asked = parser.parse_args()
    lines = counted(asked.build.resolve())
    folders = collections.defaultdict(lambda: [0, 0])
    for path, of_file in lines.items():
        for folder in (path.parts[0], "all"):
            folders[folder][0] += len(of_file)
            folders[folder][1] += sum(of_file.values())
    print("| folder | lines | run | % |\n|---|---|---|---|")
    for folder, (have, run) in sorted(folders.items(), key=lambda row: (row[0] == "all", row[0])):
        print(f"| `{folder}` | {have} | {run} | {100 * run / have:.1f} |")
    print()
    missed = {path: sorted(number for number, run in of_file.items() if not run) for path, of_file in lines.items()}
    for path, numbers in sorted(missed.items(), key=lambda row: -len(row[1]))[:asked.files]:
        if numbers:
            print(f"{path}: {len(numbers)} of {len(lines[path])} not run: {ranges(numbers)}")


main()
