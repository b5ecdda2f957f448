#!/usr/bin/python3
"""Quantiles, skewness and kurtosis of standardised error distributions (mean 0, sd 1; the scaled t with scale 1) with scipy 1.10.  usage: make_values.py > shapes.csv"""
import math
from scipy import stats

shapes = [("Normal", math.nan, stats.norm()), ("Rectangular", math.nan, stats.uniform(-1, 2)), ("Resolution", math.nan, stats.uniform(-1, 2)),
          ("Triangular", math.nan, stats.triang(0.5, -1, 2)), ("ArcSine", math.nan, stats.arcsine(-1, 2))]
shapes += [("Trapezoidal", b, stats.trapezoid((1 - b) / 2, (1 + b) / 2, -1, 2)) for b in (0.0, 0.2, 0.5, 0.9)]
shapes += [("Censored", b, stats.trapezoid(0, b)) for b in (0.0, 0.3, 0.8, 1.0)]
shapes += [("ScaledT", nu, stats.t(nu)) for nu in (2.5, 4, 5, 9.7, 40)]
print("shape,parameter,p,quantile,skewness,kurtosis")
for name, parameter, d in shapes:
    mean, sd = (0.0, 1.0) if name == "ScaledT" else (float(d.mean()), float(d.std()))
    skew, kurt = (float(v) for v in d.stats(moments="sk"))
    if name in ("Trapezoidal", "Censored"):
        # the closed raw moments of scipy's trapezoid, as stats() integrates numerically
        m = [float(d.moment(k)) for k in range(1, 5)]
        sd = math.sqrt(m[1] - m[0] ** 2)
        mean = m[0]
        skew = (m[2] - 3 * m[0] * m[1] + 2 * m[0] ** 3) / sd ** 3
        kurt = (m[3] - 4 * m[0] * m[2] + 6 * m[0] ** 2 * m[1] - 3 * m[0] ** 4) / sd ** 4 - 3
    if name == "ScaledT":
        skew, kurt = 0.0, (6 / (parameter - 4) if parameter > 4 else math.inf)
    for p in (1e-6, 0.001, 0.025, 0.1, 0.31, 0.5, 0.77, 0.975, 0.999):
        print(f"{name},{'' if math.isnan(parameter) else repr(float(parameter))},{p!r},{float((d.ppf(p) - mean) / sd)!r},{skew!r},{kurt + 3!r}")
