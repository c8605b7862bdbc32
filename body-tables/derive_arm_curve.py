#!/usr/bin/env python3
"""Upper arm girth given chest girth, from the ANSUR II survey -> the [curve] of ansur2-*.toml.

usage: python3 derive_arm_curve.py SURVEY.csv F|M

SURVEY.csv holds the public ANSUR II rows (NATICK/TR-15/007) with the columns sex,
chestcircumference and bicepscircumferenceflexed, in mm. The rows are not shipped. Needs numpy.

The logarithm of the arm is a cubic of the chest, fitted by least squares. local_sd of the files is the root mean square of
the residuals of this curve in the bands of chest named there, with corners 4 or 5 cm apart, so that no
quantile falls as the chest grows. Why not a straight line:
its residuals widen with the chest (women's sd 13 mm at 78 cm, 27 mm at 106 cm) and men's arms bend
away from it, so that shares in a chest band came out wrong by up to 20 points.
"""
import csv
import sys

import numpy as np

CENTRE, SCALE, DEGREE = 1000.0, 100.0, 3
BANDS = {"F": [760, 840, 1040, 1100, 1160], "M": [840, 920, 1120, 1280]}


def main():
    path, sex = sys.argv[1:3]
    with open(path, newline="") as f:
        rows = [r for r in csv.DictReader(f) if r["sex"] == sex]
    chest = np.array([float(r["chestcircumference"]) for r in rows])
    arm = np.log([float(r["bicepscircumferenceflexed"]) for r in rows])
    x = np.vander((chest - CENTRE) / SCALE, DEGREE + 1, increasing=True)
    inverse = np.linalg.inv(x.T @ x)
    coefficients = inverse @ x.T @ arm
    residual = arm - x @ coefficients
    freedom = len(arm) - DEGREE - 1
    sd = np.sqrt(residual @ residual / freedom)
    total = arm - arm.mean()
    print(f"n = {len(arm)}")
    print(f"centre_mm = {CENTRE}\nscale_mm = {SCALE}")
    print("coefficients = [" + ", ".join(f"{c:.8f}" for c in coefficients) + "]")
    print(f"residual_sd = {sd:.8f}")
    for low, high in zip(BANDS[sex], BANDS[sex][1:]):
        here = residual[(chest >= low) & (chest < high)]
        print(f"# {low} to {high} mm: {np.sqrt(np.mean(here**2)):.4f} of {len(here)}")
    print(f"r2 = {1 - residual @ residual / (total @ total):.4f}")
    print("inverse = [")
    for line in inverse:
        print("  [" + ", ".join(f"{v:.10e}" for v in line) + "],")
    print("]")
    print(f"observed_mm = [{chest.min():.1f}, {chest.max():.1f}]")


if __name__ == "__main__":
    main()
