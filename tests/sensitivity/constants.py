#!/usr/bin/env python3
"""What the constants of the propagation model are worth: doubles and halves each and prints what moves.

    constants.py WORK [--only PATTERN] [--jobs N]

A copy of the library is made in the folder WORK, in which every named number of the folders below is multiplied
by what the environment says (LINKMARGIN_SCALE=file:name=factor), so that one build serves all of them. No part of a
usual build. The copy is built by CMake with the compiler and launcher that the environment names; a WORK that is
there already is built on.

Prints a row for each constant and factor: of the path losses of every device with every hub in
data/sites/kiln-lane.yaml, tests/prediction/plain_house.yaml and twenty random blocks the largest and the rms change, of
the spread and the chance the largest one, and what the tables of docs/validation that ask the whole model get:
the rms deviation from the field solver at doorways and in whole buildings, that of rooms in sight from ITU-R P.1238-11.
"""
import argparse
import concurrent.futures
import math
import os
import pathlib
import re
import shutil
import subprocess

ROOT = pathlib.Path(__file__).resolve().parents[2]
SCALED = ("link", "propagation", "analysis/placement/solver")
KEPT = ("base", "text", "messages", "geometry", "propagation", "site", "link", "yaml/tree", "yaml/fields",
        "yaml/short_form", "yaml/site", "yaml/readings",
        "analysis/placement/solver")
# Positions that mean "none", definitions, conversions and grids of a table: no assumptions.
EXACT = re.compile(r"kNone$|kNobody$|kNoPart$|kHole$|kDbPerNeper$|kReferenceTemperatureK$|kEirpOverErpDb$|kScale$"
                   r"|kScatterings$|kShapes$|kScoreStep$|kNodesASide$")
CONSTANT = re.compile(r"^(?P<lead> *)(?P<inline>inline )?constexpr (?P<type>double|int|std::size_t|std::int64_t) "
                      r"(?P<name>k[A-Z]\w*) = (?P<value>[-+0-9.e'*/ ]+);", re.M)

HEADER = """#pragma once
#include <cstdlib>
#include <cstring>
namespace linkmargin {
template <typename Number>
Number scaled(const char* name, Number value) {
  const char* scale = std::getenv("LINKMARGIN_SCALE");
  const std::size_t length = std::strlen(name);
  if (scale == nullptr || std::strncmp(scale, name, length) != 0 || scale[length] != '=') return value;
  return static_cast<Number>(static_cast<double>(value) * std::atof(scale + length + 1));
}
}  // namespace linkmargin
"""

BUILD = """
add_executable(link_losses EXCLUDE_FROM_ALL tests/sensitivity/link_losses.cpp tests/validation/building_section.cpp
  tests/validation/data_set.cpp tests/validation/doorway_section.cpp tests/validation/echo_section.cpp
  tests/validation/markdown.cpp tests/validation/prediction.cpp)
target_link_libraries(link_losses PRIVATE linkmargin::linkmargin)
target_include_directories(link_losses PRIVATE tests tests/validation)
target_compile_definitions(link_losses PRIVATE LINKMARGIN_TEST_DATA="${PROJECT_SOURCE_DIR}/tests")
"""


def write_if_new(path, text):
    if not path.exists() or path.read_text() != text:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text)


def copied(work):
    """Copies the project into WORK, and gives the constants that the environment scales there."""
    constants = []
    for name in ("CMakeLists.txt", "lib/CMakeLists.txt", "lib/embed.cmake"):
        text = (ROOT / name).read_text()
        if name == "CMakeLists.txt":
            text += BUILD
        write_if_new(work / name, text)
    for tool in (ROOT / "lib").glob("*.cpp"):  # what makes texts that are built in
        write_if_new(work / "lib" / tool.name, tool.read_text())
    for name in ("style.css", "script.js"):
        write_if_new(work / "lib/linkmargin/report/page" / name, (ROOT / "lib/linkmargin/report/page" / name).read_text())
    for name in ("lib/cmake", "data", "tests"):
        shutil.copytree(ROOT / name, work / name, dirs_exist_ok=True)
    library = pathlib.Path("lib/linkmargin")
    write_if_new(work / library / "linkmargin.hpp", "#pragma once\n")
    write_if_new(work / library / "base/scaled_constant.hpp", HEADER)
    for source in sorted((ROOT / library).rglob("*.[ch]pp")):
        inside = source.relative_to(ROOT / library).as_posix()
        if inside == "linkmargin.hpp" or (source.suffix == ".cpp" and not inside.startswith(KEPT)):
            continue
        text = source.read_text()
        if inside.startswith(SCALED):
            found = []

            def scale(match):
                if EXACT.search(match["name"]):
                    return match[0]
                found.append((f"{inside}:{match['name']}", match["value"]))
                storage = "static " if match["lead"] else match["inline"] or ""
                return (f"{match['lead']}{storage}const {match['type']} {match['name']} = "
                        f"linkmargin::scaled<{match['type']}>(\"{found[-1][0]}\", {match['value']});")

            text = CONSTANT.sub(scale, text)
            constants += found
            if found:
                text = '#include "linkmargin/base/scaled_constant.hpp"\n' + text
        write_if_new(work / library / inside, text)
    return constants


def built(work):
    build = work / "build"
    subprocess.run(["cmake", "-S", work, "-B", build, "-G", "Ninja", "-DCMAKE_BUILD_TYPE=Release", "-DLINKMARGIN_UNITY=ON",
                    "-DLINKMARGIN_TESTS=OFF", "-DLINKMARGIN_PROGRAM=OFF"], check=True, stdout=subprocess.DEVNULL)
    subprocess.run(["cmake", "--build", build, "--target", "link_losses", "-j2"], check=True)
    return build / "link_losses"


def numbers(program, work, scale, *arguments):
    environment = dict(os.environ, LINKMARGIN_SCALE=scale)
    try:
        run = subprocess.run([program, *arguments], env=environment, capture_output=True, text=True, timeout=600)
    except subprocess.TimeoutExpired:
        return None
    return run.stdout if run.returncode == 0 else None


def pooled(text, heading, column):
    """The rms of a column over the rows of a table, by the count of their squares."""
    squares, sum_, columns = 0, 0, None
    inside = False
    for line in text.splitlines():
        if line.startswith("## "):
            inside = line == heading
        if not inside or not line.startswith("|") or line.startswith("|---"):
            continue
        cells = [cell.strip() for cell in line.strip("|").split("|")]
        if columns is None:
            columns = cells
            continue
        row = dict(zip(columns, cells))
        if row.get("where") not in (None, "all") and "building" in row:
            continue
        weight = int(row.get("squares", 1))
        squares += weight
        sum_ += weight * float(row[column]) ** 2
    return math.sqrt(sum_ / squares)


def checks(text):
    return (pooled(text, "## Doorways and rooms", "rms dB"),
            pooled(text, "## Whole buildings in three dimensions", "rms dB"),
            pooled(text, "## Echoes", "difference dB"))


def links(text):
    return [[float(cell) for cell in line.split("\t")[1:]] for line in text.splitlines()]


def compared(usual, changed):
    """Largest and rms change of the loss, largest of spread and chance."""
    losses = [abs(a[0] - b[0]) for a, b in zip(usual, changed)]
    return (max(losses), math.sqrt(sum(x * x for x in losses) / len(losses)), sum(x > 0.01 for x in losses),
            max(abs(a[1] - b[1]) for a, b in zip(usual, changed)), max(abs(a[2] - b[2]) for a, b in zip(usual, changed)))


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("work", type=pathlib.Path)
    parser.add_argument("--only", default="", help="constants whose file:name holds this pattern")
    parser.add_argument("--jobs", type=int, default=1)
    parser.add_argument("--quick", action="store_true", help="without the checks of docs/validation")
    arguments = parser.parse_args()
    constants = copied(arguments.work)
    program = built(arguments.work)
    asked = ["links", str(arguments.work / "data"), str(arguments.work / "tests")]
    usual = numbers(program, arguments.work, "", *asked)
    usual_places = numbers(program, arguments.work, "", "places")
    usual_checks = None if arguments.quick else checks(numbers(program, arguments.work, "", "checks"))
    print(f"{len(links(usual))} links; rms of doorways, buildings, rooms: {usual_checks}")
    print("constant | value | factor | max dB | rms dB | links > 0.01 dB | spread dB | chance | doorways | buildings | rooms | places", flush=True)

    def row(constant, factor):
        name, value = constant
        scale = f"{name}={factor}"
        head = f"{name} | {value} | {factor}"
        if name.startswith("analysis/"):
            places = numbers(program, arguments.work, scale, "places")
            moved = "fails" if places is None else sum(
                a != b for a, b in zip(usual_places.splitlines(), places.splitlines()))
            return f"{head} | | | | | | | | | {moved}"
        changed = numbers(program, arguments.work, scale, *asked)
        if changed is None:
            return f"{head} | fails"
        most, rms, moved, spread, chance = compared(links(usual), links(changed))
        text = f"{head} | {most:.3f} | {rms:.4f} | {moved} | {spread:.3f} | {chance:.4f}"
        if usual_checks is None or not name.startswith(("link/", "propagation/diffraction", "propagation/material")):
            return text
        printed = numbers(program, arguments.work, scale, "checks")
        if printed is None:
            return text + " | fails"
        return text + "".join(f" | {now - before:+.2f}" for now, before in zip(checks(printed), usual_checks))

    chosen = [c for c in constants if re.search(arguments.only, c[0])]
    with concurrent.futures.ThreadPoolExecutor(arguments.jobs) as pool:
        for text in pool.map(lambda pair: row(*pair), [(c, f) for c in chosen for f in (2, 0.5)]):
            print(text, flush=True)


if __name__ == "__main__":
    main()
