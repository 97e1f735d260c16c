"""Small faults put into the library, one at a time: which of them do its unit tests not see?

A mutant is one operator or number of a .cpp file of lib/linkmargin/{propagation,geometry,link,prediction} changed into another. Its
file is compiled alone, linked with the other objects of these folders, and the quick tests of the folder run until one fails; with
--wide then all tests of the folder and of those that stand on it. A mutant that compiles to the same code, or to none, is passed
over. What was found is added to WORK/results.csv, from which a run that was ended goes on; --wide takes up its survivors.

usage: mutate.py BUILD_FOLDER WORK_FOLDER [--count 240] [--seed 1] [--jobs 1] [--wide] [--list]
       BUILD_FOLDER holds the unit tests, built (preset ci).
"""
import argparse
import concurrent.futures
import csv
import hashlib
import json
import pathlib
import random
import re
import shlex
import subprocess
import threading

ROOT = pathlib.Path(__file__).resolve().parents[2]
LIB = ROOT / "lib" / "linkmargin"
FOLDERS = ("propagation", "geometry", "link", "prediction")
TESTS = {"propagation": ("propagation", "link", "prediction"), "geometry": ("geometry", "link", "prediction"),
         "link": ("link", "prediction"), "prediction": ("prediction",)}
# Slow ones.
NOT_QUICK = {"propagation": "the table against plane waves*,the mean over present levels*",
             "link": "so has the site*,a link from a vantage*,swapping the ends changes it by rounding only*,for every model the items*,"
                     "ways round never make*,a site's mirror image*,swapping the ends changes nothing*"}
MOST_S = 300  # of a test program; one that runs longer was killed by the mutant

SWAPS = [(re.compile(pattern), others) for pattern, others in (
    (r"(?<=[\w)\]] )\+(?= [\w(-])", ["-"]), (r"(?<=[\w)\]] )-(?= [\w(])", ["+"]),
    (r"(?<=[\w)\]] )\*(?= [\w(-])", ["/"]), (r"(?<=[\w)\]] )/(?= [\w(-])", ["*"]),
    (r"(?<= )<(?= )", ["<=", ">"]), (r"(?<= )>(?= )", [">=", "<"]), (r"(?<= )<=(?= )", ["<"]), (r"(?<= )>=(?= )", [">"]),
    (r"(?<= )==(?= )", ["!="]), (r"(?<= )!=(?= )", ["=="]), (r"(?<= )&&(?= )", ["||"]), (r"(?<= )\|\|(?= )", ["&&"]),
    (r"(?<= )\+=(?= )", ["-="]), (r"(?<= )-=(?= )", ["+="]), (r"(?<= )\*=(?= )", ["/="]),
    (r"\bstd::min\b(?=\()", ["std::max"]), (r"\bstd::max\b(?=\()", ["std::min"]),
    (r"\btrue\b", ["false"]), (r"\bfalse\b", ["true"]), (r"\bstd::sin\b", ["std::cos"]), (r"\bstd::cos\b", ["std::sin"]),
    (r"(?<![\w.'])\d+\.\d+(?![\w.'])", None), (r"(?<![\w.'])\d+(?![\w.'])", None), (r"(?<=[(,=] )!(?=\w)|(?<=\()!(?=\w)", [""]),
)]


def other_numbers(text):
    if "." in text:
        return [repr(float(text) * 1.5) if float(text) else "1.0"]
    return [str(int(text) + 1)]


def code_of(line):
    """The line with texts and comments blanked."""
    line = re.sub(r'"(?:\\.|[^"\\])*"', lambda found: " " * len(found[0]), line)
    return re.sub(r"//.*", lambda found: " " * len(found[0]), line)


def mutants():
    for folder in FOLDERS:
        for file in sorted((LIB / folder).rglob("*.cpp")):
            in_comment = False
            for number, line in enumerate(file.read_text(encoding="utf-8").splitlines(), 1):
                if line.lstrip().startswith("/*"):
                    in_comment = True
                skipped = in_comment or line.startswith(("#", "template", "using")) or "static_assert" in line
                if "*/" in line:
                    in_comment = False
                if skipped:
                    continue
                code = code_of(line)
                for pattern, others in SWAPS:
                    for found in pattern.finditer(code):
                        for new in others or other_numbers(found[0]):
                            yield (str(file.relative_to(LIB)), number, found.start(), found[0], new)


def sample(count, seed):
    """As many of each folder, in a random order."""
    by_folder = {folder: [] for folder in FOLDERS}
    for mutant in mutants():
        by_folder[mutant[0].split("/")[0]].append(mutant)
    draw = random.Random(seed)
    for of in by_folder.values():
        draw.shuffle(of)
    for place in range(count):
        for folder in FOLDERS:
            if place < len(by_folder[folder]):
                yield by_folder[folder][place]


def run(*words, **how):
    return subprocess.run(["nice", "-n", "2", *map(str, words)], capture_output=True, text=True, **how)


class Workshop:
    """The build folder's flags and tests, and an object of each file that may be mutated."""

    def __init__(self, build, work, jobs):
        self.build, self.work = build, work
        (work / "objects").mkdir(parents=True, exist_ok=True)
        commands = json.loads((build / "compile_commands.json").read_text())
        unity = next(one for one in commands if one["file"].endswith("linkmargin_link_cxx.cxx"))
        self.flags = shlex.split(unity["command"].split(" -o ")[0])
        self.directory = unity["directory"]
        self.tests = {folder: self.compiled_for(f"{folder}_tests", commands) for folder in FOLDERS}
        self.main = self.compiled_for("linkmargin_test_main", commands)
        self.objects = {}
        files = [file for folder in FOLDERS for file in sorted((LIB / folder).rglob("*.cpp"))]
        for file in files:
            self.objects[str(file.relative_to(LIB))] = work / "objects" / (str(file.relative_to(LIB)).replace("/", "-") + ".o")
        with concurrent.futures.ThreadPoolExecutor(jobs) as pool:
            list(pool.map(self.made, files))

    @staticmethod
    def compiled_for(target, commands):
        """The objects of a target, be its files compiled one by one or as one; none that an earlier build left behind."""
        outs = [re.search(r" -o (\S+)", one["command"])[1] for one in commands]
        return [out for out in outs if f"/{target}.dir/" in out]

    def made(self, file):
        out = self.objects[str(file.relative_to(LIB))]
        if out.exists() and out.stat().st_mtime >= file.stat().st_mtime:
            return
        part = out.with_suffix(".part")
        done = self.compiled(file, part)
        if done.returncode != 0:
            raise SystemExit(done.stderr)
        part.rename(out)

    def compiled(self, file, out):
        return run(*self.flags, "-O1", "-Wno-error", "-w", "-o", out, "-c", file, cwd=self.directory)

    def mutated(self, mutant, place):
        """Its object, in the folder `place`; nothing where it does not compile."""
        name, line, column, old, new = mutant
        lines = (LIB / name).read_text(encoding="utf-8").splitlines(keepends=True)
        text = lines[line - 1]
        lines[line - 1] = text[:column] + new + text[column + len(old):]
        place.mkdir(exist_ok=True)
        source = place / pathlib.Path(name).name
        out = place / "mutant.o"
        out.unlink(missing_ok=True)
        source.write_text("".join(lines), encoding="utf-8")
        done = self.compiled(source, out)
        source.unlink()
        return out if done.returncode == 0 else None

    def is_same(self, name, out):
        """Whether a mutant's object is that of its file, compiled as it was."""
        unchanged = out.with_name("unchanged.o")
        self.compiled(LIB / name, unchanged)
        return self.code(unchanged) == self.code(out)

    @staticmethod
    def code(out):
        text = subprocess.run(["objdump", "-d", "-s", "-j", ".text", "-j", ".rodata", "-j", ".rodata.cst8", out], capture_output=True).stdout
        return hashlib.sha256(b"\n".join(text.split(b"\n")[3:])).digest()

    def linked(self, folder, name, out):
        program = out.parent / f"{folder}_tests"
        others = [one for of, one in self.objects.items() if of != name]
        done = run("g++", "-fuse-ld=gold", "-o", program, *self.main, *self.tests[folder], out, *others,
                   self.build / "lib" / "liblinkmargin.a", "-lyaml-cpp", "-lutf8proc", "-lpthread", cwd=self.build)
        if done.returncode != 0:
            raise SystemExit(done.stderr[-3000:])
        return program

    def killed_by(self, mutant, out, wide):
        """The test that fails; nothing where all pass."""
        folder = mutant[0].split("/")[0]
        for tests in TESTS[folder] if wide else (folder,):
            program = self.linked(tests, mutant[0], out)
            left_out = [f"--test-case-exclude={NOT_QUICK[tests]}"] if tests in NOT_QUICK and not wide else []
            try:
                done = run(program, "-aa=1", *left_out, timeout=MOST_S)
            except subprocess.TimeoutExpired:
                return f"{tests}: time"
            if done.returncode != 0:
                cases = re.findall(r"TEST CASE:\s+(.*)", done.stdout)  # the last: it ends with the first failure
                return f"{tests}: {cases[-1] if cases else 'crash'}"
        return ""


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("build", type=pathlib.Path)
    parser.add_argument("work", type=pathlib.Path)
    parser.add_argument("--count", type=int, default=240)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--jobs", type=int, default=1)
    parser.add_argument("--wide", action="store_true")
    parser.add_argument("--list", action="store_true")
    asked = parser.parse_args()
    chosen = sample(asked.count, asked.seed)  # more than asked for: some compile to the same code
    if asked.list:
        for mutant in chosen:
            print(*mutant, sep="\t")
        return
    shop = Workshop(asked.build.resolve(), asked.work.resolve(), asked.jobs)
    results = shop.work / "results.csv"
    done = {}
    if results.exists():
        with results.open(encoding="utf-8", newline="") as file:
            done = {tuple(row[:5]): row[5] for row in csv.reader(file)}
    if asked.wide:
        chosen = iter([mutant for mutant in chosen if done.get(tuple(map(str, mutant))) == "survived"])
    lock = threading.Lock()
    counts = {"made": 0 if asked.wide else sum(state != "same" for state in done.values())}

    def work(number):
        """Takes one mutant after the other until there are enough."""
        while True:
            with lock:
                mutant = next(chosen, None) if counts["made"] < asked.count else None
            if mutant is None:
                return
            key = tuple(map(str, mutant))
            if key in done and not asked.wide:
                continue
            out = shop.mutated(mutant, shop.work / f"job-{number}")
            killer = shop.killed_by(mutant, out, asked.wide) if out else ""
            same = not killer and (out is None or shop.is_same(mutant[0], out))
            state = "same" if same else "killed" if killer else "survived"
            with lock:
                counts["made"] += not same
                with results.open("a", encoding="utf-8", newline="") as file:
                    csv.writer(file).writerow([*key, state, killer])
                print(counts["made"], state, *key, killer, sep="\t", flush=True)

    with concurrent.futures.ThreadPoolExecutor(asked.jobs) as pool:
        list(pool.map(work, range(asked.jobs)))


main()
