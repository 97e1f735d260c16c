#!/usr/bin/python3
"""The figures of shadowing_regression_test.cpp that come from elsewhere: NumPy's linear algebra alone (Debian python3-numpy).

Run by hand or with -DLINKMARGIN_SCIPY=ON; prints what the test holds, and fails where it differs from EXPECTED.
"""
import sys

import numpy as np

# Three readings and three more links of one hub: where their devices are; local means of 4 dB, spots of 1 dB.
READ = np.array([[5.0, 2.0, 1.5], [6.0, 2.0, 1.5], [7.0, 6.0, 1.5]])
OFF = np.array([6.0, 4.0, -5.0])
ASKED = np.array([[5.0, 2.0, 1.5], [5.5, 2.5, 1.0], [2.0, 7.0, 1.5]])
LOCAL, SPOT = 4.0, 1.0
FREEDOM, LENGTH = 4, 2.0
LASTING = 0.866  # of what is alike, that is there another day too
EXPECTED = """
length 1.8340 share 1.00
shift 4.957771 3.083701 -0.056393
sigma 2.137607 3.201028 3.992555
"""


def apart(a, b):
    return np.linalg.norm(a[:, None, :] - b[None, :, :], axis=2)


def alike():
    """Length and share by least misfit of the products of residuals, as the docstrings of shadow_likeness say."""
    off = np.clip(OFF / np.hypot(LOCAL, SPOT), -3, 3)
    share = LOCAL**2 / (LOCAL**2 + SPOT**2)
    found = {}
    for i in range(len(OFF)):
        for j in range(i):
            distance = np.linalg.norm(READ[i] - READ[j])
            if distance < 8:
                found.setdefault(int(distance / 0.25), []).append((off[i] * off[j], share, distance))
    pairs = sum(len(of) for of in found.values())
    worth = min(1, len(OFF) / pairs)

    def misfit(length, local_share):
        total = np.log2(length / LENGTH) ** 2 + ((local_share - 1) / 0.2) ** 2
        for of in found.values():
            product, shares, distance = np.mean(of, axis=0)
            expected = local_share**2 * shares * np.exp(-distance / length)
            total += worth * len(of) * (product - expected) ** 2 / (1 + expected**2)
        return total

    grid = [(LENGTH * 2 ** (eighth / 8), percent / 100) for eighth in range(-24, 25) for percent in range(50, 101, 2)]
    return min(grid, key=lambda guess: misfit(*guess))


def main():
    length, share = alike()
    local = LOCAL * share
    spot2 = LOCAL**2 + SPOT**2 - local**2
    prior = local**2 * np.exp(-apart(READ, READ) / length)
    shared = LASTING * local**2 * np.exp(-apart(READ, ASKED) / length)
    shadow = np.zeros(len(OFF))
    for _ in range(5000):  # the weights of Student's t, by fixed-point steps
        weight = (FREEDOM + 1) / (FREEDOM + (OFF - shadow) ** 2 / spot2)
        covariance = prior + np.diag(spot2 / weight)
        solved = np.linalg.solve(covariance, OFF)
        shadow = prior @ solved
    shift = shared.T @ solved
    told = np.einsum("ij,ij->j", shared, np.linalg.solve(covariance, shared))
    sigma = np.sqrt(LOCAL**2 - told)
    rows = "\n".join(
        [
            f"length {length:.4f} share {share:.2f}",
            "shift " + " ".join(f"{value:.6f}" for value in shift),
            "sigma " + " ".join(f"{value:.6f}" for value in sigma),
        ]
    )
    print(rows)
    return 0 if rows.split() == EXPECTED.split() else 1


sys.exit(main())
