"""Holds what the project says of licences in SPDX: every file has one by REUSE.toml, whose text is in LICENSES/; and packaging/sbom
writes a document of what is linked that is whole and the same each time.

usage: check_spdx.py SOURCE PROGRAM [PICTURE_MODULE]

Exits with 77 where the tools of packaging/sbom are not installed.
"""
import fnmatch
import json
import pathlib
import re
import subprocess
import sys
import tomllib

from check_licences import EXPRESSION, needed

ROOT, FILES = pathlib.Path(sys.argv[1]), sys.argv[2:]
faults = []


def files():
    done = subprocess.run(["git", "-C", ROOT, "ls-files", "-z"], capture_output=True, text=True)
    listed = [name for name in done.stdout.split("\0") if name] if done.returncode == 0 else []
    return listed or [str(path.relative_to(ROOT)) for path in ROOT.rglob("*") if path.is_file() and "build" not in path.parts]


def check_reuse():
    """@return how many files have a licence"""
    annotations = tomllib.loads((ROOT / "REUSE.toml").read_text())["annotations"]
    texts = {path.stem for path in (ROOT / "LICENSES").iterdir()}
    names = files()
    for name in names:
        own = [one for one in annotations if fnmatch.fnmatch(name, one["path"].replace("**", "*"))]
        if not own or not own[-1].get("SPDX-FileCopyrightText"):
            faults.append(f"{name} has no licence or holder in REUSE.toml")
        elif own[-1]["SPDX-License-Identifier"] not in texts:
            faults.append(f"LICENSES/ has no text of {own[-1]['SPDX-License-Identifier']}")
    for text in texts - {one["SPDX-License-Identifier"] for one in annotations}:
        faults.append(f"LICENSES/{text}.txt is of nothing")
    if (ROOT / "LICENSES/MIT.txt").read_text() != (ROOT / "LICENSE").read_text():
        faults.append("LICENSES/MIT.txt is not LICENSE")
    if len(names) < 900:
        faults.append(f"only {len(names)} files were found")
    return len(names)


def sbom():
    done = subprocess.run([str(ROOT / "packaging/sbom"), *FILES], capture_output=True, text=True)
    if done.returncode == 77:
        print(done.stderr)
        sys.exit(77)
    if done.returncode != 0:
        sys.exit(done.stderr)
    return done.stdout


def check_sbom():
    """What SPDX 2.3 asks of a document, and that nothing that is linked is missing. @return how many packages it has"""
    text = sbom()
    if sbom() != text:
        faults.append("packaging/sbom wrote another document the second time")
    document = json.loads(text)
    for key in ("spdxVersion", "dataLicense", "SPDXID", "name", "documentNamespace", "creationInfo", "packages", "relationships"):
        if key not in document:
            faults.append(f"the document has no {key}")
    packages = {one["SPDXID"]: one for one in document["packages"]}
    if len(packages) != len(document["packages"]):
        faults.append("two packages have one SPDXID")
    for identity, one in packages.items():
        if not re.fullmatch(r"SPDXRef-[A-Za-z0-9.-]+", identity):
            faults.append(f"{identity} is no SPDXID")
        if not EXPRESSION.fullmatch(one["licenseDeclared"]):
            faults.append(f"{one['name']}: '{one['licenseDeclared']}' is no licence expression")
        if not one["versionInfo"] or "downloadLocation" not in one:
            faults.append(f"{one['name']} has no version or place")
    known = set(packages) | {"SPDXRef-DOCUMENT"}
    related = {end for one in document["relationships"] for end in (one["spdxElementId"], one["relatedSpdxElement"])}
    if related != known:
        faults.append(f"relations: {sorted(related ^ known)}")
    listed = {name for one in packages.values() for name in one.get("comment", ": ").split(": ")[1].split(", ")} - {""}
    linked = set().union(*(needed(file) for file in FILES))
    if listed != linked:
        faults.append(f"listed alone: {sorted(listed - linked)}, linked alone: {sorted(linked - listed)}")
    return len(packages)


count = check_reuse()
packages = check_sbom()
print("\n".join(faults) or f"{count} files have a licence, {packages} packages are listed")
sys.exit(bool(faults))
