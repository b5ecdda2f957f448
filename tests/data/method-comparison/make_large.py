# Passing-Bablok of 20 000 generated readings by listing all slopes; those of -1 and below are told by whole numbers. /usr/bin/python3 make_large.py > large.json (2 GB, half a minute)
import json, sys
import numpy as np
sys.path.insert(0, "../../../bench/peers")
from passing_bablok import data

x, y = data(20_000)
X, Y = np.rint(x * 1000).astype(np.int64), np.rint(y * 1000).astype(np.int64)
n = len(x)
slopes, N, K = np.empty(n * (n - 1) // 2), 0, 0
for i in range(n - 1):
    dx, dy = X[i + 1:] - X[i], Y[i + 1:] - Y[i]
    minus = dx < 0
    dx, dy = np.where(minus, -dx, dx), np.where(minus, -dy, dy)
    counts = (dx + dy != 0) & ~((dx == 0) & (dy == 0))          # neither -1 nor one point twice
    dx, dy = dx[counts], dy[counts]
    K += int(np.count_nonzero((dy < -dx) & (dx > 0)))
    with np.errstate(divide="ignore"):
        s = np.where(dx == 0, np.inf, dy / dx)                  # whole numbers, so equal slopes are equal doubles
    slopes[N:N + len(s)] = s
    N += len(s)
slopes = slopes[:N]
C = 1.959963984540054 * np.sqrt(n * (n - 1) * (2 * n + 5) / 18)
m1 = round((N - C) / 2)
at = [K + r - 1 for r in (m1, (N + 1) // 2, N // 2 + 1, N - m1 + 1)]
slopes.partition(at)
low, a, b, high = slopes[at]
slope = (a + b) / 2
med = lambda s: float(np.median(y - s * x))
json.dump(dict(slopes=N, below=K, slope=slope, low=low, high=high, intercept=med(slope), intercept_low=med(high), intercept_high=med(low)), sys.stdout, indent=1)
