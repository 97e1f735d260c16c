"""Holds the documents together: every link and anchor of every page leads somewhere, every `docs/...` that the code names is
there, and no page is over 300 lines. Usage: check_documents.py SOURCE"""
import pathlib
import re
import sys

MOST_LINES = 300
GROWS = {"docs/changes.md"}  # a list of changes is as long as the history that it tells
NOT_OURS = {".git", "build", "node_modules"}
NAMES_PAGES = {".hpp", ".h", ".cpp", ".c", ".py", ".cmake", ".txt", ".sh", ".mjs", ".md", ".yaml", ".json", ""}

ROOT = pathlib.Path(sys.argv[1]).resolve()
faults = []


def files():
    return [path for path in sorted(ROOT.rglob("*")) if path.is_file() and not NOT_OURS & set(path.relative_to(ROOT).parts)]


def prose(text):
    """A page without its code: what stands there is no link."""
    return re.sub(r"`[^`\n]*`", lambda code: re.sub(r"[\[\]()]", " ", code[0]), re.sub(r"^```.*?^```$", "", text, flags=re.M | re.S))


def anchors(page):
    """The anchors of a page's headings, as they are shown on the web."""
    found = []
    for title in re.findall(r"^#+ (.*)$", re.sub(r"^```.*?^```$", "", page, flags=re.M | re.S), re.M):
        name = re.sub(r"[^\w\- ]", "", re.sub(r"\[([^\]]*)\]\([^)]*\)", r"\1", title).lower()).replace(" ", "-")
        found.append(name if name not in found else f"{name}-{found.count(name)}")
    return found


def check_links(path, text):
    links = re.findall(r"\]\(([^)\s]+)\)", prose(text))
    for link in links:
        if re.match(r"[a-z]+:", link):
            continue
        name, _, anchor = link.partition("#")
        target = (path.parent / name).resolve() if name else path
        if not target.exists():
            faults.append(f"{path.relative_to(ROOT)}: {link} leads nowhere")
        elif anchor and anchor not in anchors(target.read_text(encoding="utf-8")):
            faults.append(f"{path.relative_to(ROOT)}: {link}: no such heading")
    return len(links)


def check_names(path, text):
    """Pages named in code and prose by their place in the tree."""
    for name in re.findall(r"(?<![\w/.])docs/[\w/-]+\.(?:md|c|cpp|sh|svg|png|json)\b", text):
        if not (ROOT / name).exists():
            faults.append(f"{path.relative_to(ROOT)} names {name}, which is not there")


def main():
    links = pages = 0
    for path in files():
        if path.suffix not in NAMES_PAGES:
            continue
        try:
            text = path.read_text(encoding="utf-8")
        except UnicodeDecodeError:
            continue
        check_names(path, text)
        if path.suffix != ".md":
            continue
        pages += 1
        links += check_links(path, text)
        lines = text.count("\n")
        if lines > MOST_LINES and str(path.relative_to(ROOT)) not in GROWS:
            faults.append(f"{path.relative_to(ROOT)} has {lines} lines, more than {MOST_LINES}")
    if pages < 15 or links < 80:
        faults.append(f"only {pages} pages and {links} links were found")
    print("\n".join(faults) or f"{links} links on {pages} pages")
    return bool(faults)


sys.exit(main())
