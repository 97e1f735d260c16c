"""Holds the languages of reports to the sources: every text is said somewhere and every key that is said is there;
every material is of the table.
Usage: check_languages.py PROJECT_ROOT"""
import pathlib
import re
import sys

import jsonschema
import json
import yaml

ROOT = pathlib.Path(sys.argv[1])
failures = []


def flattened(node, lead=""):
    for key, value in node.items():
        if isinstance(value, dict):
            yield from flattened(value, f"{lead}{key}.")
        else:
            yield lead + key, value


def load(path):
    return yaml.safe_load(path.read_text(encoding="utf-8"))


sources = {path: path.read_text(encoding="utf-8") for folder in ("lib", "cli") for path in sorted((ROOT / folder).rglob("*.[ch]pp"))}
code = "\n".join(sources.values())
quoted = set(re.findall(r'"([a-z_]+(?:\.[a-z_]+)+)"', code)) - {"materials.yaml"}
beginnings = set(re.findall(r'"((?:[a-z_]+\.)+)"', code))  # completed at run time
# The sketch page says what stands under `sketch`.
page = "\n".join(path.read_text(encoding="utf-8") for path in sorted((ROOT / "cli" / "sketch" / "source").iterdir()))
quoted |= {"sketch." + key for key in re.findall(r"""(?:say\('|data-say=")([a-z_]+)['"]""", page)}
beginnings |= {"sketch." + key for key in re.findall(r"""say\(`([a-z_]+)\$""", page)}
# ... and what the names of the tables are called, each of them.
for table, file, section in (("kind", "opening-kinds", "opening_kinds"), ("construction", "constructions", "constructions"), ("profile", "profiles", "profiles")):
    quoted |= {f"sketch.{table}_{re.sub('[ -]', '_', name)}" for name in load(ROOT / "data" / f"{file}.yaml")[section]}

files = sorted((ROOT / "data" / "languages").glob("*.yaml"))
if len(files) < 2:
    failures.append("fewer than two languages")
schema = json.loads((ROOT / "docs" / "language.schema.json").read_text(encoding="utf-8"))
materials = load(ROOT / "data" / "materials.yaml")["materials"]
texts = 0
for path in files:
    language = load(path)
    for fault in jsonschema.Draft202012Validator(schema).iter_errors(language):
        failures.append(f"{path.name}: {fault.message[:200]}")
    keys = dict(flattened(language["texts"]))
    texts += len(keys)
    for key in keys:
        counted = key.rsplit(".", 1)[0] if key.endswith((".one", ".other")) else key
        said = counted in quoted or counted.rsplit(".", 1)[0] in quoted
        if not said and not any(counted.startswith(begin) for begin in beginnings):
            failures.append(f"{path.name}: nobody says '{key}'")
    for name in language.get("materials", {}):
        if name not in materials:
            failures.append(f"{path.name}: no material '{name}' in the table")
english = set(dict(flattened(load(ROOT / "data" / "languages" / "en.yaml")["texts"])))
sections = {key.split(".", 1)[0] for key in english}
for key in sorted(quoted):
    if key.split(".", 1)[0] in sections and key not in english and not any(known.startswith(key + ".") for known in english):
        failures.append(f"'{key}' is said but not there")

for failure in failures:
    print(failure)
print(f"{len(files)} languages, {texts} texts: {len(failures)} failures")
sys.exit(bool(failures))
