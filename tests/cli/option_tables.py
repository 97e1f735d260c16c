"""The tables of commands and options in docs, written from what the program says of them.

usage: option_tables.py PROGRAM DATA_FOLDER WORK_FOLDER

In docs/commands a table begins with the line `| option | what |`; it has a command's own options, those of docs/commands.md left out
where they mean the same there. The table of docs/commands.md begins with the line `| command | what it does |`.
LINKMARGIN_UPDATE_GOLDEN=1 in the environment writes the tables anew.
"""
import os
import pathlib
import re
import sys

from manual_text import page_of, plain
from program import DATA, expect, run

DOCS = pathlib.Path(DATA).parent / "docs"
HEAD = "| option | what |\n|---|---|\n"
TABLE = re.compile(re.escape(HEAD) + r"(?:\|.*\|\n)*")
COMMANDS_HEAD = "| command | what it does |\n|---|---|\n"
COMMANDS = re.compile(re.escape(COMMANDS_HEAD) + r"(?:\|.*\|\n)*")
# Said once for all commands, in docs/commands.md.
SHARED = {"help", "output", "format", "csv-style", "precise", "doors", "materials", "threads", "language"}
LINKS = {"readings taken on site (CSV)": "[readings taken on site](../site-file/readings.md)",
         "correct the predictions near them": "[correct the predictions near them](../commands.md#readings-near-by)",
         "cases of edits (YAML)": "[cases of edits](../site-file/changes.md#cases-for-place-and-report)",
         "a what-if file (YAML)": "a [what-if file](../site-file/changes.md#what-if)"}


def options_of(command):
    """Of each option what is typed, and what the manual page says of it."""
    section = re.search(r"^\.SH OPTIONS\n(.*?)^\.SH ", page_of(command), re.M | re.S)[1]
    for option in section.split(".TP\n")[1:]:
        typed, _, text = plain(option).partition("\n")
        yield typed.strip(), " ".join(text.split())


def name_of(typed):
    return re.search(r"--([\w-]+)", typed)[1]


def shared_rows(commands):
    """What most commands say of each shared option."""
    said = [option for command in commands for option in options_of(command) if name_of(option[0]) in SHARED]
    return {max(same, key=same.count) for name in SHARED if (same := [row for row in said if name_of(row[0]) == name])}


def row(typed, text):
    text = re.sub(r"(?<![\w-])(--[\w-]+(?: [A-Z]+\b)?)", r"`\1`", text)
    for words, link in LINKS.items():
        text = text.replace(words, link)
    return f"| `{typed}` | {text} |\n"


def hold(path, made):
    """Writes the page, or ends where it is another."""
    text = path.read_text(encoding="utf-8")
    if os.environ.get("LINKMARGIN_UPDATE_GOLDEN"):
        path.write_text(made, encoding="utf-8")
    elif made != text:
        there, now = next(pair for pair in zip(text.splitlines(), made.splitlines()) if pair[0] != pair[1])
        sys.exit(f"{path.name} shows\n{there}\nThe program says\n{now}\nLINKMARGIN_UPDATE_GOLDEN=1 writes it anew.")


def command_row(command):
    page = page_of(command)
    summary = plain(re.search(r"^\.SH NAME\n(.*)$", page, re.M)[1]).partition(" - ")[2]
    usage = plain(re.search(r"^\.SH SYNOPSIS\n(.*)$", page, re.M)[1]).removeprefix("linkmargin ").replace(" [options]", "")
    usage = usage.replace("|", "\\|")
    return f"| [`{usage}`](commands/{command}.md) | {summary} |\n"


def main():
    listed = re.findall(r"^  (\w+)", run("--help").stdout.partition("\nCOMMANDS\n")[2].partition("\n\n")[0], re.M)
    path = DOCS / "commands.md"
    text = path.read_text(encoding="utf-8")
    expect(len(COMMANDS.findall(text)) == 1, "commands.md has no table of commands")
    hold(path, COMMANDS.sub(lambda _: COMMANDS_HEAD + "".join(map(command_row, listed)), text))
    commands = [path.stem for path in sorted((DOCS / "commands").glob("*.md"))]
    expect(commands == sorted(listed), f"docs/commands has not one page for each of {listed}")
    shared = shared_rows(commands)
    rows = 0
    for command in commands:
        path = DOCS / "commands" / f"{command}.md"
        text = path.read_text(encoding="utf-8")
        own = [row(*option) for option in options_of(command) if option not in shared and name_of(option[0]) != "help"]
        expect(len(TABLE.findall(text)) == (1 if own else 0), f"{path.name}: one table of options is wanted where there are any")
        hold(path, TABLE.sub(lambda _: HEAD + "".join(own), text))
        rows += len(own)
    expect(rows > 50, "few options were found")
    print(f"{len(commands)} pages, {rows} options")


main()
