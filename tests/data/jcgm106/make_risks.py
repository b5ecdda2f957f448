#!/usr/bin/python3
"""Global risks of JCGM 106:2012, clause 9, for a normal prior and a normal measurement, as double integrals with mpmath at 40 digits.  usage: make_risks.py > global_risks.csv

 R_C = P(quantity outside its tolerance, measured value accepted), R_P = P(quantity inside, measured value not accepted)
"""
from mpmath import mp, mpf, quad, npdf, ncdf, inf

mp.dps = 40
cases = [  # prior mean, prior sd, u, tolerance, acceptance
    (1500, 0.12, 0.04, 1499.8, 1500.2, 1499.8, 1500.2),
    (1500, 0.12, 0.04, 1499.8, 1500.2, 1499.88, 1500.12),
    (1500, 0.12, 0.04, 1499.8, 1500.2, 1499.75, 1500.25),
    (0.3, 1, 0.5, -2, 2, -1.5, 1.5),
    (0, 1, 2, -2, 2, -2, 2),
    (0, 1, 0.01, -2, 2, -1.99, 1.99),
    (50, 3, 1, -inf, 55, -inf, 53),
    (50, 3, 1, 46, inf, 48, inf),
    (12, 2, 1.5, 9, 10, 9.2, 9.8),
]

def integrate(f, a, b, points):
    cuts = sorted({p for p in points if a < p < b})
    return quad(f, [a, *cuts, b])

print("prior_mean,prior_sd,u,T_lower,T_upper,A_lower,A_upper,conforming,consumers,producers")
for row in cases:
    m, s, u, tl, tu, al, au = (v if abs(v) == inf else mpf(str(v)) for v in row)
    density = lambda x: npdf(x, m, s)
    accepted = lambda x: (ncdf((au - x) / u) if au != inf else 1) - (ncdf((al - x) / u) if al != -inf else 0)
    rejected = lambda x: (ncdf((x - au) / u) if au != inf else 0) + (ncdf((al - x) / u) if al != -inf else 0)
    lo, hi = m - 14 * s, m + 14 * s
    points = [m + k * s for k in range(-13, 14)] + [a + k * u for a in (al, au) if abs(a) != inf for k in range(-12, 13)]
    low, high = max(lo, tl), min(hi, tu)
    consumers = (integrate(lambda x: density(x) * accepted(x), lo, low, points) if tl != -inf else 0) + (integrate(lambda x: density(x) * accepted(x), high, hi, points) if tu != inf else 0)
    producers = integrate(lambda x: density(x) * rejected(x), low, high, points)
    conforming = (ncdf((tu - m) / s) if tu != inf else 1) - (ncdf((tl - m) / s) if tl != -inf else 0)
    text = lambda v: ("-Infinity" if v < 0 else "Infinity") if abs(v) == inf else mp.nstr(v, 17)
    print(",".join([text(v) for v in (m, s, u, tl, tu, al, au)] + [mp.nstr(v, 20) for v in (conforming, consumers, producers)]))
