"""Makes the reference of the public headers by Doxygen and holds their comments: every command in them is one, every parameter is
called as it is, every type has a comment and so has every function outside of them. Fields, members, operators and the options of
a function, whose fields say all, need none.
Usage: check_reference.py SOURCE WORK; the reference is then WORK/html/index.html. Exits with 77 where Doxygen is not installed."""
import pathlib
import re
import shutil
import subprocess
import sys

root, work = (pathlib.Path(argument).resolve() for argument in sys.argv[1:3])
if not shutil.which("doxygen"):
    print("doxygen is not installed: the comments of the headers were not checked")
    sys.exit(77)
named = re.findall(r'^#include "(linkmargin/.*)"', (root / "lib/linkmargin/linkmargin.hpp").read_text(), re.M)
headers = ["lib/linkmargin/linkmargin.hpp", *(f"lib/{name}" for name in named)]
work.mkdir(parents=True, exist_ok=True)
settings = f"@INCLUDE = docs/Doxyfile\nINPUT = {' '.join(headers)}\nOUTPUT_DIRECTORY = {work}\n"
done = subprocess.run(["doxygen", "-"], input=settings, cwd=root, capture_output=True, text=True)
if done.returncode != 0 or not (work / "html" / "index.html").exists():
    sys.exit(f"doxygen failed:\n{done.stderr}")
warnings = [line for line in done.stderr.splitlines() if line]
needs_none = re.compile(r"warning: (Member operator|Member .* (\(variable\) of|of (struct|class|union)) |Compound \S+Options ).*is not documented\.$")
faults = [line for line in warnings if not needs_none.search(line)]
print("\n".join(faults) or f"{len(headers)} headers, {len(warnings)} fields, members, operators and options without a comment")
sys.exit(bool(faults))
