"""Runs the pages that show commands, as they stand there, block by block, each page in a folder of its own.

usage: pages.py PROGRAM DATA_FOLDER WORK_FOLDER [--examples BUILT_EXAMPLES]

    ```yaml house.yaml    a file of that name: what follows in the page reads it
    ```cpp one_link.cpp   the file of that name in docs/examples, whole
    ```sh                 command lines; those of the program run
    ```text               what the block before printed: all, or the parts of it between lines `...`

With --examples it is the engineer's guide alone, and the programs in that folder run.
A picture of docs/figures whose name a block has written is held to what was written. LINKMARGIN_UPDATE_GOLDEN=1 in the environment
rewrites what the pages show, and the pictures, instead.
"""
import os
import pathlib
import re
import shutil
import subprocess
import sys

from program import DATA, PROGRAM, WORK, expect

ROOT = pathlib.Path(DATA).parent
# Each page with how many blocks of output it shows at least.
PAGES = {"README.md": 2, "docs/guide.md": 4, "docs/short-form.md": 0, "docs/how-readings-mislead.md": 5,
         **{f"docs/commands/{name}.md": 1 for name in ("check", "explain", "coverage", "relocate", "visit", "place")}}
# Lines that build and install: a test of the program cannot run them. `tests/run` and the test `packages` do.
NOT_RUN = {"sh cli/demo", "cmake --install build/release", "sh cli/sketch/build", "sh tests/run",
           "cmake -S docs/examples -B build/examples", "cmake --build build/examples",
           "build/release/cli/linkmargin sketch data/sites/kiln-lane.yaml --output kiln-lane.html"}
FENCE = re.compile(r"^```(\w+)(?: ([\w.-]+))?\n(.*?)^```$", re.M | re.S)
EXAMPLES = pathlib.Path(sys.argv[5]) if sys.argv[4:5] == ["--examples"] else None
if EXAMPLES:
    PAGES = {"docs/engineer.md": 3}
UPDATE = bool(os.environ.get("LINKMARGIN_UPDATE_GOLDEN"))


def run_line(line, folder, page):
    path = {"PATH": f"{pathlib.Path(WORK) / 'bin'}:/usr/bin:/bin", "LC_ALL": "C.UTF-8", "SOURCE_DATE_EPOCH": "1790000000"}
    done = subprocess.run(["sh", "-c", line], cwd=folder, env=path, stdin=subprocess.DEVNULL, capture_output=True, text=True)
    expect(done.returncode == 0, f"{page}: {line}\nstatus {done.returncode}: {done.stderr}")
    for file in re.findall(r"(?:-o|--output|--apply|--learned) (\S+)", line):
        expect((folder / file).exists(), f"{page}: {line}\nwrote no {file}")
    return done.stdout


def run_block(block, folder, page):
    """What its lines print; nothing where none of them is of the program."""
    printed = ""
    for line in block.splitlines():
        command = line.partition("#")[0].strip()
        if command.startswith("linkmargin "):
            printed += run_line(command, folder, page)
        elif EXAMPLES and command.startswith("build/examples/"):
            printed += run_line(f"{EXAMPLES}/{pathlib.Path(command).name}", folder, page)
        else:
            expect(not command or command in NOT_RUN, f"{page}: {line}: is not run")
    return printed


def as_shown(shown, printed):
    """What the page is to show: all that was printed, or where lines of dots stand in it, the parts between them. A part begins where
    its first line does in what was printed, and is as many paragraphs long, or as many lines where no empty line ends it."""
    if not re.search(r"^\.\.\.$", shown, re.M):
        return printed
    made, rest = "", printed
    for number, part in enumerate(re.split(r"^\.\.\.\n", shown, flags=re.M)):
        made += "...\n" if number else ""
        if not part:
            continue
        first = part.partition("\n")[0] + "\n"
        begin = 0 if number == 0 or rest.startswith(first) else rest.find("\n" + first) + 1
        expect(number == 0 or begin > 0 or rest.startswith(first), f"nothing printed begins with: {first}")
        ends = "\n\n" if part.endswith("\n\n") else "\n"
        taken = ends.join(rest[begin:].split(ends)[:part.count(ends)]) + ends
        made, rest = made + taken, rest[begin + len(taken):]
    return made


def run_page(page, least):
    folder = pathlib.Path(WORK) / page.replace("/", "-")
    shutil.copytree(pathlib.Path(DATA) / "sites", folder)
    text = (ROOT / page).read_text(encoding="utf-8")
    printed, held = "", 0
    made = ""
    end = 0
    for block in FENCE.finditer(text):
        kind, name, body = block.groups()
        if kind in ("cpp", "c", "cmake"):
            made += text[end:block.start(3)] + (ROOT / "docs" / "examples" / name).read_text(encoding="utf-8")
            end = block.end(3)
        elif name:
            (folder / name).write_text(body, encoding="utf-8")
        elif kind == "sh":
            printed = run_block(body, folder, page)
        elif kind == "text" and printed:
            made += text[end:block.start(3)] + as_shown(body, printed)
            end = block.end(3)
            held += 1
    made += text[end:]
    for picture in re.findall(r"!\[[^\]]*\]\((\S+)\)", text):
        kept, written = (ROOT / page).parent / picture, folder / pathlib.Path(picture).name
        if written.exists() and UPDATE:
            shutil.copy(written, kept)
        expect(not written.exists() or written.read_bytes() == kept.read_bytes(), f"{page}: {picture} is not what is drawn")
    expect(held >= least, f"{page}: only {held} blocks of output are shown")
    if UPDATE:
        (ROOT / page).write_text(made, encoding="utf-8")
    elif made != text:
        lines = zip(text.splitlines(), made.splitlines())
        number, (shown, now) = next((i, pair) for i, pair in enumerate(lines, 1) if pair[0] != pair[1])
        sys.exit(f"{page}:{number} shows\n{shown}\nThe program says\n{now}\nLINKMARGIN_UPDATE_GOLDEN=1 writes it anew.")
    print(f"{page}: {held} blocks of output")


def main():
    shutil.rmtree(WORK, ignore_errors=True)
    (pathlib.Path(WORK) / "bin").mkdir(parents=True)
    (pathlib.Path(WORK) / "bin" / "linkmargin").symlink_to(PROGRAM)
    for page, least in PAGES.items():
        run_page(page, least)


main()
