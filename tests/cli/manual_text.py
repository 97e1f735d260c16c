"""Manual pages as plain text."""
import re

from program import run

LETTERS = {r"\-": "-", r"\(aq": "'", r"\(ha": "^", r"\(ga": "`", r"\(ti": "~", r"\e": "\\"}


def page_of(command):
    """@param command  "" for the program's own page"""
    return run("manual", *([command] if command else [])).stdout


def plain(page):
    """A page without its macros and fonts."""
    text = re.sub(r"\\f[BIR]|^\.[A-Z]+ ?|\\&", "", page, flags=re.M)
    for code, letter in LETTERS.items():
        text = text.replace(code, letter)
    return text


def examples_of(command):
    """The command lines of a page's examples."""
    return [plain(line).strip() for line in re.findall(r"^\.EX\n(.*)\n\.EE$", page_of(command), re.M)]
