# Passing-Bablok by listing every slope as a ratio of whole numbers (Python's Fraction), and Theil-Sen by scipy. /usr/bin/python3 make_pair_slopes.py > pair_slopes.json
import json, math, sys
from fractions import Fraction
import numpy as np
from scipy import stats

Z = 1.959963984540054
rng = np.random.default_rng(8)

def passing_bablok(x, y):
    """Passing and Bablok 1983 as published, on the decimals as written."""
    X, Y, n = [Fraction(str(v)) for v in x], [Fraction(str(v)) for v in y], len(x)
    slopes = []
    for i in range(n):
        for j in range(i + 1, n):
            dx, dy = X[i] - X[j], Y[i] - Y[j]
            if dx == 0:
                if dy != 0:
                    slopes.append(math.inf)           # a vertical pair: beyond all others
            elif dy / dx != -1:
                slopes.append(dy / dx)
    slopes.sort()
    N, K = len(slopes), sum(s < -1 for s in slopes)
    above = slopes[K:]
    rank = lambda r: float(above[r - 1]) if 1 <= r <= len(above) else None
    C = Z * math.sqrt(n * (n - 1) * (2 * n + 5) / 18)
    m1 = round((N - C) / 2)
    m2 = N - m1 + 1
    b = rank((N + 1) // 2) if N % 2 else (rank(N // 2) + rank(N // 2 + 1)) / 2
    low, high = rank(m1), rank(m2)
    if low is None or high == math.inf:
        high = None
    med = lambda s: float(np.median(np.array(y) - s * np.array(x)))
    return dict(slope=b, low=low, high=high, intercept=med(b), intercept_low=None if high is None else med(high), intercept_high=None if low is None else med(low), slopes=N, below=K)

cases = []
def case(name, x, y, theil=True):
    x, y = [float(v) for v in x], [float(v) for v in y]
    entry = dict(name=name, x=x, y=y, passing_bablok=passing_bablok(x, y))
    if theil:
        t = stats.theilslopes(y, x, 0.95, method="joint")
        entry["theil_sen"] = dict(slope=t.slope, intercept=t.intercept, low=t.low_slope, high=t.high_slope)
    cases.append(entry)

flow = np.genfromtxt("bland_altman_1986_pefr.csv", delimiter=",", names=True)
case("peak flow", flow["wright_first_L_per_min"], flow["mini_wright_first_L_per_min"])
for n, places in [(5, 1), (20, 2), (47, 3), (100, 3), (151, 2)]:
    t = rng.uniform(1, 12, n)
    case("%d readings of %d decimals" % (n, places), np.round(t + 0.2 * rng.standard_normal(n), places), np.round(0.3 + 1.05 * t + 0.25 * rng.standard_normal(n), places), theil=places == 3)
t = rng.uniform(0.5, 3, 60)
case("coarse display, ties, verticals and identical points", np.round(t + 0.1 * rng.standard_normal(60), 1), np.round(1.02 * t + 0.1 * rng.standard_normal(60), 1), theil=False)
t = rng.integers(0, 6, 40)
case("five steps", t, np.clip(t + rng.integers(-1, 2, 40), 0, 9), theil=False)
# ties in x alone: scipy takes off those of x and of y, and there are none of y
x = np.repeat(np.arange(1, 11), 4)
case("four at each of ten days", x, np.round(8 - 0.037 * x + 0.01 * rng.standard_normal(40), 7))
json.dump(cases, sys.stdout, indent=1)
