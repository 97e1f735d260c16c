"""Holds the folders of lib/linkmargin to the table of docs/design.md, and the tree to itself: no folder has more
than thirty files, no folder includes one that includes it, and neither does a file (header and source count as one). What a public header includes is public.

    python3 check_includes.py SOURCE_DIR
"""
import pathlib
import re
import sys

MOST_FILES = 30
ROW = re.compile(r"^\| `([a-z_/0-9]+)` \|[^|]*\|([^|]*)\|([^|]*)\|$")
LIBRARIES = {"boost/math": "Boost.Math", "boost/dynamic_bitset": "Boost", "Eigen": "Eigen", "nlohmann": "nlohmann JSON",
             "yaml-cpp": "yaml-cpp", "utf8proc.h": "utf8proc", "librsvg": "librsvg", "cairo": "Cairo", "png.h": "libpng"}
OUTSIDE = re.compile(r'^\s*#\s*include <((?:boost|yaml-cpp|Eigen|nlohmann|librsvg|cairo|png\.h|utf8proc\.h)[^>]*)>', re.M)
OWN = re.compile(r'^\s*#\s*include "([^"]+)"', re.M)


def table(design):
    """Folder: (the folders it may include beside itself, the names of libraries)."""
    rows = {}
    for line in design.splitlines():
        row = ROW.match(line)
        if row:
            rows[row[1]] = (re.findall(r"`([a-z_/0-9]+)`", row[2]), row[3])
    return rows


def rings(graph):
    """The strongly connected parts of more than one node (Tarjan)."""
    index, low, stack, found = {}, {}, [], []

    def visit(node):
        index[node] = low[node] = len(index)
        stack.append(node)
        for other in sorted(graph[node]):
            if other not in index:
                visit(other)
                low[node] = min(low[node], low[other])
            elif other in stack:
                low[node] = min(low[node], index[other])
        if low[node] == index[node]:
            part = stack[stack.index(node):]
            del stack[stack.index(node):]
            if len(part) > 1:
                found.append(sorted(part))

    for node in sorted(graph):
        if node not in index:
            visit(node)
    return found


def main():
    source_dir = pathlib.Path(sys.argv[1])
    lib = source_dir / "lib" / "linkmargin"
    allowed = table((source_dir / "docs" / "design.md").read_text())
    faults, files, folders, counts = [], {}, {}, {}
    for path in sorted(lib.rglob("*.?pp")):
        name = path.relative_to(lib)
        folder, stem = name.parent.as_posix(), name.with_suffix("").as_posix()
        if folder == ".":
            continue
        counts[folder] = counts.get(folder, 0) + 1
        may, outside = allowed.get(folder, ([], ""))
        text = path.read_text()
        for include in OWN.findall(text):
            if not include.startswith("linkmargin/"):
                faults.append(f"{name}: write includes from the root lib/: {include}")
                continue
            other = pathlib.PurePosixPath(include).relative_to("linkmargin")
            to = other.parent.as_posix()
            if other.with_suffix("").as_posix() != stem:
                files.setdefault(stem, set()).add(other.with_suffix("").as_posix())
            if to == folder:
                continue
            folders.setdefault(folder, set()).add(to)
            if to not in may:
                faults.append(f"{name}: {folder} may not include {to} (docs/design.md)")
        for include in OUTSIDE.findall(text):
            library = next((word for start, word in LIBRARIES.items() if include.startswith(start)), include)
            if library not in outside:
                faults.append(f"{name}: {folder} may not include <{include}>")
    faults += [f"{folder} is not in the table of docs/design.md" for folder in counts if folder not in allowed]
    faults += [f"{folder} of docs/design.md has no files" for folder in allowed if folder not in counts]
    for folder, (may, _) in allowed.items():
        faults += [f"{folder} may include {to} by docs/design.md and does not" for to in may if to not in folders.get(folder, ())]
    faults += [f"{folder} has {count} files" for folder, count in counts.items() if count > MOST_FILES]
    for graph, what in ((folders, "folders"), (files, "files")):
        whole = {node: graph.get(node, set()) for node in set(graph) | {to for some in graph.values() for to in some}}
        faults += [f"a ring of {what}: " + ", ".join(ring) for ring in rings(whole)]
    public = OWN.findall((lib / "linkmargin.hpp").read_text())
    for header in public:
        path = source_dir / "lib" / header
        needs = OWN.findall(path.read_text()) if path.exists() else [header]
        faults += [f"{header} is public and needs {other}, which is not" for other in needs if other not in public]
    faults += [f"linkmargin.hpp names {header} twice" for header in set(public) if public.count(header) > 1]
    if sum(counts.values()) < 400:
        faults.append(f"only {sum(counts.values())} files were found: the folders are not where this script looks")
    print("\n".join(faults) or f"{sum(counts.values())} files in {len(counts)} folders keep the include directions")
    sys.exit(1 if faults else 0)


main()
