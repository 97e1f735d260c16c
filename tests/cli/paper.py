"""The report as a PDF: as many pages as a reader takes in, its texts as texts, all of them on the paper and none over another,
names of every kind, the same bytes again.

usage: paper.py PROGRAM DATA_FOLDER WORK_FOLDER [MODULE]

Needs pdftotext, pdffonts and pdfinfo (Debian package poppler-utils).
"""
import html
import json
import os
import pathlib
import re
import shutil
import subprocess
import sys
import unicodedata

from program import DATA, PROGRAM, WORK, expect

SITES = pathlib.Path(DATA) / "sites"
KILN, KIOSK = SITES / "kiln-lane.yaml", SITES / "corner-kiosk.yaml"
TESTS = pathlib.Path(__file__).parent.parent
CASES, HOSTILE = TESTS / "browser" / "cases.yaml", TESTS / "browser" / "hostile.yaml"
FOLDER = pathlib.Path(WORK)
ENVIRONMENT = {**os.environ, "SOURCE_DATE_EPOCH": "1796000000"}
A4_PT = (595.28, 841.89)


def run(words, status=0):
    done = subprocess.run([str(word) for word in words], capture_output=True, cwd=FOLDER, env=ENVIRONMENT)
    expect(done.returncode == status, f"{words}: status {done.returncode}: {done.stderr.decode()}")
    return done.stdout


def report(name, site, *options):
    file = FOLDER / name
    run([PROGRAM, "report", site, "--output", file, *options])
    return file


def plain(text):
    """As letters follow each other: lines, and forms of one letter, are the reader's."""
    return re.sub(r"\s+", "", unicodedata.normalize("NFKC", text))


def text_of(pdf):
    return plain(run(["pdftotext", "-layout", pdf, "-"]).decode()) + plain(run(["pdftotext", pdf, "-"]).decode())


def pages_of(pdf):
    info = run(["pdfinfo", pdf]).decode()
    size = re.search(r"Page size: +([\d.]+) x ([\d.]+)", info).groups()
    expect(all(abs(float(got) - wanted) < 0.1 for got, wanted in zip(size, A4_PT)), f"{pdf}: not A4: {size}")
    expect("CreationDate" not in info, f"{pdf}: the time is written into it")
    return int(re.search(r"Pages: +(\d+)", info)[1])


def words_of(pdf):
    """Page by page: (text, box) of each word."""
    pages = run(["pdftotext", "-bbox", pdf, "-"]).decode().split("<page ")[1:]
    word = re.compile(r'<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">(.*?)</word>')
    return [[(found[4], tuple(map(float, found[:4]))) for found in word.findall(page)] for page in pages]


def check_places(pdf):
    """Every word on the paper, 8 mm from its edge, and none over another."""
    rim = 22
    for page in words_of(pdf):
        expect(page, f"{pdf}: an empty page")
        for text, (left, top, right, bottom) in page:
            expect(left >= rim and top >= rim and right <= A4_PT[0] - rim and bottom <= A4_PT[1] - rim,
                   f"{pdf}: '{text}' at {left, top, right, bottom} is over the edge")
        for i, (text, box) in enumerate(page):
            for other, its in page[i + 1:]:
                wide = min(box[2], its[2]) - max(box[0], its[0])
                high = min(box[3], its[3]) - max(box[1], its[1])
                expect(wide < 1 or high < 0.5 * min(box[3] - box[1], its[3] - its[1]),
                       f"{pdf}: '{text}' and '{other}' over each other at {box}")


def page_verdict(site, *options):
    """As the page in HTML says it."""
    page = report("page.html", site, "--try", "none", *options).read_text()
    span = re.search(r'<p class="verdict.*?<span>(.*?)</span></p>', page, re.S)[1]
    return html.unescape(re.sub(r"<[^>]+>", "", span))


def check_site(name, site, *options):
    pdf = report(name, site, *options)
    expect(pdf.read_bytes() == report("again.pdf", site, *options).read_bytes(), f"{name}: other bytes the second time")
    text = text_of(pdf)
    expect(plain(page_verdict(site, *options)) in text, f"{name}: the verdict is not in it")
    links = json.loads(run([PROGRAM, "check", site, "--format", "json"]))["links"]
    weak = [link["device"] for link in links if link["outcome"] != "good"]
    for device in weak:
        expect(text.count(plain(device)) >= 3, f"{name}: {device} is not told of")
    check_places(pdf)
    fonts = run(["pdffonts", pdf]).decode().splitlines()[2:]
    expect(fonts and all("DejaVu" in font for font in fonts), f"{name}: {fonts}")
    return pages_of(pdf), text


def check_demo():
    pages, text = check_site("demo.pdf", KILN)
    expect(2 <= pages <= 4, f"{pages} pages for the demo")
    for part in ("Whattodo", "Weakanddoubtfuldevices", "Alldevices", f"Page{pages}of{pages}", "ladder", "868.3MHz"):
        expect(part in text, f"'{part}' is not on the paper")
    pages, text = check_site("german.pdf", KILN, "--language", "de")
    expect(2 <= pages <= 4, f"{pages} pages for the demo in German")
    for part in ("Waszutunist", "SchwacheundunsichereGeräte", "AlleGeräte", f"Seite{pages}von{pages}", "868,3MHz"):
        expect(part in text, f"'{part}' is not on the paper in German")


def check_more():
    _, text = check_site("file.pdf", KILN, "--for", "file")
    expect("Margin" in text and "Ifonefails" in text, "the file is told no more than the customer")
    pdf = report("cases.pdf", KILN, "--cases", CASES)
    expect("hubbytheworkshopwall" in text_of(pdf), "the cases are not on the paper")
    check_places(pdf)
    pdf = report("runs.pdf", KILN, "--what-if", SITES / "kiln-lane-what-if.yaml", "--language", "de")
    expect("genaueStelle,imUmkreis" in text_of(pdf), "the runs are not on the paper")
    check_places(pdf)
    pages, text = check_site("kiosk.pdf", KIOSK)
    expect(pages <= 3, f"{pages} pages for a kiosk")


def check_hostile():
    """Scripts that DejaVu lacks come from other fonts, or as boxes: their letters are not looked for."""
    pdf = report("hostile.pdf", HOSTILE)
    text = text_of(pdf)
    for part in ("=1+1", "<b>x</b>", "-front'onmouseover='hacked=1", "a_name_as_long_as_a_name_may_be"):
        expect(part in text, f"'{part}' is not on the paper")
    check_places(pdf)


def check_refused():
    run([PROGRAM, "report", KILN, "--output", FOLDER / "report.png"], status=2)
    expect(not (FOLDER / "report.png").exists(), "a report was written as PNG")


def main():
    for tool in ("pdftotext", "pdffonts", "pdfinfo"):
        if shutil.which(tool) is None:
            print(f"{tool} is not installed (poppler-utils)")
            sys.exit(77)
    shutil.rmtree(FOLDER, ignore_errors=True)
    FOLDER.mkdir(parents=True)
    check_demo()
    check_more()
    check_hostile()
    check_refused()
    print("the report on paper holds")


main()
