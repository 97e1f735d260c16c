#!/usr/bin/python3
"""Doorways in metal and brick walls, and rooms in a row, by two-dimensional FDTD (Meep).

A line source (field upright) before a wall or in a room; the mean power of each square of 1 m against free space over
the same square, at 868 MHz and as the mean of five frequencies.
usage: doorways.py PROGRAM              one doorway afresh at 50 pixels a metre, against the program
       doorways.py --table PIXELS CASE  rows as in tests/published/doorways_fdtd.csv
"""
import math
import sys
from typing import NamedTuple

import meep
import numpy

from comparison import ask

LIGHT = 299792458.0
FREE_SPACE_OHM = 376.730313668
FREQUENCIES_HZ = [838e6, 853e6, 868e6, 883e6, 898e6]
WIDTH_M, DEPTH_M, PML_M = 10.0, 8.0, 1.0
BEYOND_M = PML_M + 4  # endless walls go on through the absorbing edge
BRICK = meep.Medium(epsilon=3.91, D_conductivity=0.0233 * FREE_SPACE_OHM / 3.91)
CONCRETE = meep.Medium(epsilon=5.24, D_conductivity=0.0462 * 0.868**0.7822 * FREE_SPACE_OHM / 5.24)
HALF_PIXEL_M = 0.5 / 60  # off the nodes, at which conductivity is sampled


class Plane(NamedTuple):
    """What is computed, from (0, 0) on, and the middles of the squares that are asked for."""
    width_m: float
    depth_m: float
    columns: list
    rows: list


ROWS = [y + 0.5 for y in range(8)]
WHOLE = Plane(WIDTH_M, DEPTH_M, [x + 0.5 for x in range(10)], ROWS)
BESIDE = Plane(WIDTH_M, DEPTH_M, [x + 0.5 for x in range(10) if x != 5], ROWS)  # none over an endless wall


def upright(x0, y0, x1, y1, doorways, material):
    """Pieces (x0, y0, x1, y1, material) of a wall along y with doorways (y0, y1)."""
    pieces, y = [], y0
    for start, end in doorways:
        pieces.append((x0, y, x1, start, material))
        y = end
    return pieces + [(x0, y, x1, y1, material)]


def endless(x0, x1, doorways, material):
    return upright(x0, -BEYOND_M, x1, DEPTH_M + BEYOND_M, doorways, material)


def metal_room():
    """4 m x 3 m inside, sheets of 0.04 m, one doorway to the left."""
    sheet = [(3.96, 1.96, 4.00, 3.05), (3.96, 3.95, 4.00, 5.04), (8.00, 1.96, 8.04, 5.04), (4.00, 1.96, 8.00, 2.00),
             (4.00, 5.00, 8.00, 5.04)]
    return [piece + (meep.metal,) for piece in sheet]


def sheet(*doorways):
    return endless(5.48, 5.52, doorways, meep.metal)


def brick(*doorways):
    return endless(5.45 + HALF_PIXEL_M, 5.55 + HALF_PIXEL_M, doorways, BRICK)


def rooms_in_a_row(lines, thickness, material, doorways):
    """A case of square rooms of 4 m inside, by the centre lines of their walls: x of every wall along y; y of the two
    walls along x, which are the first two of the same numbers; doorways (y0, y1) by the x of their wall."""
    half = thickness / 2
    near, far, low, high = (HALF_PIXEL_M + at for at in (-half, half, lines[0] - half, lines[1] + half))
    walls = [(lines[0] + near, y + near, lines[-1] + far, y + far, material) for y in lines[:2]]
    for x in lines:
        open_at = [(start + HALF_PIXEL_M, end + HALF_PIXEL_M) for start, end in doorways.get(x, [])]
        walls += upright(x + near, low, x + far, high, open_at, material)
    metres = [half + 0.5 + metre for metre in range(4)]
    columns = [x + metre for x in lines[:-1] for metre in metres]
    return walls, (2.5, 2.3), 200, Plane(15.0, 6.0, columns, columns[:4])


# walls, source, how long to go on after the pulse (in metres of light's way), plane
CASES = {
    "metal wall with a doorway": (sheet((2.80, 3.65)), (1.83, 1.57), 60, BESIDE),
    "doorway at 45 degrees": (sheet((3.05, 3.95)), (3.0, 1.0), 60, BESIDE),
    "two doorways": (sheet((2.05, 2.95), (5.05, 5.95)), (2.5, 3.2), 60, BESIDE),
    "doorway of 2 m": (sheet((3.0, 5.0)), (2.5, 2.0), 60, BESIDE),
    "source 1 m from the wall and 1.5 m beside": (sheet((3.55, 4.45)), (4.5, 2.5), 60, BESIDE),
    "source 1 m before the doorway": (sheet((3.55, 4.45)), (4.5, 4.0), 60, BESIDE),
    "metal room from outside": (metal_room(), (1.5, 2.3), 500, WHOLE),
    "metal room from inside": (metal_room(), (6.7, 3.9), 500, WHOLE),
    "brick wall": (brick(), (2.6, 1.7), 60, BESIDE),
    "brick wall with a doorway": (brick((3.05, 3.95)), (2.6, 1.7), 60, BESIDE),
    "brick rooms in a row": rooms_in_a_row((0.95, 5.05, 9.15, 13.25), 0.1, BRICK, {}),
    "brick rooms with doorways": rooms_in_a_row((0.95, 5.05, 9.15, 13.25), 0.1, BRICK,
                                                {5.05: [(1.5, 2.4)], 9.15: [(3.6, 4.5)]}),
    "thick walls in a row": rooms_in_a_row((0.9, 5.1, 9.3, 13.5), 0.2, CONCRETE, {}),
}


def power(plane, walls, source, pixels_per_m, until):
    """Coordinates and the power at each frequency over the whole plane."""
    width, depth = plane.width_m, plane.depth_m
    blocks = [meep.Block(size=meep.Vector3(x1 - x0, y1 - y0, meep.inf),
                         center=meep.Vector3((x0 + x1 - width) / 2, (y0 + y1 - depth) / 2), material=material)
              for x0, y0, x1, y1, material in walls]
    waves = [frequency / LIGHT for frequency in FREQUENCIES_HZ]
    simulation = meep.Simulation(
        cell_size=meep.Vector3(width + 2 * PML_M, depth + 2 * PML_M), resolution=pixels_per_m,
        boundary_layers=[meep.PML(PML_M)], geometry=blocks,
        sources=[meep.Source(meep.GaussianSource(waves[2], fwidth=0.15 * waves[2]), component=meep.Ez,
                             center=meep.Vector3(source[0] - width / 2, source[1] - depth / 2))])
    fields = simulation.add_dft_fields([meep.Ez], waves, center=meep.Vector3(), size=meep.Vector3(width, depth))
    simulation.run(until_after_sources=until)
    x, y, _, _ = simulation.get_array_metadata(dft_cell=fields)
    return (numpy.array(x) + width / 2, numpy.array(y) + depth / 2,
            numpy.array([abs(simulation.get_dft_array(fields, meep.Ez, i)) ** 2 for i in range(len(waves))]))


def squares(case, pixels_per_m):
    """(x, y, gain at 868 MHz, mean gain) of each square; none round the source."""
    walls, source, until, plane = CASES[case]
    x, y, with_walls = power(plane, walls, source, pixels_per_m, until)
    _, _, free = power(plane, [], source, pixels_per_m, 40)
    grid_x, grid_y = numpy.meshgrid(x, y, indexing="ij")
    clear = numpy.ones_like(grid_x, bool)
    for x0, y0, x1, y1, _ in walls:
        clear &= ~((grid_x > x0 - 1e-9) & (grid_x < x1 + 1e-9) & (grid_y > y0 - 1e-9) & (grid_y < y1 + 1e-9))
    for middle_x in plane.columns:
        for middle_y in plane.rows:
            if abs(middle_x - source[0]) < 0.9 and abs(middle_y - source[1]) < 0.9:
                continue
            inside = (abs(grid_x - middle_x) < 0.5) & (abs(grid_y - middle_y) < 0.5) & clear
            ratio = with_walls[:, inside].mean(axis=1) / free[:, inside].mean(axis=1)
            yield middle_x, middle_y, 10 * math.log10(ratio[2]), 10 * math.log10(ratio.mean())


def compare(program):
    case = "metal wall with a doorway"
    behind = [square for square in squares(case, 50) if square[0] > 6]
    answers = ask(program, [["square", case, x, y] for x, y, _, _ in behind])
    apart = [answer - square[3] for answer, square in zip(answers, behind)]
    mean = sum(apart) / len(apart)
    rms = math.sqrt(sum(value**2 for value in apart) / len(apart))
    kept = rms <= 2 and abs(mean) <= 1
    print(f"{case}, {len(apart)} squares behind the wall, 50 px/m: program over solver {mean:+.2f} dB in the mean "
          f"(limit 1), {rms:.2f} dB rms (limit 2), {'kept' if kept else 'NOT KEPT'}")
    sys.exit(0 if kept else 1)


def main():
    meep.verbosity(0)
    if sys.argv[1] != "--table":
        compare(sys.argv[1])
    for x, y, at_868, mean in squares(sys.argv[3], int(sys.argv[2])):
        print(f"{sys.argv[3]},{x:.1f},{y:.1f},{at_868:.3f},{mean:.3f},2-D FDTD (Meep 1.25) {sys.argv[2]} px/m; Ez; "
              "868 MHz and mean of 5 frequencies 838-898 MHz,computed by a general-purpose solver")


if __name__ == "__main__":
    main()
