"""Holds rician_cdf and its kin to SciPy's noncentral chi-square over a grid. Argument: the program rician_lines."""
import math
import subprocess
import sys

import numpy
from scipy import integrate, stats

TOLERANCE = 1e-8


def law(k_db):
    ratio = 0.0 if math.isinf(k_db) else 10 ** (k_db / 10)
    scale = 2 * (1 + ratio)
    return (stats.ncx2(2, 2 * ratio) if ratio > 0 else stats.chi2(2)), scale


def moments(k_db):
    """By quadrature of SciPy's density in the level."""
    distribution, scale = law(k_db)

    def density(level_db):
        power = 10 ** (level_db / 10)
        return distribution.pdf(scale * power) * scale * power * math.log(10) / 10

    levels = numpy.arange(-120, 30, 0.02)
    values = numpy.array([density(level) for level in levels])
    mean = integrate.simpson(values * levels, x=levels)
    return mean, math.sqrt(integrate.simpson(values * (levels - mean) ** 2, x=levels))


worst = {"chance": 0.0, "density, relative": 0.0, "moments in dB": 0.0}
points = 0
for line in subprocess.run([sys.argv[1]], check=True, capture_output=True, text=True).stdout.splitlines():
    kind, k_db, *numbers = line.split()
    k_db, numbers = float(k_db), [float(number) for number in numbers]
    distribution, scale = law(k_db)
    if kind == "moments":
        apart = max(abs(a - b) for a, b in zip(numbers, moments(k_db)))
        worst["moments in dB"] = max(worst["moments in dB"], apart)
        continue
    level_db, chance, density = numbers
    power = 10 ** (level_db / 10)
    points += 1
    worst["chance"] = max(worst["chance"], abs(chance - distribution.cdf(scale * power)))
    expected = distribution.pdf(scale * power) * scale * power * math.log(10) / 10
    if expected > 1e-30:  # beyond, SciPy's own density is off by per cents at single points
        worst["density, relative"] = max(worst["density, relative"], abs(density / expected - 1))

print(points, "points; worst:", worst)
sys.exit(0 if points == 15 * 201 and max(worst.values()) <= TOLERANCE else 1)
