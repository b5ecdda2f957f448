"""Average run length of a two-sided EWMA with limits that vary, the mean of point i being i times a slope, by plain quadrature.   python3 drift.py > drift.csv"""
import numpy as np
from scipy.stats import norm

def run(lam, width, slope, nodes=80, points=4000):
    x, w = np.polynomial.legendre.leggauss(nodes)
    total, g, last = 1.0, None, None
    for i in range(1, points):
        h = width * np.sqrt(lam / (2 - lam) * (1 - (1 - lam) ** (2 * i)))
        y = h * x
        k = norm.pdf(y / lam - slope * i) if i == 1 else norm.pdf((y[:, None] - (1 - lam) * last[None, :]) / lam - slope * i) @ g
        g, last = k / lam * h * w, y
        total += g.sum()
    return total

print("lambda,width,slope,arl")
for lam, width in ((.25, 2.9), (.1, 2.5)):
    for slope in (.001, .01, .05, .2, 1):
        print(f"{lam},{width},{slope},{run(lam, width, slope):.12g}")
