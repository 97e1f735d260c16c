#!/usr/bin/python3
"""Exact fields at edges of metal, two-dimensional: a half plane lit by a line source, and slits by the method of moments.

usage: edges_scipy.py FOLDER          the tables half_plane_line_source.csv (all rows) and slits_moments.csv (a case of
                                      each width) in FOLDER against a fresh run
       edges_scipy.py --write FOLDER  both tables anew, a minute
"""
import csv
import itertools
import math
import pathlib
import sys

import numpy
from scipy.special import hankel2, jv

LIGHT = 299792458.0
EDGE_HZ = 868.3e6
SLIT_HZ = [838e6, 853e6, 868e6, 883e6, 898e6]
EDGE_LEGS_M = [(5, 4), (2, 4), (1, 4), (1, 2), (0.5, 3), (0.5, 1)]
BENDS_DEG = [10, 30, 60, 90, 120, 150]
WIDTHS_M, DISTANCES_M, BESIDE_M = [0.9, 1.8], [1, 2, 4], [0, 1.5, 4]
BEHIND_M, ALONG_M = [1.5, 4.5], [-4, -2, 0, 2, 4]
SAMPLES = (numpy.arange(8) + 0.5) / 8 - 0.5  # of a square of 1 m
EDGE_TOLERANCE_DB = EDGE_TOLERANCE_DEG = 0.005  # of rounding
SLIT_TOLERANCE_DB = 0.01
EULER = 0.5772156649015329


def edge_row(source_m, receiver_m, bend_deg):
    """Level and phase of the mean of both polarisations' fields, the term of the incident wave, over free space.

    The series of a wedge of no angle: J_m/2(k a) H_m/2(k b) cos(m psi / 2) (Bowman, Senior and Uslenghi, 1969, part 8)."""
    k = 2 * math.pi * EDGE_HZ / LIGHT
    near, far = sorted((source_m, receiver_m))
    order = numpy.arange(400)
    with numpy.errstate(all="ignore"):
        terms = jv(order / 2, k * near) * hankel2(order / 2, k * far)
    terms = numpy.where(numpy.isfinite(terms), terms, 0) * numpy.where(order == 0, 0.5, 1)
    field = numpy.sum(terms * numpy.cos(order * (math.pi + math.radians(bend_deg)) / 2))
    straight_m = math.sqrt(near**2 + far**2 + 2 * near * far * math.cos(math.radians(bend_deg)))
    over_free = field / hankel2(0, k * straight_m)
    return 20 * math.log10(abs(over_free)), math.degrees(math.atan2(over_free.imag, over_free.real))


def green(k, distance_m):
    return -0.25j * hankel2(0, k * distance_m)


def green_slope(k, distance_m):
    return 0.25j * k * hankel2(1, k * distance_m)


class Slit:
    """A slit along y, in the middle of an endless metal sheet at x = 0, and a line source at (-distance_m, -beside_m)."""

    def __init__(self, width_m, distance_m, beside_m, frequency_hz, cells_a_wave=100):
        self.k = k = 2 * math.pi * frequency_hz / LIGHT
        cells = math.ceil(width_m * frequency_hz / LIGHT * cells_a_wave)
        self.pitch = pitch = width_m / cells
        self.middles = pitch * (numpy.arange(cells) + 0.5) - width_m / 2
        self.nodes = pitch * numpy.arange(1, cells) - width_m / 2
        apart = numpy.abs(self.middles[:, None] - self.middles[None, :])
        gauss = pitch / 2 / math.sqrt(3)
        numpy.fill_diagonal(apart, pitch)
        inside = (green(k, apart - gauss) + green(k, apart + gauss)) / 2 * pitch
        numpy.fill_diagonal(inside, -0.25j * (1 - 2j / math.pi * (math.log(k * pitch / 4) + EULER - 1)) * pitch)
        # Field across the edges (hard): the slope q of the field in the slit makes 4 int G q = -2 u_source there.
        reach = numpy.hypot(distance_m, self.middles + beside_m)
        self.slope = numpy.linalg.solve(4 * inside, -2 * green(k, reach))
        # Field along the edges (soft): the field p in the slit, by triangles: 4 (d2/dy2 + k2) int G p = 2 du_source/dx.
        first, second = slice(None, -1), slice(1, None)
        value = (inside[:, first] + inside[:, second]) / 2
        slope = (inside[:, first] - inside[:, second]) / pitch
        system = slope[second] - slope[first] + k * k * pitch * (value[first] + value[second]) / 2
        reach = numpy.hypot(distance_m, self.nodes + beside_m)
        self.field = numpy.linalg.solve(4 * system, 2 * green_slope(k, reach) * distance_m / reach * pitch)

    def behind(self, x, y):
        """Soft and hard field."""
        reach = numpy.hypot(x[:, None], y[:, None] - self.nodes[None, :])
        soft = -2 * self.pitch * (green_slope(self.k, reach) * x[:, None] / reach) @ self.field
        reach = numpy.hypot(x[:, None], y[:, None] - self.middles[None, :])
        return soft, -2 * self.pitch * green(self.k, reach) @ self.slope


def slit_rows(width_m, distance_m, beside_m):
    """Mean power of squares of 1 m and of five frequencies over that of free space, in both polarisations."""
    slits = [Slit(width_m, distance_m, beside_m, frequency_hz) for frequency_hz in SLIT_HZ]
    for x_m, y_m in itertools.product(BEHIND_M, ALONG_M):
        x, y = (grid.ravel() for grid in numpy.meshgrid(x_m + SAMPLES, y_m + SAMPLES))
        soft = hard = free = 0.0
        for slit in slits:
            fields = slit.behind(x, y)
            soft += numpy.mean(abs(fields[0]) ** 2)
            hard += numpy.mean(abs(fields[1]) ** 2)
            free += numpy.mean(abs(green(slit.k, numpy.hypot(x + distance_m, y + beside_m))) ** 2)
        yield x_m, y_m, 10 * math.log10(soft / free), 10 * math.log10(hard / free)


def write(folder):
    with open(folder / "half_plane_line_source.csv", "w") as out:
        out.write("source_m,receiver_m,bend_deg,level_db,phase_deg,source,verified\n")
        for (source_m, receiver_m), bend_deg in itertools.product(EDGE_LEGS_M, BENDS_DEG):
            level_db, phase_deg = edge_row(source_m, receiver_m, bend_deg)
            out.write(f"{source_m},{receiver_m},{bend_deg},{level_db:.3f},{phase_deg:.2f},exact series of a half plane and a "
                      "line source; mean of both polarisations; 868.3 MHz,computed by tests/propagation/edges_scipy.py\n")
    with open(folder / "slits_moments.csv", "w") as out:
        out.write("width_m,distance_m,beside_m,x_m,y_m,soft_db,hard_db,source,verified\n")
        for width_m, distance_m, beside_m in itertools.product(WIDTHS_M, DISTANCES_M, BESIDE_M):
            for x_m, y_m, soft_db, hard_db in slit_rows(width_m, distance_m, beside_m):
                out.write(f"{width_m},{distance_m},{beside_m},{x_m},{y_m},{soft_db:.2f},{hard_db:.2f},method of moments; slit in a "
                          "thin endless metal sheet; mean of five frequencies 838-898 MHz,"
                          "computed by tests/propagation/edges_scipy.py\n")


def worst_of_edges(folder):
    worst = 0.0
    with open(folder / "half_plane_line_source.csv") as table:
        for row in csv.DictReader(table):
            level_db, phase_deg = edge_row(*(float(row[key]) for key in ("source_m", "receiver_m", "bend_deg")))
            turn_deg = (phase_deg - float(row["phase_deg"]) + 180) % 360 - 180
            worst = max(worst, abs(level_db - float(row["level_db"])), abs(turn_deg))
    return worst


def worst_of_slits(folder):
    worst, fresh = 0.0, {}
    with open(folder / "slits_moments.csv") as table:
        for row in csv.DictReader(table):
            case = tuple(float(row[key]) for key in ("width_m", "distance_m", "beside_m"))
            if case[1:] != (1, 1.5):
                continue
            if case not in fresh:
                fresh[case] = {(x, y): (soft, hard) for x, y, soft, hard in slit_rows(*case)}
            soft_db, hard_db = fresh[case][float(row["x_m"]), float(row["y_m"])]
            worst = max(worst, abs(soft_db - float(row["soft_db"])), abs(hard_db - float(row["hard_db"])))
    return worst


def main():
    if sys.argv[1] == "--write":
        write(pathlib.Path(sys.argv[2]))
        return
    folder = pathlib.Path(sys.argv[1])
    edges, slits = worst_of_edges(folder), worst_of_slits(folder)
    kept = edges <= EDGE_TOLERANCE_DEG + 1e-9 and slits <= SLIT_TOLERANCE_DB
    print(f"half plane: {edges:.4f} dB or degrees at most, slits: {slits:.4f} dB, {'kept' if kept else 'NOT KEPT'}")
    sys.exit(0 if kept else 1)


if __name__ == "__main__":
    main()
