"""Holds CITATION.cff, the Debian list of changes and docs/changes.md to the version and date of CMakeLists.txt, and the last to the
form of Keep a Changelog 1.1.0. Usage: check_citation.py SOURCE"""
import email.utils
import pathlib
import re
import sys

root = pathlib.Path(sys.argv[1])
cmake = (root / "CMakeLists.txt").read_text()
version = re.search(r"VERSION (\d+\.\d+\.\d+) LANGUAGES", cmake).group(1)
date = re.search(r"set\(LINKMARGIN_DATE ([\d-]+)\)", cmake).group(1)
citation = (root / "CITATION.cff").read_text()
changes = (root / "packaging" / "changelog").read_text()
changed = email.utils.parsedate_to_datetime(re.search(r"^ -- .*>  (.*)$", changes, re.M).group(1))
log = (root / "docs" / "changes.md").read_text()
versions = re.findall(r"^## (.*)$", log, re.M)
kinds = set(re.findall(r"^### (.*)$", log, re.M))
entries = [line for line in log.split("## [", 1)[1].splitlines()[1:] if line and not line.startswith(("#", "- ", "  "))]
faults = [what for what, holds in {
    "CITATION.cff: version": f"\nversion: {version}\n" in citation,
    "CITATION.cff: date-released": f"\ndate-released: {date}\n" in citation,
    "packaging/changelog: version": changes.startswith(f"linkmargin ({version}-1) "),
    "packaging/changelog: date": changed.date().isoformat() == date,
    "docs/changes.md: what is to come first, then the version": versions[:2] == ["[Unreleased]", f"[{version}] - {date}"],
    "docs/changes.md: each version with its date": all(re.fullmatch(r"\[\d+\.\d+\.\d+\] - \d{4}-\d\d-\d\d", one) for one in versions[1:]),
    "docs/changes.md: kinds of changes": kinds <= {"Added", "Changed", "Deprecated", "Removed", "Fixed", "Security"},
    f"docs/changes.md: entries are points of a list: {entries[:1]}": not entries,
}.items() if not holds]
print("\n".join(faults) or f"version {version} of {date} everywhere")
sys.exit(bool(faults))
