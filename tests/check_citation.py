"""Holds CITATION.cff and the Debian list of changes to the version and date of CMakeLists.txt. Usage: check_citation.py SOURCE"""
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
faults = [what for what, holds in {
    "CITATION.cff: version": f"\nversion: {version}\n" in citation,
    "CITATION.cff: date-released": f"\ndate-released: {date}\n" in citation,
    "packaging/changelog: version": changes.startswith(f"linkmargin ({version}-1) "),
    "packaging/changelog: date": changed.date().isoformat() == date,
}.items() if not holds]
print("\n".join(faults) or f"version {version} of {date} everywhere")
sys.exit(bool(faults))
