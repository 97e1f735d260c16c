"""Manual pages: one a command, each with every section and option, without a warning of mandoc.

usage: manual_pages.py PROGRAM DATA_FOLDER WORK_FOLDER

Exits with 77, having looked at what is in the pages, where mandoc is not installed.
"""
import pathlib
import re
import shutil
import subprocess
import sys

from manual_text import page_of, plain
from program import WORK, expect, run

SECTIONS = ["NAME", "SYNOPSIS", "DESCRIPTION", "OPTIONS", "EXIT STATUS", "ERRORS", "ACCURACY", "EXAMPLES", "CAUTIONS", "SEE ALSO"]


def check_page(command, page):
    expect(re.findall(r"^\.SH (.*)$", page, re.M) == SECTIONS, f"{command}: its sections are not those of the others")
    text = " ".join(plain(page).split())
    shown = run(*([command] if command else []), "--help").stdout
    for option in re.findall(r"^  (?:-\w, )?(--[\w-]+)", shown, re.M):
        expect(option in text, f"{command}: its page lacks {option}")
    paragraphs = shown.partition("\nOPTIONS\n")[0].split("\n\n")
    for words in paragraphs[1:] if command else paragraphs[:1]:
        expect(" ".join(words.split()) in text, f"{command}: its page does not say what the help says")


def main():
    folder = pathlib.Path(WORK)
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    listed = run("--help").stdout.partition("\nCOMMANDS\n")[2].partition("\n\n")[0]
    commands = re.findall(r"^  (\w+)", listed, re.M)
    expect(len(commands) >= 17, "the help lists fewer commands than there are")
    pages = []
    for command in ["", *commands]:
        file = folder / ("linkmargin" + (f"-{command}" if command else "") + ".1")
        file.write_text(page_of(command))
        check_page(command, file.read_text())
        pages.append(file)
    for command in commands:
        expect(f"linkmargin-{command}(1)" in plain(pages[0].read_text()), f"linkmargin(1) does not name {command}")
    expect("unknown command 'chek' (did you mean 'check'?)" in run("manual", "chek", status=2).stderr, "manual takes any name")
    if not shutil.which("mandoc"):
        print("mandoc is not installed: the form of the pages was not checked")
        sys.exit(77)
    broken = folder / "broken.1"
    broken.write_text(pages[0].read_text().replace(".SH NAME", ".SHH NAME"))
    for page in [*pages, broken]:
        done = subprocess.run(["mandoc", "-T", "lint", "-W", "warning", page], capture_output=True, text=True)
        expect((done.returncode != 0 or done.stdout != "") == (page == broken), f"mandoc: {done.stdout}")
    print(f"{len(pages)} pages")


main()
