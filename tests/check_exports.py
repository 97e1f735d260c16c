"""Holds lib/exports.map, what the shared library exports, to what the public headers declare and the built library defines.

Exported are the functions and data of namespace linkmargin whose names stand in the public headers (those that linkmargin.hpp names),
and the C interface. Of a static library its symbols are looked at, of a shared one what it exports.

usage: check_exports.py PROJECT_ROOT LIBRARY [--write]

Exits with 77 where nm or c++filt are not installed.
"""
import pathlib
import re
import shutil
import subprocess
import sys

ROOT, LIBRARY = pathlib.Path(sys.argv[1]), sys.argv[2]
LIST = ROOT / "lib" / "exports.map"
HEAD = """# What the shared library exports; all else is hidden. Written and held by tests/check_exports.py.
{
  global:
    # what exceptions and classes of the public headers need
    _ZTIN10linkmargin*;
    _ZTSN10linkmargin*;
    _ZTVN10linkmargin*;
"""
TAIL = """  local:
    *;
};
"""


def without_comments(text):
    return re.sub(r"//[^\n]*|/\*.*?\*/", "", text, flags=re.S)


def public_names():
    """The words of the public headers, by the namespace that they stand in: '' is linkmargin itself."""
    headers = re.findall(r'#include "(linkmargin/[^"]+)"', (ROOT / "lib/linkmargin/linkmargin.hpp").read_text())
    words = {}
    for header in headers:
        text = without_comments((ROOT / "lib" / header).read_text())
        parts = re.split(r"namespace linkmargin(?:::(\w+))? \{", text)
        for name, body in zip(parts[1::2], parts[2::2]):
            words.setdefault(name or "", set()).update(re.findall(r"\w+", body))
    return words


def namespaces():
    """Those within linkmargin, of all sources."""
    return {name for path in (ROOT / "lib/linkmargin").rglob("*.?pp")
            for name in re.findall(r"^namespace linkmargin::(\w+)", path.read_text(), re.M)}


def defined():
    """Mangled names that the library defines for others, strong ones alone: what is inline is in the caller too."""
    options = ["--defined-only", "--format=posix"] + (["-D"] if ".so" in pathlib.Path(LIBRARY).name else [])
    text = subprocess.run(["nm", *options, LIBRARY], capture_output=True, text=True, check=True).stdout
    return sorted({fields[0] for fields in (line.split() for line in text.splitlines()) if len(fields) > 1 and fields[1] in "TDRB"})


def demangled(names):
    text = subprocess.run(["c++filt"], input="\n".join(names), capture_output=True, text=True, check=True).stdout
    return dict(zip(names, text.splitlines()))


def exported():
    """The symbols to be exported, mangled, with what they are."""
    words, inner = public_names(), namespaces()
    names = demangled(defined())
    found = {}
    for name, meaning in names.items():
        if re.fullmatch(r"lm_\w+", name):
            found[name] = meaning
        path = re.match(r"linkmargin::((?:~?\w+(?:::)?)+)", meaning) if name.startswith("_ZN") else None
        parts = path[1].rstrip(":").split("::") if path else []
        if len(parts) > 1 and parts[0] in inner:
            public = parts[1] in words.get(parts[0], ())
        else:
            public = bool(parts) and parts[0] in words[""]
        if public and "(anonymous namespace)" not in meaning and "[abi:" not in meaning:
            found[name] = meaning
    return found


def shortened(meaning):
    for long, short in (("std::__cxx11::basic_string<char, std::char_traits<char>, std::allocator<char> >", "std::string"),
                        ("std::basic_string_view<char, std::char_traits<char> >", "std::string_view"), (", 18446744073709551615ul", "")):
        meaning = meaning.replace(long, short)
    return re.sub(r"std::vector<([\w: ]+), std::allocator<\1> ?>", r"std::vector<\1>", meaning)


def written(found):
    lines = [f"    {name};  # {shortened(meaning)}" for name, meaning in sorted(found.items(), key=lambda one: shortened(one[1]))]
    return HEAD + "\n".join(lines) + "\n" + TAIL


def listed():
    return set(re.findall(r"^    (\w+);", LIST.read_text(), re.M))


def main():
    for tool in ("nm", "c++filt"):
        if not shutil.which(tool):
            print(f"{tool} is not installed: what is exported was not checked")
            return 77
    if ".so" in pathlib.Path(LIBRARY).name:
        found = demangled(defined())
    else:
        found = exported()
    if "--write" in sys.argv:
        LIST.write_text(written(found))
        return 0
    here = listed()
    for name in sorted(here - found.keys()):
        print(f"listed, not defined or not public: {demangled([name])[name]}")
    for name in sorted(found.keys() - here):
        print(f"public, not listed: {found[name]}")
    if here != found.keys():
        print("if the public headers were meant to change, write the list anew with --write")
    print(f"{len(found)} symbols")
    return 1 if here != found.keys() or len(found) < 300 else 0


sys.exit(main())
