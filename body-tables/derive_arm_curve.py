#!/usr/bin/env python3
"""Upper arm girth given chest girth, from the ANSUR II survey -> the [curve] of ansur2-*.toml.

usage: python3 derive_arm_curve.py SURVEY.csv F|M

SURVEY.csv holds the public ANSUR II rows (NATICK/TR-15/007) with the columns sex,
chestcircumference and bicepscircumferenceflexed, in mm. The rows are not shipped. Needs numpy.

The logarithm of the arm is a cubic of the chest, fitted by least squares. Why not a straight line:
its residuals widen with the chest (women's sd 13 mm at 78 cm, 27 mm at 106 cm) and men's arms bend
away from it, so that shares in a chest band came out wrong by up to 20 points.
"""
import csv
import sys

import numpy as np

CENTRE, SCALE, DEGREE = 1000.0, 100.0, 3


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
    print(f"r2 = {1 - residual @ residual / (total @ total):.4f}")
    print("inverse = [")
    for line in inverse:
        print("  [" + ", ".join(f"{v:.10e}" for v in line) + "],")
    print("]")
    print(f"observed_mm = [{chest.min():.1f}, {chest.max():.1f}]")


if __name__ == "__main__":
    main()
