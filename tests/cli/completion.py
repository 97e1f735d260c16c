"""Completion: what the program suggests, that words of options are those it takes, and bash, zsh and fish themselves.

usage: completion.py PROGRAM DATA_FOLDER WORK_FOLDER SCRIPT_FOLDER

bash is tried at a terminal of its own; zsh and fish where they are installed.
"""
import os
import pathlib
import pty
import re
import select
import shutil
import subprocess
import sys
import time

from program import DATA, PROGRAM, WORK, expect, run

SCRIPTS = pathlib.Path(sys.argv[4])
FOLDER = pathlib.Path(WORK)
SITE = FOLDER / "site.yaml"
FREE_VALUES = {"language", "hub", "storey", "profile"}  # names and files too


def suggested(*typed):
    kind, *lines = run("suggest", "--", *typed).stdout.splitlines()
    return kind, [line.split("\t")[0] for line in lines]


def check_suggestions():
    expect(suggested("ch") == ("words", ["check"]), "a command")
    expect(suggested("check", "") == ("files", []), "a file for the site")
    expect(suggested("check", "--ou") == ("words", ["--output"]), "an option")
    expect("--doors" not in suggested("check", "--doors", "open", "--")[1], "an option that is there is not offered again")
    expect(suggested("check", "--doors", "") == ("words", ["armed", "open"]), "words of an option")
    expect(suggested("check", "--doors=o") == ("words", ["--doors=open"]), "words in the same word")
    expect(suggested("check", "--doors", "=", "o") == ("words", ["open"]), "a word that bash splits")
    expect(suggested("check", "-o", "") == ("files", []), "a letter's file")
    expect(suggested("check", "--language", "") == ("files", ["en", "de"]), "languages and files")
    expect(suggested("check", "--", "--x") == ("files", []), "after -- all are names")
    expect(suggested("explain", SITE, "clay") == ("words", ["clay shed contact"]), "a device")
    expect(suggested("explain", SITE, "clay", "shed", "c") == ("words", ["contact"]), "the rest of a device's name")
    expect(suggested("explain", "--doors", "open", SITE, "clay s") == ("words", ["clay shed contact"]), "behind options")
    expect(suggested("relocate", SITE, "clay shed contact", "garage d") == ("words", ["garage door contact"]), "a second device")
    expect(suggested("explain", SITE, "--hub", "") == ("words", ["hub", "landing repeater"]), "hubs and repeaters")
    expect(suggested("coverage", SITE, "--hub", "") == ("words", ["best", "hub"]), "hubs of a map")
    expect(suggested("coverage", SITE, "--storey", "") == ("words", ["ground", "upper"]), "storeys")
    expect("smoke" in suggested("coverage", SITE, "--profile", "")[1], "profiles")
    expect(suggested("materials", "steel", "d") == ("words", ["door"]), "a material")
    expect(suggested("manual", "vi") == ("words", ["visit"]), "a command's page")
    expect(suggested("coverage", SITE, "other") == ("words", []), "no name too many")
    broken = FOLDER / "broken.yaml"
    broken.write_text("site: [")
    pipe = FOLDER / "pipe"
    os.mkfifo(pipe)
    for site in (broken, pipe, FOLDER / "nowhere.yaml", "-"):
        expect(suggested("explain", site, "") == ("words", []), f"no names of {site}")


def check_words_of_options():
    """What is suggested for an option is what the program says that it takes."""
    what_if = pathlib.Path(DATA) / "sites" / "kiln-lane-what-if.yaml"
    names = {"explain": [SITE, "x"], "calibrate": [SITE, "x"], "whatif": [what_if]}  # the site elsewhere
    tried = 0
    for command in suggested("")[1]:
        for option in suggested(command, "--")[1] if not command.startswith("--") else []:
            words = [word.partition("=")[2] for word in suggested(command, option + "=")[1]]
            if not words or option[2:] in FREE_VALUES:
                continue
            said = re.search(r"takes (.*), not 'x'", run(command, *names.get(command, [SITE]), option, "x", status=2).stderr)
            told = said and re.split(", | or ", said.group(1))
            expect(told == words, f"{command} {option} takes {told}, suggested are {words}")
            tried += 1
    expect(tried >= 21, f"only {tried} options have words")


def completes_at_terminal(shell, lines, keys, whole):
    """Types lines of set-up, then keys and a tab, and waits until the shell has put the rest there."""
    child, terminal = pty.fork()
    if child == 0:
        os.environ.update({"PS1": "> ", "TERM": "dumb", "PATH": f"{FOLDER}:{os.environ['PATH']}", "HISTFILE": "/dev/null"})
        os.chdir(FOLDER)
        os.execvp(shell[0], shell)
    screen = b""

    def until(mark):
        nonlocal screen
        start, end = len(screen), time.monotonic() + 60
        while mark not in screen[start:].replace(b"\b", b""):
            expect(time.monotonic() < end, f"{shell[0]}: no {mark} on {screen!r}")
            if select.select([terminal], [], [], 0.2)[0]:
                screen += os.read(terminal, 4096)

    for number, line in enumerate(lines):
        os.write(terminal, f"{line}\necho rea''dy{number}\n".encode())
        until(f"ready{number}\r\n".encode())
    os.write(terminal, keys.encode() + b"\t")
    until(whole.encode())
    os.close(terminal)
    os.waitpid(child, 0)


def check_bash():
    def replies(*words):
        """COMPREPLY for words, the last one being typed."""
        quoted = " ".join("'" + word.replace("'", "'\\''") + "'" for word in words)
        script = f"source {SCRIPTS}/linkmargin.bash; COMP_WORDS=({PROGRAM} {quoted}); COMP_CWORD={len(words)}; " \
                 f"_linkmargin {PROGRAM}; printf '%s\\n' \"${{COMPREPLY[@]}}\""
        done = subprocess.run(["bash", "--norc", "-c", script], capture_output=True, text=True, cwd=FOLDER)
        expect(done.returncode == 0 and not done.stderr, f"bash: {done.stderr}")
        return done.stdout.split("\n")[:-1]

    expect(replies("rel") == ["relocate"], "bash: a command")
    expect(replies("check", "site.yaml", "--fail-") == ["--fail-each", "--fail-if-weak", "--fail-if-doubtful"], "bash: options")
    expect(replies("check", "--format", "=", "j") == ["json"], "bash: a value behind =")
    expect(replies("check", "si") == ["site.yaml"], "bash: a file")
    expect(set(replies("check", "--language", "")) == {"en", "de", *os.listdir(FOLDER)}, "bash: words and files")
    expect(replies("explain", "site.yaml", "'clay") == ["clay shed contact"], "bash: a quoted name")
    expect(replies("explain", "site.yaml", "clay\\ sh") == ["clay shed contact"], "bash: a name with a stroke")
    for keys, whole in (("explain site.yaml cl", "clay\\ shed\\ contact"), ("explain site.yaml 'cl", "'clay shed contact'"),
                        ("check site.yaml --doors o", "--doors open")):
        completes_at_terminal(["bash", "--norc", "--noprofile", "-i"], [f"source {SCRIPTS}/linkmargin.bash"], "linkmargin " + keys, whole)


def check_zsh():
    lines = [f"fpath=({SCRIPTS} $fpath); autoload -U compinit; compinit -u -D", "setopt no_beep"]
    completes_at_terminal(["zsh", "-f", "-i"], lines, "linkmargin explain site.yaml cl", "clay\\ shed\\ contact")


def check_fish():
    for typed, whole in (("linkmargin rel", ["relocate"]), ("linkmargin check --format c", ["csv"]), ("linkmargin check si", ["site.yaml"]),
                         ("linkmargin explain site.yaml clay", ["clay shed contact"]),
                         ("linkmargin explain site.yaml 'clay s", ["clay shed contact"])):
        done = subprocess.run(["fish", "--no-config", "-c", f"source {SCRIPTS}/linkmargin.fish; complete -C {subprocess.list2cmdline([typed])}"],
                              capture_output=True, text=True, cwd=FOLDER, env={**os.environ, "PATH": f"{FOLDER}:{os.environ['PATH']}"})
        found = [line.split("\t")[0] for line in done.stdout.splitlines()]
        expect(found == whole, f"fish: {typed}: {found} {done.stderr}")


def main():
    shutil.rmtree(FOLDER, ignore_errors=True)
    FOLDER.mkdir(parents=True)
    shutil.copy(pathlib.Path(DATA) / "sites" / "kiln-lane.yaml", SITE)
    check_suggestions()
    check_words_of_options()
    (FOLDER / "pipe").unlink()
    (FOLDER / "linkmargin").symlink_to(PROGRAM)
    check_bash()
    for shell, check in (("zsh", check_zsh), ("fish", check_fish)):
        if shutil.which(shell):
            check()
        else:
            print(f"{shell} is not installed: its script was not tried")


main()
