"""Drawings as PNG and PDF: their size, that they show what the SVG says, letters of any script, the same bytes again; and
what is said where the module that draws them is not there.

usage: pictures.py PROGRAM DATA_FOLDER WORK_FOLDER [MODULE]

Bytes hang on the libraries and fonts that are installed, so pictures are held to what they must be like.
"""
import pathlib
import re
import shutil
import struct
import subprocess
import sys
import zlib

from program import DATA, PROGRAM, WORK, expect

MODULE = sys.argv[4] if len(sys.argv) > 4 else None
SITES = pathlib.Path(DATA) / "sites"
KILN, READINGS, KIOSK = SITES / "kiln-lane.yaml", SITES / "kiln-lane-readings.csv", SITES / "corner-kiosk.yaml"
COMMANDS = {"draw": ["draw", KILN], "coverage": ["coverage", KIOSK, "--step", "0.5"], "place": ["place", KIOSK, "--step", "0.5"]}
FOLDER = pathlib.Path(WORK)
TITLE_ROWS = (40, 96)  # of a PNG: the title's line alone


def run(words, status=0, program=PROGRAM, text=False):
    done = subprocess.run([program, *map(str, words)], capture_output=True, cwd=FOLDER)
    expect(done.returncode == status, f"{words}: status {done.returncode}: {done.stderr.decode()}")
    return done.stdout if not text else done.stderr.decode()


def drawn(words, form):
    return run([*words, "--format", form])


def fitted(form):
    """The picture of a calibration has no --format: its ending says it."""
    run(["calibrate", KILN, READINGS, "--picture", FOLDER / f"fit.{form}"])
    return (FOLDER / f"fit.{form}").read_bytes()


def svg_size(svg):
    return tuple(float(number) for number in re.search(rb'width="([\d.]+)" height="([\d.]+)"', svg).groups())


def chunks(png):
    expect(png.startswith(b"\x89PNG\r\n\x1a\n"), "no signature of a PNG")
    at = 8
    while at < len(png):
        (length,) = struct.unpack(">I", png[at:at + 4])
        yield png[at + 4:at + 8], png[at + 8:at + 8 + length]
        at += 12 + length


def paeth(left, above, corner):
    to_left, to_above, to_corner = abs(above - corner), abs(left - corner), abs(left + above - 2 * corner)
    if to_left <= to_above and to_left <= to_corner:
        return left
    return above if to_above <= to_corner else corner


def pixels(png, most_rows):
    """Width, channels and the upper rows of a picture of eight bits a channel (ISO/IEC 15948, clause 9)."""
    parts = list(chunks(png))
    width, height, depth, colour = struct.unpack(">IIBB", parts[0][1][:10])
    expect(depth == 8 and colour in (2, 6), f"depth {depth}, colour type {colour}")
    expect(all(kind != b"tIME" for kind, _ in parts), "the time is written into the PNG")
    channels = 3 if colour == 2 else 4
    data = zlib.decompress(b"".join(body for kind, body in parts if kind == b"IDAT"))
    stride = channels * width
    rows, above = [], bytes(stride)
    for y in range(min(height, most_rows)):
        line = data[y * (stride + 1):(y + 1) * (stride + 1)]
        kind, row = line[0], bytearray(line[1:])
        if kind:
            for x in range(stride):
                left = row[x - channels] if x >= channels else 0
                corner = above[x - channels] if x >= channels else 0
                guess = (above[x] if kind == 2 else left if kind == 1 else (left + above[x]) // 2 if kind == 3
                         else paeth(left, above[x], corner))
                row[x] = (row[x] + guess) & 255
        rows.append(bytes(row))
        above = rows[-1]
    return width, channels, rows


def colours(png, most_rows=400):
    _, channels, rows = pixels(png, most_rows)
    return {row[x:x + 3] for row in rows for x in range(0, len(row), channels)}


def check_png(name, svg, png):
    width, height = svg_size(svg)
    for got, wanted in zip(struct.unpack(">II", png[16:24]), (width, height)):
        expect(abs(got - 2 * wanted) <= 1, f"{name}: {got} pixels of a PNG for {wanted} of the SVG")


def pdf_objects(pdf):
    """The text of a PDF with its packed streams, as far as they are text."""
    parts = [pdf]
    for body in re.findall(rb"stream\r?\n(.*?)endstream", pdf, re.S):
        try:
            parts.append(zlib.decompressobj().decompress(body))
        except zlib.error:
            pass
    return b"\n".join(parts)


def check_pdf(name, svg, pdf):
    expect(pdf.startswith(b"%PDF-"), f"{name}: no PDF")
    objects = pdf_objects(pdf)
    expect(len(re.findall(rb"/Type\s*/Page\b", objects)) == 1, f"{name}: not one page")
    box = re.search(rb"/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)", objects)
    for got, wanted in zip(box.groups(), svg_size(svg)):
        expect(abs(float(got) - 0.75 * wanted) <= 0.5, f"{name}: {got.decode()} points for {wanted} pixels")
    expect(b"/CreationDate" not in objects, f"{name}: the time is written into the PDF")
    expect(b"/FontFile" in objects, f"{name}: its letters are no letters")


def check_commands():
    for name, words in COMMANDS.items():
        svg, png, pdf = (drawn(words, form) for form in ("svg", "png", "pdf"))
        check_png(name, svg, png)
        check_pdf(name, svg, pdf)
        expect(png == drawn(words, "png") and pdf == drawn(words, "pdf"), f"{name}: other bytes the second time")
        run([*words, "--output", FOLDER / "named.PDF"])
        expect((FOLDER / "named.PDF").read_bytes() == pdf, f"{name}: the ending does not tell the format")
    svg, png = fitted("svg"), fitted("png")
    check_png("calibrate", svg, png)
    check_pdf("calibrate", svg, fitted("pdf"))
    expect(len(colours(png)) > 20, "the picture of a calibration is blank")


def check_runs():
    """The picture of runs goes beside the answer, and beside rows, and does not change them."""
    whats = SITES / "kiln-lane-what-if.yaml"
    plain = run(["whatif", whats])
    for form in ("svg", "png", "pdf"):
        expect(run(["whatif", whats, "--picture", FOLDER / f"runs.{form}"]) == plain, "a picture changes the answer")
    svg, png, pdf = ((FOLDER / f"runs.{form}").read_bytes() for form in ("svg", "png", "pdf"))
    check_png("whatif", svg, png)
    check_pdf("whatif", svg, pdf)
    expect(len(colours(png, 1000)) > 20, "the picture of runs is blank")
    # drawn from the figures as they are written
    rows = run(["whatif", whats, "--format", "csv", "--precise", "--picture", FOLDER / "beside.svg"])
    expect(rows == run(["whatif", whats, "--format", "csv", "--precise"]), "a picture changes the rows")
    expect((FOLDER / "beside.svg").read_bytes() == svg, "the picture beside rows is another one")
    run(["whatif", whats, "--output", FOLDER / "rows.csv", "--picture", FOLDER / "rows.csv"], status=2)


def check_letters():
    """A name is drawn with its own letters: other ones give other pixels, and more of them more."""
    site = KIOSK.read_text()
    name = re.search(r"(?m)^site: (.*)$", site).group(1)

    def titled(title):
        file = FOLDER / "named.yaml"
        file.write_text(site.replace(f"site: {name}", f'site: "{title}"'))
        png = drawn(["draw", file], "png")
        width, channels, rows = pixels(png, TITLE_ROWS[1])
        return [row[:channels * width // 2] for row in rows[TITLE_ROWS[0]:]]

    def ink(rows):
        return sum(255 - value for row in rows for value in row)

    empty = titled("i")
    for plain, true in (("Lodz", "Łódź"), ("Muhle", "Mühle"), ("cafe", "café"), ("Apo8nkn", "Αποθήκη")):
        expect(titled(true) != titled(plain), f"{true} is drawn as {plain}")
        expect(ink(titled(true)) > 3 * ink(empty), f"{true} is not drawn")
    # A box for each letter that is lacking would make these two alike.
    expect(titled("ΩΩΩ") != titled("ΨΨΨ"), "Greek letters are all alike")


def check_map_colours():
    """The upper part of a map's PNG has colours that its SVG fills zones with."""
    svg, png = drawn(COMMANDS["coverage"], "svg"), drawn(COMMANDS["coverage"], "png")
    filled = {bytes.fromhex(code.decode()) for code in re.findall(rb'<path [^>]*fill="#([0-9a-f]{6})"', svg)}
    expect(len(filled) >= 7, "the map has hardly a colour")
    seen = filled & colours(png)
    expect(len(seen) >= 4, f"of {len(filled)} colours of the map, {len(seen)} are in the upper part of its PNG")


def check_without_module():
    """The program alone, in a folder of its own."""
    alone = FOLDER / "alone"
    alone.mkdir()
    program = alone / "linkmargin"
    shutil.copy(PROGRAM, program)
    for form in ("png", "pdf"):
        said = run(["draw", KILN, "--format", form], status=1, program=program, text=True)
        expect(said.count("\n") == 1 and "need the module linkmargin_pictures" in said and "write an SVG" in said,
               f"without its module the program says: {said}")
    # the faults of the file come first
    faulty = FOLDER / "faulty.yaml"
    faulty.write_text("site: x\n")
    said = run(["draw", str(faulty), "--format", "png"], status=2, program=program, text=True)
    expect("missing key" in said and "linkmargin_pictures" not in said, f"without its module a faulty file gets: {said}")
    # before any work, and before anything is written
    run(["calibrate", KILN, READINGS, "--picture", "fit.png", "--learned", "walls.yaml"], status=1, program=program)
    expect(not (FOLDER / "walls.yaml").exists(), "a file was written although the picture cannot be")
    expect(run(["draw", KILN, "--format", "svg"], program=program) == drawn(["draw", KILN], "svg"), "the SVG is another one")
    if MODULE:
        shutil.copy(MODULE, alone)
        expect(run(["draw", KILN, "--format", "png"], program=program).startswith(b"\x89PNG"), "a module beside is not found")


def main():
    shutil.rmtree(FOLDER, ignore_errors=True)
    FOLDER.mkdir(parents=True)
    check_without_module()
    if not MODULE:
        print("built without the module that draws PNG and PDF: what it draws was not tried")
        return
    check_commands()
    check_runs()
    check_letters()
    check_map_colours()


main()
