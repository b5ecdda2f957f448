"""Digits that numpy, and scipy where numpy has no function, reach on the NIST Statistical Reference Datasets in this folder.

Best form of each: numpy.mean, numpy.std(ddof=1) (pairwise sums); autocorrelation from deviations by numpy.dot; scipy.stats.f_oneway; numpy.linalg.lstsq on the design and,
for polynomials, numpy.polynomial.Polynomial.fit (scaled to [-1, 1]) turned back to powers of x; scipy.optimize.curve_fit with the tightest tolerances from either start. Run: python3 digits.py > digits_numpy.csv (numpy 1.24, scipy 1.10, Debian)."""
import json
import math
import os
import re
import numpy as np
from numpy.polynomial import Polynomial
from scipy import optimize, stats

folder = os.path.dirname(os.path.abspath(__file__))

def lines(name):
    return open(os.path.join(folder, name)).read().splitlines()

def digits(value, certified):
    error = abs(value) if certified == 0 else abs((value - certified) / certified)
    return 15.0 if error == 0 else 0.0 if not error == error else min(15.0, max(0.0, -math.log10(error)))

def alternating(first, low, high, n):
    return np.array([first] + [low if i % 2 == 0 else high for i in range(n - 1)])

def univariate(name):
    if name == "PiDigits":
        return np.array([float(c) for c in json.load(open(os.path.join(folder, "PiDigits.json")))["digits"]]), (4.5348, 2.86733906028871, -0.00355099287237972)
    if name == "NumAcc4":
        return alternating(10000000.2, 10000000.1, 10000000.3, 1001), (10000000.2, 0.1, -0.999)
    text = lines(name + ".dat")
    certified = [float(re.search(r":\s*(-?[\d.]+)", next(l for l in text if l.startswith("Sample " + w))).group(1)) for w in ("Mean", "Standard", "Auto")]
    start = next(i for i, l in enumerate(text) if l.startswith("Data: Y")) + 2
    return np.array([float(l) for l in text[start:] if l.strip()]), certified

def anova(name):
    base = {"SmLs06": ("SmLs03", 10 ** 6), "SmLs08": ("SmLs02", 10 ** 12), "SmLs09": ("SmLs03", 10 ** 12)}.get(name, (name, 0))
    text = lines(base[0] + "t.dat")
    f = float(next(l for l in text if l.startswith("Between")).split()[-1])
    start = next(i for i, l in enumerate(text) if l.rstrip() == "Data:")
    rows = [l.split() for l in text[start:] if re.match(r"^\s*[\d.]", l)][1:]
    if base[1] == 0:
        return [np.array([float(r[j]) for r in rows]) for j in range(len(rows[0]))], f
    value = lambda tenths: float(f"{base[1]}.{tenths}")
    return [alternating(value(m), value(m - 1), value(m + 1), len(rows)) for m in (4, 3, 5, 3, 5, 3, 5, 3, 5)], f

def regression(name):
    text = lines(name + ".dat")
    certified = [l.split() for l in text if re.match(r"^\s+B\d+\s+-?[\d.]", l)]
    start = next(i for i, l in enumerate(text) if re.match(r"^Data:\s+y\s", l)) + 1
    rows = np.array([[float(v) for v in l.split()] for l in text[start:] if l.strip()])
    return rows[:, 0], rows[:, 1:], [float(c[1]) for c in certified], [float(c[2]) for c in certified]

print("set,quantity,digits,by")
for name in ("PiDigits", "Lottery", "Lew", "Mavro", "Michelso", "NumAcc1", "NumAcc2", "NumAcc3", "NumAcc4"):
    y, (mean, sd, r) = univariate(name)
    d = y - y.mean()
    for what, value, certified in (("mean", y.mean(), mean), ("sd", y.std(ddof=1), sd), ("autocorrelation", np.dot(d[1:], d[:-1]) / np.dot(d, d), r)):
        print(f"{name},{what},{digits(float(value), certified):.1f},numpy")
for name in ("SiRstv", "SmLs01", "SmLs02", "SmLs03", "AtmWtAg", "SmLs04", "SmLs05", "SmLs06", "SmLs07", "SmLs08", "SmLs09"):
    groups, f = anova(name)
    print(f"{name},f,{digits(float(stats.f_oneway(*groups).statistic), f):.1f},scipy f_oneway")
for name in ("Norris", "Pontius", "NoInt1", "NoInt2", "Filip", "Longley", "Wampler1", "Wampler2", "Wampler3", "Wampler4", "Wampler5"):
    y, x, coefficients, errors = regression(name)
    if name == "Longley":
        design = np.column_stack([np.ones(len(y)), x])
    elif name.startswith("NoInt"):
        design = x
    else:
        design = np.vander(x[:, 0], len(coefficients), increasing=True)
    best, by = [], ""
    tried = [("numpy lstsq", np.linalg.lstsq(design, y, rcond=0)[0])]
    if design.shape[1] > 2 and name != "Longley":
        tried.append(("numpy Polynomial.fit", Polynomial.fit(x[:, 0], y, len(coefficients) - 1).convert().coef))
    worst, by = max((min(digits(float(b), c) for b, c in zip(found, coefficients)), by) for by, found in tried)
    print(f"{name},coefficients,{worst:.1f},{by}")
    q, r = np.linalg.qr(design)
    b = np.linalg.solve(r, q.T @ y)
    s = np.sqrt(((y - design @ b) ** 2).sum() / max(1, len(y) - design.shape[1]))
    se = s * np.sqrt((np.linalg.inv(r) ** 2).sum(axis=1))
    print(f"{name},standard errors,{min(digits(float(v), c) for v, c in zip(se, errors)):.1f},numpy qr")

exp = np.exp
exponentials = lambda x, a, b, c, d, e, f: a * exp(-b * x) + c * exp(-d * x) + e * exp(-f * x)
peaks = lambda x, a, b, c, d, e, f, g, h: a * exp(-b * x) + c * exp(-((x - d) / e) ** 2) + f * exp(-((x - g) / h) ** 2)
cubics = lambda x, a, b, c, d, e, f, g: (a + b * x + c * x ** 2 + d * x ** 3) / (1 + e * x + f * x ** 2 + g * x ** 3)
ultrasonic = lambda x, a, b, c: exp(-a * x) / (b + c * x)
turn = lambda x, period: 2 * np.pi * x / period
models = {
    "Misra1a": lambda x, a, b: a * (1 - exp(-b * x)), "BoxBOD": lambda x, a, b: a * (1 - exp(-b * x)), "Misra1d": lambda x, a, b: a * b * x / (1 + b * x),
    "Misra1b": lambda x, a, b: a * (1 - (1 + b * x / 2) ** -2), "Misra1c": lambda x, a, b: a * (1 - (1 + 2 * b * x) ** -0.5),
    "Chwirut1": ultrasonic, "Chwirut2": ultrasonic, "DanWood": lambda x, a, b: a * x ** b, "Rat42": lambda x, a, b, c: a / (1 + exp(b - c * x)),
    "Rat43": lambda x, a, b, c, d: a / (1 + exp(b - c * x)) ** (1 / d), "Lanczos1": exponentials, "Lanczos2": exponentials, "Lanczos3": exponentials,
    "MGH09": lambda x, a, b, c, d: a * (x * x + x * b) / (x * x + x * c + d), "MGH10": lambda x, a, b, c: a * exp(b / (x + c)),
    "MGH17": lambda x, a, b, c, d, e: a + b * exp(-x * d) + c * exp(-x * e), "Eckerle4": lambda x, a, b, c: a / b * exp(-0.5 * ((x - c) / b) ** 2),
    "Thurber": cubics, "Hahn1": cubics, "Gauss1": peaks, "Gauss2": peaks, "Gauss3": peaks, "Kirby2": lambda x, a, b, c, d, e: (a + b * x + c * x ** 2) / (1 + d * x + e * x ** 2),
    "Nelson": lambda x, a, b, c: a - b * x[0] * exp(-c * x[1]), "Roszman1": lambda x, a, b, c, d: a - b * x - np.arctan(c / (x - d)) / np.pi, "Bennett5": lambda x, a, b, c: a * (b + x) ** (-1 / c),
    "ENSO": lambda x, a, b, c, d, e, f, g, h, i: a + b * np.cos(turn(x, 12)) + c * np.sin(turn(x, 12)) + e * np.cos(turn(x, d)) + f * np.sin(turn(x, d)) + h * np.cos(turn(x, g)) + i * np.sin(turn(x, g))}
for name, model in models.items():
    text = lines(name + ".dat")
    numbers = [[float(v) for v in re.split(r"\s+", l.split("=")[1].strip())] for l in text if re.match(r"^\s+b\d\s+=", l)]
    start = next(i for i, l in enumerate(text) if re.match(r"^Data:\s+y\s", l)) + 1
    y, *x = np.array([[float(v) for v in l.split()] for l in text[start:] if l.strip()]).T
    y, x = (np.log(y), np.array(x)) if name == "Nelson" else (y, x[0])
    for begin, added in ((1, ""), (0, " from start 1")):
        try:
            found, covariance = optimize.curve_fit(model, x, y, p0=[n[begin] for n in numbers], ftol=1e-15, xtol=1e-15, gtol=1e-15, maxfev=100000)
            worst = min(digits(float(f), n[2]) for f, n in zip(found, numbers)), min(digits(float(f), n[3]) for f, n in zip(np.sqrt(np.diag(covariance)), numbers))
        except (RuntimeError, optimize.OptimizeWarning):
            worst = 0.0, 0.0
        print(f"{name},parameters{added},{worst[0]:.1f},scipy curve_fit")
        print(f"{name},standard errors{added},{worst[1]:.1f},scipy curve_fit")
