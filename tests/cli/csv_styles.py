"""CSV in each style: the same table with semicolons and decimal commas; figures rounded as docs/answers.md says, never over a
threshold; columns without blanks; sheets and places in the other style read back; rows of what-if runs by device, resumed and
in shards.

usage: csv_styles.py PROGRAM DATA_FOLDER WORK_FOLDER
"""
import csv
import io
import pathlib
import shutil

from program import DATA, WORK, expect, journal, run

SITE = f"{DATA}/sites/kiln-lane.yaml"
KIOSK = f"{DATA}/sites/corner-kiosk.yaml"
READ = f"{DATA}/sites/kiln-lane-readings.csv"
COMMA = ("--csv-style", "decimal-comma")
DIGITS = (("_percent", 1), ("_db", 0.1), ("_dbm", 0.1), ("_probability", 0.01), ("_probability_before", 0.01), ("distance_m", 0.01),
          ("_m", 0.0001), ("_deg", 0.1), ("outage", 0.0001), ("weight", 0.01), ("leverage", 0.01))
THRESHOLDS = (("_percent", 40), ("_probability", 0.9))  # of the demo sites

RUNS = """# Invented, as the site is.
site: {site}
cases:
  - {{name: locker gone, remove: [/devices/parcel locker]}}
sweep:
  /hubs/hub/height_m: {{from: 1, to: 2, step: 0.25}}
  /storeys/ground/openings/street door/leaf: [steel door, timber door]
random: {{runs: 20, seed: 11}}
"""


def table(text, separator=","):
    return list(csv.reader(io.StringIO(text.removeprefix("\ufeff"), newline=""), delimiter=separator))


def number(text):
    try:
        return float(text)
    except ValueError:
        return None


def answers(folder):
    """Every command that writes CSV, without its style."""
    places = folder / "places.csv"
    places.write_text("profile,storey,x_m,y_m,height_m\nmotion,ground,2.25,2.5,2\nmotion,upper,3.75,2,1.5\n")
    return {
        "check": ("check", SITE), "check with readings": ("check", SITE, "--readings", READ), "all pairs": ("check", SITE, "--all-pairs"),
        "sites": ("check", SITE, KIOSK), "places": ("check", SITE, "--at", places), "explain": ("explain", SITE, "clay shed contact"),
        "coverage": ("coverage", KIOSK, "--step", "0.5"), "coverage with readings": ("coverage", SITE, "--step", "1", "--readings", READ),
        "relocate": ("relocate", SITE), "visit": ("visit", SITE), "place": ("place", KIOSK),
        "calibrate": ("calibrate", SITE, READ), "materials": ("materials",),
        "whatif": ("whatif", folder / "runs.yaml"), "whatif by device": ("whatif", folder / "runs.yaml", "--devices"),
    }


def check_rounded(name, shown, all_digits):
    """@return how many figures were compared"""
    expect(shown[0] == all_digits[0] and len(shown) == len(all_digits), f"{name}: another table with --precise")
    compared = 0
    for one, other in zip(shown[1:], all_digits[1:]):
        for key, short, whole in zip(shown[0], one, other):
            unit = next((digit for ending, digit in DIGITS if key.endswith(ending)), None)
            if unit is None or number(whole) is None:
                expect(short == whole, f"{name}: {key} '{short}' is '{whole}' with --precise")
                continue
            compared += 1
            figure, exact = number(short), number(whole)
            held = any(key.endswith(ending) and exact < limit <= figure for ending, limit in THRESHOLDS)
            expect(not held, f"{name}: {key} {whole} is rounded over the threshold: {short}")
            expect(abs(figure - exact) < unit * 1.0001, f"{name}: {key} {whole} became {short}")
            expect(abs(figure / unit - round(figure / unit)) < 1e-6, f"{name}: {key} {short} has more digits than are known")
    return compared


def check_styles(folder):
    figures = 0
    for name, words in answers(folder).items():
        plain = run(*words, "--format", "csv").stdout
        comma = run(*words, "--format", "csv", *COMMA).stdout
        precise = run(*words, "--format", "csv", "--precise").stdout
        expect(comma.startswith("\ufeff") and not plain.startswith("\ufeff"), f"{name}: the byte order mark")
        rows, others = table(plain), table(comma, ";")
        expect(all(" " not in key for key in rows[0]), f"{name}: a column with a blank: {rows[0]}")
        expect(rows[0] == others[0] and len(rows) == len(others), f"{name}: another table with decimal commas")
        for one, other in zip(rows[1:], others[1:]):
            for short, swapped in zip(one, other):
                same = short == swapped or (number(short) is not None and short == swapped.replace(",", "."))
                expect(same, f"{name}: '{short}' is '{swapped}' with decimal commas")
        expect("." in plain and not any(number(value) is not None and "." in value for row in others[1:] for value in row),
               f"{name}: a decimal point stayed")
        figures += check_rounded(name, rows, table(precise))
    expect(figures > 4000, f"only {figures} figures compared")
    for words in (("--format", "json", "--precise"), ("--precise",), COMMA, ("--format", "json", *COMMA)):
        said = run("check", SITE, *words, status=2).stderr
        expect("is for CSV" in said, "taken without CSV: " + said)
    expect("did you mean 'decimal-comma'?" in run("check", SITE, "--csv-style", "decimalcomma", status=2).stderr, "a slip")
    return figures


def filled(sheet, separator, mark):
    """A sheet with readings typed in."""
    rows = table(sheet, separator)
    column = rows[0].index("reading_percent")
    for place, row in enumerate(rows[1:7]):
        row[column] = f"{30 + 5 * place}.5".replace(".", mark)
    out = io.StringIO(newline="")
    csv.writer(out, delimiter=separator).writerows(rows)
    return out.getvalue()


def check_read_back(folder):
    point, comma = folder / "point.csv", folder / "comma.csv"
    point.write_text(filled(run("readings", SITE).stdout, ",", "."), encoding="utf-8")
    sheet = run("readings", SITE, *COMMA).stdout
    expect(sheet.startswith("\ufeffdevice;hub;"), "the sheet in the other style: " + sheet[:40])
    comma.write_text("\ufeff" + filled(sheet, ";", ","), encoding="utf-8")
    for words in (("check", SITE, "--readings"), ("calibrate", SITE)):
        one, other = run(*words, point, "--format", "json").stdout, run(*words, comma, "--format", "json").stdout
        expect(one == other and '"read_percent": 45.5' in one or words[0] == "calibrate" and one == other,
               f"{words[0]}: readings in the other style say something else")
    places = folder / "places-comma.csv"
    rows = table((folder / "places.csv").read_text())
    places.write_text("\ufeff" + "".join(";".join(row).replace(".", ",") + "\r\n" for row in rows), encoding="utf-8", newline="")
    expect(run("check", SITE, "--at", places, "--format", "csv").stdout ==
           run("check", SITE, "--at", folder / "places.csv", "--format", "csv").stdout, "places in the other style differ")


def check_devices(folder):
    """A row for each run and device; cut, taken up again and in shards the same bytes."""
    runs = folder / "runs.yaml"
    for style in ((), COMMA, ("--precise",)):
        whole = folder / "devices.csv"
        words = (runs, "--devices", "--output", whole, *style)
        summary = run("whatif", *words).stdout
        rows = table(whole.read_text(encoding="utf-8"), ";" if style == COMMA else ",")
        wide = {row["run"]: row for row in csv.DictReader(io.StringIO(run("whatif", runs, "--format", "csv").stdout))}
        keys = rows[0]
        expect(keys[-3:] == ["device", "reading_percent", "weak"], f"columns {keys}")
        expect("/storeys/ground/openings/street_door/leaf" in keys, f"columns {keys}")
        per_run = {}
        for row in rows[1:]:
            per_run.setdefault(row[0], []).append(row[-3:])
        expect(per_run.keys() == wide.keys() and len(per_run) == 420, f"{len(per_run)} runs")
        for number_of_run, devices in per_run.items():
            expect(len(devices) == 3, f"run {number_of_run} has {len(devices)} devices")
            weak = sum(weak == "true" for _, _, weak in devices)
            expect(weak == int(wide[number_of_run]["weak_count"]), f"run {number_of_run}: {weak} weak devices")
            percents = [float(percent.replace(",", ".")) for _, percent, _ in devices if percent]
            worst = float(wide[number_of_run]["worst_reading_percent"])
            expect(abs(min(percents) - worst) <= (0.5 if style == ("--precise",) else 0), f"run {number_of_run}: the lowest reading")
        expect(sum(percent == "" for devices in per_run.values() for _, percent, _ in devices) == 210, "devices that are gone")
        data = whole.read_bytes()
        journal(whole).write_text(journal(whole).read_text().replace("all rows are there\n", ""))
        whole.write_bytes(data[:len(data) // 2])
        expect(run("whatif", *words, "--resume").stdout == summary, "another summary after --resume")
        expect(whole.read_bytes() == data, "other bytes after --resume")
        other = ("--precise",) if style == () else ()
        said = run("whatif", runs, "--devices", "--output", whole, "--resume", *other, status=2).stderr
        expect("rows of other runs" in said, "another style is taken up: " + said)
        parts = [folder / f"part-{shard}.csv" for shard in (1, 2, 3)]
        for shard, part in enumerate(parts, 1):
            run("whatif", runs, "--devices", "--output", part, "--shard", f"{shard}/3", *style)
        merged = folder / "merged.csv"
        run("whatif", "--merge", *reversed(parts), "--output", merged)
        expect(merged.read_bytes() == data, "merged shards differ")
        parts[1].write_bytes(parts[1].read_bytes().rsplit(b"\n", 2)[0] + b"\n")
        said = run("whatif", "--merge", *parts, "--output", merged, status=2).stderr
        expect("part-2.csv" in said, "a row that is missing is not told: " + said)


def main():
    folder = pathlib.Path(WORK)
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    (folder / "runs.yaml").write_text(RUNS.format(site=KIOSK))
    figures = check_styles(folder)
    check_read_back(folder)
    check_devices(folder)
    print(f"{len(answers(folder))} answers in three styles, {figures} figures")


main()
