#!/usr/bin/python3
"""A half-wave dipole 2 cm before an endless sheet by the method of moments (nec2c), against the program.

Resonant dipole of 0.1607 m, copper wire 1 mm in radius, 41 segments, 868 MHz. The loss is what the sheet takes from the
mean power in front of it, mismatch to 73 ohm and copper counted, over the same dipole in free space. usage: dipole.py
PROGRAM
"""
import math
import pathlib
import subprocess
import sys
import tempfile

from comparison import Verdict, ask

FREQUENCY_MHZ = 868.0
WAVELENGTH_M = 299.792458 / FREQUENCY_MHZ
LENGTH_M = 0.1607
SEGMENTS = 41
LIMIT_DB = 0.1


def deck(gap_m):
    """The solver's input; without a gap, the dipole in free space."""
    height = 0.0 if gap_m is None else gap_m
    ground = "GE 0\n" if gap_m is None else "GE 1\nGN 1\n"
    return ("CE\n"
            f"GW 1 {SEGMENTS} {-LENGTH_M / 2} 0 {height} {LENGTH_M / 2} 0 {height} 0.001\n"
            f"{ground}LD 5 0 0 0 5.8e7\nFR 0 1 0 0 {FREQUENCY_MHZ} 0\nEX 0 1 {SEGMENTS // 2 + 1} 0 1 0\n"
            f"RP 0 {37 if gap_m is None else 19} 72 1000 0 0 5 5\nEN\n")


def solve(gap_m):
    """Output lines of the solver."""
    with tempfile.TemporaryDirectory() as folder:
        given, made = pathlib.Path(folder) / "deck.nec", pathlib.Path(folder) / "out.txt"
        given.write_text(deck(gap_m))
        subprocess.run(["nec2c", "-i", given, "-o", made], check=True, capture_output=True)
        return made.read_text().splitlines()


def numbers(line):
    try:
        return [float(word) for word in line.split()[:5]]
    except ValueError:
        return []


def impedance(lines):
    for index, line in enumerate(lines):
        if "ANTENNA INPUT PARAMETERS" in line:
            for following in lines[index + 1:index + 8]:
                cells = following.split()
                if len(cells) >= 11 and cells[0].isdigit():
                    return complex(float(cells[6]), float(cells[7]))
    sys.exit("no impedance in the solver's output")


def mean_gain_db(lines, most_deg):
    """Mean over the directions up to an angle from the axis across the sheet, each ring by its solid angle."""
    rings = {}
    start = next(i for i, line in enumerate(lines) if "RADIATION PATTERNS" in line)
    for line in lines[start:]:
        cells = numbers(line)
        if len(cells) >= 5 and cells[0] <= most_deg:
            rings.setdefault(cells[0], []).append(10 ** (cells[4] / 10) if cells[4] > -900 else 0.0)
    total = solid = 0.0
    for angle, gains in rings.items():
        top = max(angle - 2.5, 0)
        bottom = min(angle + 2.5, most_deg)
        share = math.cos(math.radians(top)) - math.cos(math.radians(bottom))
        total += share * sum(gains) / len(gains)
        solid += share
    return 10 * math.log10(total / solid)


def realised_db(gap_m, most_deg):
    lines = solve(gap_m)
    z = impedance(lines)
    reflection = abs((z - 73) / (z + 73))
    return mean_gain_db(lines, most_deg) + 10 * math.log10(1 - reflection**2)


def main():
    verdict = Verdict()
    for gap_m in (0.01, 0.02, 0.04):
        loss_db = realised_db(None, 180) - realised_db(gap_m, 90)
        answer = ask(sys.argv[1], [["metal", gap_m / WAVELENGTH_M]])[0]
        verdict.compare(f"dipole {gap_m} m before a sheet", answer, loss_db, LIMIT_DB)
    verdict.finish()


if __name__ == "__main__":
    main()
