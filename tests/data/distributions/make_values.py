"""Prints the two wide tables beside this file: python3 make_values.py (Python 3.11, scipy 1.10.1, numpy 1.24.2)."""
import csv
import math
import os

import numpy as np
from scipy import special

here = os.path.dirname(os.path.abspath(__file__))


def noncentral_t(t, dof, delta):
    """Poisson mixture of incomplete beta functions (Lenth 1989, AS 243, equation 1), summed exactly."""
    if t < 0:
        return 1 - noncentral_t(-t, dof, -delta)
    x = t * t / (dof + t * t)
    half = delta * delta / 2
    top = int(half + 12 * math.sqrt(half) + 60)
    j = np.arange(top + 1)
    log = -half + (j * math.log(half) if half > 0 else np.where(j == 0, 0.0, -np.inf))
    p = np.exp(log - special.gammaln(j + 1))
    q = delta / math.sqrt(2) * np.exp(log - special.gammaln(j + 1.5))
    terms = p * special.betainc(j + 0.5, dof / 2, x) + q * special.betainc(j + 1.0, dof / 2, x)
    return special.ndtr(-delta) + 0.5 * math.fsum(terms)


with open(os.path.join(here, "noncentral_t_wide.csv"), "w", newline="") as f:
    out = csv.writer(f, lineterminator="\n")
    out.writerow(["t", "dof", "noncentrality", "cdf"])
    for dof in (1, 2, 3, 5, 9, 30, 200, 10000):
        for delta in (-40, -12, -3, -0.2, 0.2, 3, 12, 40):
            for t in sorted({delta * r for r in (-0.05, 0.3, 0.7, 0.95, 1.0, 1.1, 1.6, 4.0, 60.0)}):
                out.writerow([repr(t), dof, delta, f"{noncentral_t(t, dof, delta):.13f}"])

def student_t_tail(t, dof):
    """Upper tail: below 50 degrees of freedom by the incomplete beta function, near the middle by the density's integral; else the density integrated outwards."""
    nodes, weights = np.polynomial.legendre.leggauss(40)
    if dof < 50 and t <= 1:
        x = t * (nodes + 1) / 2
        peak = math.exp(math.lgamma((dof + 1) / 2) - math.lgamma(dof / 2)) / math.sqrt(dof * math.pi)
        return 0.5 - peak * math.fsum(weights * t / 2 * (1 + x * x / dof) ** (-(dof + 1) / 2))
    if dof < 50:
        return 0.5 * special.betainc(dof / 2, 0.5, dof / (dof + t * t))
    # Gamma((v + 1)/2)/Gamma(v/2)/sqrt(v/2) in powers of 1/v
    ratio = 1 - 1 / (4 * dof) + 1 / (32 * dof**2) + 5 / (128 * dof**3) - 21 / (2048 * dof**4) - 399 / (8192 * dof**5)
    width = 1 / (1 + t)
    total = []
    for panel in range(60):
        x = t + width * (panel + (nodes + 1) / 2)
        total.extend(weights * width / 2 * np.exp(-(dof + 1) / 2 * np.log1p(x * x / dof)))
    return ratio / math.sqrt(2 * math.pi) * math.fsum(total)


with open(os.path.join(here, "student_t_wide.csv"), "w", newline="") as f:
    out = csv.writer(f, lineterminator="\n")
    out.writerow(["t", "dof", "upper_tail"])
    for dof in (1, 1.5, 2, 3.7, 5, 17.2, 100, 3000, 19999, 20000, 2e5, 3e6, 1e9):
        for t in (0.01, 0.3, 1, 2.5, 5, 9, 30):
            if dof == 100 and t > 9:
                continue  # the tail is longer than the panels
            out.writerow([t, repr(float(dof)), f"{student_t_tail(t, dof):.13e}"])
