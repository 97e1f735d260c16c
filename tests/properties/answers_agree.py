"""One device in one state is told alike by every command that tells of it, on sites of the generator: check, its CSV, its rows for
several threads, explain, what-if, the map, place's present choice and the page.

usage: answers_agree.py PROGRAM RANDOM_SITE WORK_FOLDER [SITES]
"""
import csv
import html
import io
import json
import pathlib
import re
import shutil
import subprocess
import sys

PROGRAM, RANDOM_SITE, WORK = sys.argv[1], sys.argv[2], pathlib.Path(sys.argv[3])
SITES = int(sys.argv[4]) if len(sys.argv) > 4 else 40
PAGES = 8  # of the sites: a page takes a second
FIGURE = 1e-6
CELL_PERCENT = 0.06  # cells are rounded in JSON


def run(*words):
    done = subprocess.run([PROGRAM, *map(str, words)], capture_output=True, text=True)
    if done.returncode != 0:
        sys.exit(f"{words}: status {done.returncode}\n{done.stderr}")
    return done.stdout


def as_json(*words):
    return json.loads(run(*words, "--format", "json"))


def whole(percent, threshold):
    """As people read it: never over to the other side of the threshold."""
    nearest = int(percent + 0.5)
    return -int(-threshold // 1) - 1 if percent < threshold <= nearest else nearest


def chance(probability):
    return "over 99 in 100" if probability > 0.99 else "under 1 in 100" if probability < 0.01 else \
        f"{min(99, max(1, whole(100 * probability, 90)))} in 100"


class Site:
    def __init__(self, seed):
        self.seed = seed
        self.file = WORK / f"site-{seed}.yaml"
        self.file.write_text(subprocess.run([RANDOM_SITE, str(seed)], capture_output=True, text=True, check=True).stdout)
        self.check = as_json("check", self.file)
        self.links = {link["device"]: link for link in self.check["links"]}
        self.threshold = self.check["weak_below_percent"]

    def expect(self, holds, what):
        if not holds:
            sys.exit(f"seed {self.seed}: {what}")

    def same(self, one, other, what, within=FIGURE):
        self.expect(abs(one - other) <= within, f"{what}: {one}, check {other}")

    def check_threads(self):
        for threads in (1, 3):
            self.expect(as_json("check", self.file, "--threads", threads) == self.check, f"{threads} threads say something else")

    def check_csv(self):
        rows = list(csv.DictReader(io.StringIO(run("check", self.file, "--format", "csv", "--precise"))))
        for row in rows:
            link = self.links.get(row["device"])
            if link is None:
                continue  # a repeater
            for key in ("reading_percent", "level_dbm", "pass_probability", "sigma_db"):
                self.expect(float(row[key]) == link[key], f"CSV: {row['device']}: {key}")

    def check_explain(self):
        for name, link in self.links.items():
            said = as_json("explain", self.file, name)
            for key, value in link.items():
                self.expect(said[key] == value, f"explain: {name}: {key}")

    def hub_height(self):
        return re.search(r"^  hub: .* height_m: ([.\d]+)", self.file.read_text(), re.M)[1]

    def check_what_if(self):
        runs = WORK / "runs.yaml"
        runs.write_text(f"site: {self.file}\ncases:\n  - {{name: as it is, set: {{/hubs/hub/height_m: {self.hub_height()}}}}}\n")
        rows = csv.DictReader(io.StringIO(run("whatif", runs, "--devices", "--format", "csv", "--precise")))
        for row in rows:
            link = self.links[row["device"]]
            self.same(float(row["reading_percent"]), link["reading_percent"], f"what-if: {row['device']}")
            self.expect((row["weak"] == "true") == link["weak"], f"what-if: {row['device']}: weak")

    def check_map(self):
        """A map whose step puts a device into the middle of a cell, where there is such a step."""
        text = self.file.read_text()
        if "relay:" in text:
            return 0  # a map knows no slots of repeaters
        for name, link in self.links.items():
            found = re.search(rf"^  {name}: {{profile: (\w+), storey: (\w+), at_m: \[([-.\d]+), ([-.\d]+)\], "
                              r"height_m: ([.\d]+)}", text, re.M)
            if found is None:
                continue  # a mount of its own
            profile, storey, x, y, height = found.groups()
            asked = ("coverage", self.file, "--profile", profile, "--storey", storey, "--height", height, "--step")
            origin = as_json(*asked, 1)["origin_m"]
            far = [round(16 * (float(at) - start)) for at, start in zip((x, y), origin)]
            twos = [sixteenths & -sixteenths for sixteenths in far]
            if min(far) <= 0 or twos[0] != twos[1]:
                continue
            cells = as_json(*asked, twos[0] / 8)
            column, row = (sixteenths // (2 * twos[0]) for sixteenths in far)
            percent = cells["cells"][row * cells["columns"] + column]
            self.same(percent, link["reading_percent"], f"map: {name}", CELL_PERCENT)
            return 1
        return 0

    def check_place(self):
        present = as_json("place", self.file, "--anywhere", "--doors", "armed", "--step", 2)["present"]
        for link in present["links"]:
            self.same(link["pass_probability"], self.links[link["device"]]["pass_probability"], f"place: {link['device']}")
            self.same(link["reading_percent"], self.links[link["device"]]["reading_percent"], f"place: {link['device']}")

    def check_page(self):
        page = WORK / "page.html"
        run("report", self.file, "--language", "en", "--for", "file", "--try", "none", "--output", page)
        rows = re.findall(r'<tr data-device="[^"]*"><th scope="row">.*?<bdi>(.*?)</bdi></a></th>(.*?)</tr>', page.read_text(), re.S)
        self.expect(len(rows) >= len(self.links), "the page has fewer rows than devices")
        for name, cells in rows:
            link = self.links[html.unescape(name)]
            figures = [html.unescape(re.sub(r"<.*?>", "", cell)).strip() for cell in re.findall(r"<td[^>]*>(.*?)</td>", cells, re.S)]
            wanted = [f"{whole(link['reading_percent'], self.threshold)} %", chance(link["pass_probability"])]
            self.expect([figure.replace("\u00a0", " ") for figure in figures[:2]] == wanted, f"page: {name}: {figures}, check {wanted}")


def main():
    shutil.rmtree(WORK, ignore_errors=True)
    WORK.mkdir(parents=True)
    links = cells = 0
    for seed in range(1, SITES + 1):
        site = Site(seed)
        links += len(site.links)
        site.check_threads()
        site.check_csv()
        site.check_explain()
        site.check_what_if()
        cells += site.check_map()
        site.check_place()
        if seed <= PAGES:
            site.check_page()
    if cells < SITES // 6:
        sys.exit(f"only {cells} devices were found on a map")
    print(f"{SITES} sites, {links} links, {cells} cells of maps, {PAGES} pages agree")


main()
