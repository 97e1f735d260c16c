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
2.991477
1.082719 1.202262
7.273670 -0.892629 -0.892629 0.808832
0.146650 0.140692 0.106952 0.319709 0.022560
1.245931 1.249597 1.241476 1.244291 0.247075
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
    squares = sum(5 * (x / grid) ** 2 / (4 + (x / grid) ** 2) for x in off)
    x = np.linspace(-12, 12, 240_001)
    density = np.exp(-x * x / 2)
    mean = (density * 5 * x * x / (4 + x * x)).sum() / density.sum()
    found = grid[np.argmin(np.abs(squares / len(READ) * independent / free - mean))]
    return np.sqrt((8 + free * found**2) / (8 + free))


def main():
    at = scale()
    value, covariance, leverage, weight = fit(at)
    rows = [[at], value, covariance.ravel(), leverage, weight]
    text = "\n".join(" ".join(f"{x:.6f}" for x in row) for row in rows)
    print(text)
    sys.exit(0 if text == EXPECTED.strip() else 1)


main()
