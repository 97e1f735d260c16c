"""Runs one case of expected output and compares every byte. Usage: run_golden.py PROGRAM DATA CASE.expected

A case is one file:

    $ check @DATA@/sites/kiln-lane.yaml     the arguments; one with blanks stands on a line of its own: `$ hall motion`
    status 2                                left out for 0
    --- stdout
    ...
    --- stderr                              left out when nothing is said
    ...

@DATA@ stands for the data folder, @CASE@ for the folder named like the file, which holds what the case reads, and
@CASES@ for the folder of the file; @OUT@ stands for a folder that is made for the case: what is in it then follows as
`--- files`, each name on a line, of `index.html` what lies between `<main>` and `</main>`, and of an SVG its words. `stdin` in the case's folder is fed to the program. LINKMARGIN_UPDATE_GOLDEN=1 in the environment rewrites the file instead.
"""
import os
import pathlib
import re
import subprocess
import sys
import tempfile

NO_END = b"--- no final line end\n"  # of what stands before


def read_case(text):
    """Arguments, status, standard output, error stream and written files."""
    head, _, rest = text.partition(b"--- stdout\n")
    arguments, status = [], 0
    for line in head.decode().splitlines():
        if line.startswith("$ "):
            arguments.append(line[2:])
        elif line.startswith("status "):
            status = int(line[7:])
    rest, _, files = rest.partition(b"--- files\n")
    output, _, error = rest.partition(b"--- stderr\n")
    return arguments, status, without_mark(output), without_mark(error), files


def expected_output(root, case):
    """What the program is expected to print for a case, such as "check/demo-text"."""
    return read_case((root / "tests" / "golden" / (case + ".expected")).read_bytes())[2].decode()


def without_mark(stream):
    return stream[: -len(NO_END) - 1] if stream.endswith(NO_END) else stream


def with_mark(stream):
    return stream if not stream or stream.endswith(b"\n") else stream + b"\n" + NO_END


def written(arguments, status, output, error, files):
    head = "".join(f"$ {argument}\n" for argument in arguments) + (f"status {status}\n" if status else "")
    text = head.encode() + b"--- stdout\n" + with_mark(output)
    text += b"--- stderr\n" + with_mark(error) if error else b""
    return text + (b"--- files\n" + files if files else b"")


def files_in(folder):
    """What a case has written."""
    text = "".join(f"{path.relative_to(folder)}\n" for path in sorted(folder.rglob("*")) if path.is_file())
    for index in folder.rglob("index.html"):
        text += re.search(r"<main>.*</main>\n", index.read_text(encoding="utf-8"), re.DOTALL).group()
    for drawing in sorted(folder.rglob("*.svg")):
        words = re.findall(r"<text [^>]*>([^<]*)</text>", drawing.read_text(encoding="utf-8"))
        text += "".join(f"{line}\n" for line in words)
    return text.encode()


def run(program, data, folder, arguments):
    with tempfile.TemporaryDirectory() as out:
        return run_into(program, data, folder, arguments, out)


def run_into(program, data, folder, arguments, out):
    # By links of one length, wherever the project lies: what is printed breaks its lines at the same words.
    with tempfile.TemporaryDirectory(dir="/tmp") as links:
        places = {"@DATA@": f"{links}/d", "@CASE@": f"{links}/c", "@CASES@": f"{links}/s", "@OUT@": out}
        for place, there in (("d", data), ("c", folder), ("s", folder.parent)):
            os.symlink(there, f"{links}/{place}")
        return run_at(program, folder, arguments, out, places)


def run_at(program, folder, arguments, out, places):
    words = [program]
    for argument in arguments:
        for mark, place in places.items():
            argument = argument.replace(mark, place)
        words.append(argument)
    stdin = folder / "stdin"
    feed = stdin.open("rb") if stdin.exists() else subprocess.DEVNULL
    done = subprocess.run(words, stdin=feed, capture_output=True, env={**os.environ, "NO_COLOR": "1"})
    streams = [done.stdout, done.stderr]
    for place in places.values():
        streams = [stream.replace(place.encode() + b"/", b"") for stream in streams]
    return done.returncode, *streams, files_in(pathlib.Path(out))


def main():
    program, data, case = sys.argv[1], pathlib.Path(sys.argv[2]), pathlib.Path(sys.argv[3])
    arguments, *expected = read_case(case.read_bytes())
    actual = run(program, data, case.with_suffix(""), arguments)
    if os.environ.get("LINKMARGIN_UPDATE_GOLDEN"):
        case.write_bytes(written(arguments, *actual))
        return 0
    failed = 0
    for name, found, wanted in zip(("status", "stdout", "stderr", "files"), actual, expected):
        if found == wanted:
            continue
        failed = 1
        shown = [part if isinstance(part, int) else part.decode(errors="replace") for part in (wanted, found)]
        print(f"{case}: {name} differs\n--- expected\n{shown[0]}\n--- actual\n{shown[1]}")
    return failed


if __name__ == "__main__":
    sys.exit(main())
