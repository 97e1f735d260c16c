#!/usr/bin/python3
"""The figures of map_fit_test.cpp that come from elsewhere: NumPy's linear algebra alone (Debian python3-numpy).

Run by hand or with -DLINKMARGIN_SCIPY=ON; prints what the test holds, and fails where it differs from EXPECTED.
"""
import sys

import numpy as np

# Five readings of two parameters, the priors and the weights of Student's t at the fit, found by fixed-point steps.
SLOPE = np.array([[1.0, 0.5], [1.0, 1.0], [1.0, 2.0], [1.0, 3.0], [1.0, 4.0]])
READ = np.array([1.0, 2.5, 2.0, 5.5, 30.0])
SIGMA = np.array([2.0, 2.0, 3.0, 2.0, 2.0])
COUNTED = np.array([2.5, 2.5, 3.0, 2.0, 4.0])
PRIOR = np.array([0.5, 1.0])
PRIOR_SIGMA = np.array([4.0, 1.0])
EXPECTED = """
0.928145
0.729849 1.397818
2.213623 -0.743266 -0.743266 0.445270
0.362378 0.269472 0.153218 0.623930 0.007380
1.233548 1.237553 1.162750 1.220549 0.029991
"""


def fit(scale):
    value = PRIOR.copy()
    for _ in range(5000):
        off = (READ - SLOPE @ value) / (scale * SIGMA)
        weight = 5 / (4 + off**2)
        worth = weight / (scale * COUNTED) ** 2
        hessian = SLOPE.T @ (worth[:, None] * SLOPE) + np.diag(PRIOR_SIGMA**-2)
        value = np.linalg.solve(hessian, SLOPE.T @ (worth * READ) + PRIOR / PRIOR_SIGMA**2)
    covariance = np.linalg.inv(hessian)
    leverage = worth * np.einsum("ij,jk,ik->i", SLOPE, covariance, SLOPE)
    return value, covariance, leverage, weight


def scale():
    value, _, leverage, _ = fit(1.0)
    off = (READ - SLOPE @ value) / SIGMA
    independent = ((SIGMA / COUNTED) ** 2).sum()
    free = independent - leverage.sum()
    grid = np.exp(np.linspace(np.log(0.01), np.log(100), 2_000_001))
    worst = np.argmax(np.abs(off))
    if abs(off[worst]) > 3:  # one far off shows nothing of the others
        off = np.delete(off, worst)
    squares = sum(2 * (x / grid) ** 2 / (1 + (x / grid) ** 2) for x in off) / len(off)
    x = np.linspace(-12, 12, 240_001)
    density = np.exp(-x * x / 2)
    mean = (density * 2 * x * x / (1 + x * x)).sum() / density.sum()
    found = grid[np.argmin(np.abs(squares - mean * free / independent))]
    return np.clip(np.sqrt((8 + free * found**2) / (8 + free)), 0.5, 1.5)


def main():
    at = scale()
    value, covariance, leverage, weight = fit(at)
    rows = [[at], value, covariance.ravel(), leverage, weight]
    text = "\n".join(" ".join(f"{x:.6f}" for x in row) for row in rows)
    print(text)
    sys.exit(0 if text == EXPECTED.strip() else 1)


main()
