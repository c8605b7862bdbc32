"""Makes the reference values that tests/swatch_*.rs compare with.

Needs SciPy and NumPy (made with SciPy 1.17.1, Python 3.11). Run in this folder:

    python make.py

It writes oracle.json, from SciPy, NumPy, exact fractions and root finding only.
The text files here are data sets of the NIST Statistical Reference Datasets, univariate
summary statistics (https://www.itl.nist.gov/div898/strd/univ/homepage.html): lottery.txt, lew.txt,
mavro.txt and michelso.txt, one observation a line, as distributed with the tests of statrs 0.13.0.
The certified means and deviations below are NIST's; they are checked here with exact fractions, so
a slip in the data or in a certified value would stop the script.
"""

import itertools
import json
from fractions import Fraction
from math import isqrt, sqrt
from pathlib import Path

import numpy as np
from scipy import optimize, stats

HERE = Path(__file__).parent

# Certified mean and sample deviation: NIST StRD.
CERTIFIED = {
    "lottery": ("518.958715596330", "291.699727470969"),
    "lew": ("-177.435000000000", "277.332168044316"),
    "mavro": ("2.00185600000000", "0.000429123454003053"),
    "michelso": ("299.852400000000", "0.0790105478190518"),
}


def exact_summary(values):
    """Mean and sample deviation with 30 correct digits."""
    n = len(values)
    mean = sum(values) / n
    variance = sum((v - mean) ** 2 for v in values) / (n - 1)
    scale = 10**40
    return mean, Fraction(isqrt(int(variance * scale * scale)), scale)


def nist():
    out = {}
    for name, (mean, sd) in CERTIFIED.items():
        values = [Fraction(w) for w in (HERE / f"{name}.txt").read_text().split()]
        exact_mean, exact_sd = exact_summary(values)
        for certified, exact in ((mean, exact_mean), (sd, exact_sd)):
            assert abs(Fraction(certified) / exact - 1) < Fraction(1, 10**13), name
        out[name] = {"count": len(values), "mean": float(mean), "sd": float(sd)}
    return out


def t_table():
    freedoms = [1, 1.5, 2, 2.37, 3, 4, 5, 7.9, 10, 17.776, 30, 60.5, 120, 1000, 9999, 10001, 1e5, 1e7]
    return [{"df": df, "t": float(stats.t.ppf(0.975, df))} for df in freedoms]


def p_table():
    pairs = itertools.product([0.0, 0.3, -1.2, 2.5, 6.0], [1, 2.37, 8, 24.98, 200, 20_000])
    return [{"t": t, "df": df, "p": float(2 * stats.t.sf(abs(t), df))} for t, df in pairs]


# Counts over 10 cm, as a knitter might take them.
SAMPLES = [
    [22, 23],
    [22, 22.5, 23],
    [21.5, 22, 22, 23],
    [28, 30, 29.5, 29, 30.5],
    [20, 30],
    [22, 22.5, 22, 22.5, 23, 22, 22.5, 21.5],
]


def student(values):
    values = np.array(values, float)
    se = stats.sem(values)
    low, high = stats.t.interval(0.95, len(values) - 1, loc=values.mean(), scale=se)
    return {
        "counts": values.tolist(),
        "mean": float(values.mean()),
        "sd": float(values.std(ddof=1)),
        "se": float(se),
        "low": float(low),
        "high": float(high),
    }


def weighted(counts, lengths):
    """Counts over several lengths: a constant fitted by least squares, variance as 1/length."""
    c, l = np.array(counts, float), np.array(lengths, float)
    w = np.sqrt(l / l.mean())
    y = 10 * c / l
    beta, residual, _, _ = np.linalg.lstsq(w[:, None], w * y, rcond=None)
    s2 = residual[0] / (len(c) - 1)
    se = sqrt(s2 / (w**2).sum())
    low, high = stats.t.interval(0.95, len(c) - 1, loc=beta[0], scale=se)
    return {
        "counts": counts,
        "lengths": lengths,
        "mean": float(beta[0]),
        "sd": sqrt(s2),
        "se": se,
        "low": float(low),
        "high": float(high),
    }


def welch(first, second):
    r = stats.ttest_ind(second, first, equal_var=False)
    return {
        "first": first,
        "second": second,
        "t": float(r.statistic),
        "df": float(r.df),
        "p": float(r.pvalue),
    }


def ratio(first, second):
    """Delta method by numerical derivatives, Fieller's ends by root finding."""
    x, y = np.array(first, float), np.array(second, float)
    mx, my, sx, sy = x.mean(), y.mean(), stats.sem(x), stats.sem(y)
    f = lambda a, b: b / a
    h = 1e-5
    dx = (f(mx + h, my) - f(mx - h, my)) / (2 * h)
    dy = (f(mx, my + h) - f(mx, my - h)) / (2 * h)
    a, b = (dx * sx) ** 2, (dy * sy) ** 2
    df = (a + b) ** 2 / (a**2 / (len(x) - 1) + b**2 / (len(y) - 1))
    t = stats.t.ppf(0.975, df)
    g = lambda r: (my - r * mx) ** 2 - t**2 * (sy**2 + r**2 * sx**2)
    # Where does the sign change, from far below to far above?
    grid = np.concatenate([-np.logspace(3, -4, 4000), np.logspace(-4, 3, 4000)])
    roots = [
        optimize.brentq(g, p, q, xtol=1e-14) for p, q in zip(grid, grid[1:]) if g(p) * g(q) < 0
    ]
    kind = {(2, True): "between", (2, False): "outside", (0, True): "anything"}
    return {
        "first": first,
        "second": second,
        "ratio": my / mx,
        "se": sqrt(a + b),
        "df": df,
        "fieller": kind[len(roots), bool(g(my / mx) < 0) if len(roots) == 0 else g(1e6) > 0],
        "roots": roots,
    }


def more_counts(first, second):
    """How many more counts of each, all else alike, until it is settled; none up to 30: null.

    Settled: the 95 % interval of the difference leaves out zero, or lies within 2 % of the first.
    A deviation is never below that of reading to halves over 10 cm; a single count has the other
    sample's relative deviation.
    """
    x, y = np.array(first, float), np.array(second, float)
    mx, my = x.mean(), y.mean()
    sy = max(y.std(ddof=1), 0.25 / sqrt(3))
    sx = max(x.std(ddof=1), 0.25 / sqrt(3)) if len(x) > 1 else sy / my * mx
    for more in range(1, 31):
        n, m = len(x) + more, len(y) + more
        test = stats.ttest_ind_from_stats(my, sy, m, mx, sx, n, equal_var=False)
        a, b = sx**2 / n, sy**2 / m
        df = (a + b) ** 2 / (a**2 / (n - 1) + b**2 / (m - 1))
        half = stats.t.ppf(0.975, df) * sqrt(a + b)
        if test.pvalue < 0.05 or abs(my - mx) + half <= 0.02 * mx:
            return {"first": first, "second": second, "more": more}
    return {"first": first, "second": second, "more": None}


def modified_z(values):
    v = np.array(values, float)
    mad = stats.median_abs_deviation(v)
    return {"values": values, "scores": (0.6745 * (v - np.median(v)) / mad).tolist()}


def main():
    pairs = list(itertools.combinations(SAMPLES, 2))
    ratios = [*pairs, ([20, 30], [22, 23]), ([21, 25], [10, 50]), ([18, 28], [30, 31])]
    oracle = {
        "nist": nist(),
        "t_critical": t_table(),
        "two_sided_p": p_table(),
        "student": [student(s) for s in SAMPLES],
        "weighted": [
            weighted([22, 45, 33.5], [10, 20, 15]),
            weighted([11.5, 22, 34, 23], [5, 10, 15, 10.16]),
        ],
        "welch": [welch(a, b) for a, b in pairs],
        "ratio": [ratio(a, b) for a, b in ratios],
        "more_counts": [
            more_counts([22, 22.5, 23], [22.5, 23, 23.5]),
            more_counts([22, 23], [22, 23.5]),
            more_counts([22, 22.5, 22, 23], [22.5, 22, 22, 22.5]),
            more_counts([28, 30, 29.5], [29, 27, 31, 30]),
            more_counts([20, 26, 23], [23, 20, 26.5]),
            more_counts([22, 22, 22], [22.5, 22, 22]),
            more_counts([22], [22, 22.5, 22, 23]),
        ],
        "modified_z": [
            modified_z([22, 22.5, 23, 26]),
            modified_z([28, 31, 29.5, 29, 40, 30.5]),
            modified_z([199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57]),
        ],
    }
    (HERE / "oracle.json").write_text(json.dumps(oracle, indent=1) + "\n")


if __name__ == "__main__":
    main()
