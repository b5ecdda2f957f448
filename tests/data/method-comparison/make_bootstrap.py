# Percentile and BCa intervals by scipy.stats.bootstrap, with its replicates. /usr/bin/python3 make_bootstrap.py > bootstrap.json ; Debian's scipy 1.10.1
import json, sys
import numpy as np
from scipy import stats

rng = np.random.default_rng(31)

def slope(x, y):
    dx, dy = x - x.mean(), y - y.mean()
    sxx, syy, sxy = (dx * dx).sum(), (dy * dy).sum(), (dx * dy).sum()
    return (syy - sxx + np.sqrt((syy - sxx) ** 2 + 4 * sxy * sxy)) / (2 * sxy)

skew = np.round(np.exp(rng.standard_normal(25)), 3)
t = rng.uniform(1, 12, 30)
x, y = np.round(t * (1 + 0.05 * rng.standard_normal(30)), 3), np.round(0.2 + 1.1 * t * (1 + 0.05 * rng.standard_normal(30)), 3)
cases = []
for name, data, f in [("mean", (skew,), np.mean), ("variance", (skew,), lambda v: np.var(v, ddof=1)), ("Deming slope", (x, y), slope)]:
    entry = dict(name=name, data=[list(d) for d in data], estimate=float(f(*data)))
    n = len(data[0])
    entry["left_out"] = [float(f(*(np.delete(d, i) for d in data))) for i in range(n)]
    for method in ("percentile", "BCa"):
        for level in (0.95, 0.8):
            r = stats.bootstrap(data, f, paired=True, vectorized=False, n_resamples=499, confidence_level=level, method=method, random_state=7)
            entry["%s %g" % (method, level)] = [r.confidence_interval.low, r.confidence_interval.high]
            entry["replicates"] = list(r.bootstrap_distribution)
    cases.append(entry)
json.dump(cases, sys.stdout)
