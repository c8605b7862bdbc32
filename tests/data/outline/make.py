"""Makes the reference values that tests/outline_curve.rs compares with.

Needs SciPy and NumPy (made with SciPy 1.17.1, NumPy 2.4.6, Python 3.11). Run in this folder:

    python make.py

It writes pchip.json: for each set of points the values and slopes of SciPy's PchipInterpolator at
places inside it, and the arc length by adaptive quadrature over each piece.
"""

import json
from pathlib import Path

import numpy as np
from scipy.integrate import quad
from scipy.interpolate import PchipInterpolator

HERE = Path(__file__).parent

# Depth and half width of a synthetic cap: row pairs two rows of 1/3 cm apart, stitches of 5/11 cm,
# an odd row at the top.
ROW, STITCH = 1 / 3, 5 / 11
PAIRS = [9.5, 11, 13, 14.5, 15.5, 16.5, 17.5, 18, 18.5, 19.5, 20.5, 22.5, 24.5, 27]
CAP_X = [0.0, ROW / 2] + [(2 * i + 2) * ROW for i in range(len(PAIRS))] + [(2 * len(PAIRS) + 1) * ROW]
CAP_Y = [STITCH * n for n in [7, 8, *PAIRS, 27]]

SETS = {
    # A well known steep set of nine points (RPN 14), from memory; only SciPy's curve through it matters.
    "rpn14": ([7.99, 8.09, 8.19, 8.7, 9.2, 10, 12, 15, 20],
              [0, 2.76429e-5, 4.37498e-2, 0.169183, 0.469428, 0.943740, 0.998636, 0.999919, 0.999994]),
    "cap": (CAP_X, CAP_Y),
    "two_points": ([0, 2], [1, 5]),
    "three_points": ([0, 1, 3], [0, 4, 5]),
    "turning": ([0, 1, 2, 3.5, 4], [0, 3, 3, -1, 2]),
    "flat_ends": ([0, 0.5, 2, 3, 7], [1, 1, 4, 6, 6]),
    "steep_end": ([0, 1, 1.1, 4], [0, 0.1, 8, 7]),
}


def reference(x, y):
    curve = PchipInterpolator(x, y)
    slope = curve.derivative()
    inside = [f * a + (1 - f) * b for a, b in zip(x, x[1:]) for f in (0.9, 0.5, 0.15)]
    places = sorted([*x, *inside])
    # Between points only: at a point the slope is the same from both sides.
    length = sum(quad(lambda t: np.sqrt(1 + slope(t) ** 2), a, b, epsabs=1e-13, epsrel=1e-13)[0]
                 for a, b in zip(x, x[1:]))
    return {
        "x": list(map(float, x)),
        "y": list(map(float, y)),
        "places": places,
        "values": [float(curve(p)) for p in places],
        "slopes": [float(slope(p)) for p in places],
        "arc_length": float(length),
    }


def main():
    sets = {name: reference(x, y) for name, (x, y) in SETS.items()}
    (HERE / "pchip.json").write_text(json.dumps(sets, indent=1) + "\n")


main()
