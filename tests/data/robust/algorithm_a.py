"""Algorithm A of ISO 13528:2015, annex C.3, written down from the standard's steps with decimals of 50 digits, on the cases of robust_r.csv.
Run: python3 algorithm_a.py > algorithm_a.csv"""
import csv
import os
from decimal import Decimal as D, getcontext

getcontext().prec = 50

def median(v):
    v = sorted(v)
    return v[len(v) // 2] if len(v) % 2 else (v[len(v) // 2 - 1] + v[len(v) // 2]) / 2

print("case,mean,sd")
for row in csv.DictReader(open(os.path.join(os.path.dirname(os.path.abspath(__file__)), "robust_r.csv"))):
    x = [D(v) for v in row["values"].split()]
    if len(x) < 3:
        continue
    m = median(x)
    s = D("1.483") * median([abs(v - m) for v in x])
    for _ in range(5000):
        w = [min(max(v, m - D("1.5") * s), m + D("1.5") * s) for v in x]
        mean = sum(w) / len(w)
        m, s = mean, D("1.134") * (sum((v - mean) ** 2 for v in w) / (len(w) - 1)).sqrt()
    print(f"{row['case']},{m:.20f},{s:.20f}")
