"""benchmarks/compare.py by two commits of a project made up for it, whose benchmarks take a known time; and its parts.
Usage: benchmarks_compare.py PROJECT_ROOT WORK_FOLDER"""
import importlib.util
import pathlib
import shutil
import subprocess
import sys

ROOT, WORK = pathlib.Path(sys.argv[1]), pathlib.Path(sys.argv[2])
spec = importlib.util.spec_from_file_location("compare", ROOT / "benchmarks" / "compare.py")
compare = importlib.util.module_from_spec(spec)
spec.loader.exec_module(compare)


def expect(holds, what):
    if not holds:
        sys.exit("failed: " + what)


# A build system that copies a script, and a benchmark that writes what Google Benchmark would.
PRESETS = '{"version": 6, "configurePresets": [{"name": "bench", "generator": "Unix Makefiles", "binaryDir": "${sourceDir}/build/bench"}],' \
          ' "buildPresets": [{"name": "bench", "configurePreset": "bench"}]}'
CMAKE = """cmake_minimum_required(VERSION 3.25)
project(made_up LANGUAGES NONE)
file(COPY benchmarks/one_bench.cpp DESTINATION benchmarks)
file(RENAME ${CMAKE_BINARY_DIR}/benchmarks/one_bench.cpp ${CMAKE_BINARY_DIR}/benchmarks/one_bench)
file(CHMOD ${CMAKE_BINARY_DIR}/benchmarks/one_bench PERMISSIONS OWNER_READ OWNER_WRITE OWNER_EXECUTE)
add_custom_target(one_bench)
"""
BENCH = """#!/usr/bin/python3
import json, sys
out = next(word[16:] for word in sys.argv if word.startswith("--benchmark_out="))
times = {times}
json.dump({{"benchmarks": [{{"name": name, "run_type": "iteration", "cpu_time": time, "time_unit": "us"}} for name, time in
                          times.items()]}}, open(out, "w"))
"""


def commit(folder, times, name):
    (folder / "benchmarks" / "one_bench.cpp").write_text(BENCH.format(times=times))
    subprocess.run(["git", "-C", folder, "add", "-A"], check=True)
    subprocess.run(["git", "-C", folder, "-c", "user.name=nobody", "-c", "user.email=nobody@example.org", "commit", "-qm", name], check=True)
    subprocess.run(["git", "-C", folder, "tag", name], check=True)


def check_commits():
    folder = WORK / "project"
    (folder / "benchmarks").mkdir(parents=True)
    shutil.copy(ROOT / "benchmarks" / "compare.py", folder / "benchmarks")
    (folder / "CMakeLists.txt").write_text(CMAKE)
    (folder / "CMakePresets.json").write_text(PRESETS)
    (folder / ".gitignore").write_text("build/\n")
    subprocess.run(["git", "init", "-q", folder], check=True)
    commit(folder, {"cast": 10, "trace": 4, "old": 1}, "before")
    commit(folder, {"cast": 25, "trace": 4.2, "young": 1}, "after")

    def said(*words):
        done = subprocess.run([sys.executable, "benchmarks/compare.py", *words], cwd=folder, capture_output=True, text=True)
        return done.returncode, done.stdout

    status, text = said("before", "after", "--rounds", "2")
    expect(status == 1, "a slower commit passed")
    for line in ("2.50  one_bench: cast", "1.05  one_bench: trace", "gone  one_bench: old", "new  one_bench: young"):
        expect(line in text, f"'{line}' is not told:\n{text}")
    expect(text.count("SLOWER") == 1, f"what is slower is not told once:\n{text}")
    expect(said("after", "after")[0] == 0, "a commit is slower than itself")
    expect(said("after", ".")[0] == 0, "the working tree is slower than its commit")
    expect(said("nowhere", "after")[0] != 0, "a commit that is none was taken")


def check_parts():
    report = {"benchmarks": [{"name": "a", "run_type": "iteration", "cpu_time": 2, "time_unit": "ms"},
                             {"name": "a_mean", "run_type": "aggregate", "cpu_time": 9, "time_unit": "ms"},
                             {"name": "b", "error_occurred": True, "cpu_time": 0, "time_unit": "ns"}]}
    expect(compare.times(report) == {"a": 0.002}, "times of a report")
    expect(compare.shortest([{"a": 3.0, "b": 1.0}, {"a": 2.0}]) == {"a": 2.0, "b": 1.0}, "the shortest of rounds")
    expect(compare.lines({"a": 1.0}, {"a": 1.1}, 1.10)[1] and not compare.lines({"a": 1.0}, {"a": 1.11}, 1.10)[1], "the limit")


shutil.rmtree(WORK, ignore_errors=True)
WORK.mkdir(parents=True)
check_parts()
check_commits()
print("two commits compared")
