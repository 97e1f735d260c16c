"""Holds docs/licences.md to the libraries that the built files need (readelf) and to the headers that the sources include.

usage: check_licences.py SOURCE PROGRAM [PICTURE_MODULE]

Exits with 77 where readelf is not installed.
"""
import pathlib
import re
import shutil
import subprocess
import sys

STANDARD = re.compile(r"[a-z_0-9]+")  # C++ headers have no ending
NAME = r"[A-Z][\w.-]*(?: WITH [\w.-]+)?"
EXPRESSION = re.compile(rf"{NAME}(?: (?:AND|OR) {NAME})*")


def codes(cell):
    return re.findall(r"`([^`]+)`", cell)


def table(root):
    """Rows of the list: name, licence, shared objects, beginnings of headers, files that they are in."""
    rows = []
    for line in (root / "docs" / "licences.md").read_text().splitlines():
        cells = [cell.strip() for cell in line.strip("|").split("|")]
        if line.startswith("| ") and len(cells) == 5 and cells[0] != "library":
            rows.append((cells[0], cells[1], codes(cells[2]), codes(cells[3]), cells[4].split(", ")))
    return rows


def needed(file):
    found = subprocess.run(["readelf", "-d", file], capture_output=True, text=True, check=True, env={"LC_ALL": "C", "PATH": "/usr/bin:/bin"})
    return {re.sub(r"^lib|\.so.*$", "", name) for name in re.findall(r"\(NEEDED\).*\[(.*)\]", found.stdout)}


def included(root):
    sources = [path for folder in ("lib", "cli") for path in (root / folder).rglob("*.?pp")]
    headers = {header for path in sources for header in re.findall(r"^\s*#\s*include <([^>]+)>", path.read_text(), re.M)}
    return {header for header in headers if not STANDARD.fullmatch(header) and not header.startswith("linkmargin/")}


def main():
    root, files = pathlib.Path(sys.argv[1]), dict(zip(("program", "pictures"), sys.argv[2:]))
    if not shutil.which("readelf"):
        print("readelf is not installed: the list of licences was not checked")
        return 77
    rows = table(root)
    faults = [f"{row[0]} has no licence that is an SPDX expression" for row in rows if not EXPRESSION.fullmatch(row[1])]
    for name, file in files.items():
        listed = {shared for row in rows if name in row[4] for shared in row[2]}
        found = needed(file)
        faults += [f"{name} needs {shared}, which is not listed" for shared in found - listed]
        faults += [f"{name} does not need {shared}, which is listed" for shared in listed - found]
    starts = {start: row[0] for row in rows for start in row[3]}
    headers = included(root)
    faults += [f"<{header}> is of no library listed" for header in headers if not header.startswith(tuple(starts))]
    faults += [f"nothing includes <{start}> of {library}" for start, library in starts.items()
               if not any(header.startswith(start) for header in headers)]
    print("\n".join(faults) or f"{len(rows)} libraries are listed and used")
    return 1 if faults or len(rows) < 8 else 0


if __name__ == "__main__":
    sys.exit(main())
