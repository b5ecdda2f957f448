#!/usr/bin/python3
"""Passing-Bablok 1983 (numpy, O(n^2) slopes + partition) and Deming with bootstrap.  usage: passing_bablok.py [n ...|deming]

data, rows i = 0..n-1 (u, n as in _prng.py; a smaller n is the head of a larger one):
  t = 5 + 45 u(11,i); x = round(t (1 + .02 n(12,i)), 3); y = round(0.3 + 1.03 t + .025 t n(13,i), 3)
95 % limits after Passing & Bablok: C = z sqrt(n(n-1)(2n+5)/18); ranks M1 = round((N-C)/2), M2 = N-M1+1, shifted by K.
Deming (ratio of error variances 1), B = 2000 case-resampled fits of n = 200, percentile limits.
"""
import sys
import numpy as np
from _timing import best_of
from _prng import un, nn

def data(n):
    t = 5 + 45 * un(11, n)
    return np.round(t * (1 + .02 * nn(12, n)), 3), np.round(0.3 + 1.03 * t + .025 * t * nn(13, n), 3)

def pb(x, y):
    n = len(x)
    s = np.empty(n * (n - 1) // 2)
    N = K = 0
    with np.errstate(divide='ignore', invalid='ignore'):
        for i in range(n - 1):
            v = (y[i + 1:] - y[i]) / (x[i + 1:] - x[i])         # 0/0 -> nan, dy/0 -> +-inf; one row stays in cache
            bad = (v == -1.0) | np.isnan(v)
            if bad.any(): v = v[~bad]
            K += int(np.count_nonzero(v < -1.0))
            s[N:N + len(v)] = v; N += len(v)
    s = s[:N]
    C = 1.959963984540054 * np.sqrt(n * (n - 1) * (2 * n + 5) / 18.0)
    M1 = int(round((N - C) / 2)); M2 = N - M1 + 1
    if N % 2: idx = [(N + 1) // 2 + K - 1]
    else: idx = [N // 2 + K - 1, N // 2 + K]
    lo_i, hi_i = M1 + K - 1, M2 + K - 1
    s.partition(sorted(set(idx + [lo_i, hi_i]))); p = s           # in place
    b = float(np.mean(p[idx])); bl, bu = float(p[lo_i]), float(p[hi_i])
    a = float(np.median(y - b * x)); al = float(np.median(y - bu * x)); au = float(np.median(y - bl * x))
    return b, bl, bu, a, al, au, N, K

def deming_boot(n=200, B=2000):
    x, y = data(n)
    g = np.random.default_rng(12)
    i = g.integers(0, n, (B, n))
    def fit(X, Y):
        mx, my = X.mean(-1), Y.mean(-1)
        dx, dy = X - mx[..., None], Y - my[..., None]
        sxx, syy, sxy = (dx * dx).sum(-1), (dy * dy).sum(-1), (dx * dy).sum(-1)
        b = (syy - sxx + np.sqrt((syy - sxx) ** 2 + 4 * sxy * sxy)) / (2 * sxy)
        return b, my - b * mx
    b0, a0 = fit(x[None], y[None])
    ba = [fit(x[i[k:k + 100]], y[i[k:k + 100]]) for k in range(0, B, 100)]        # blocks of 100 resamples stay in cache
    b, a = np.concatenate([q[0] for q in ba]), np.concatenate([q[1] for q in ba])
    return float(b0[0]), *np.percentile(b, [2.5, 97.5]), float(a0[0]), *np.percentile(a, [2.5, 97.5])

if __name__ == '__main__':
    args = sys.argv[1:] or ['500', '5000', '20000', 'deming']
    for s in args:
        if s == 'deming':
            r, _ = best_of(deming_boot, label='deming')
            print("deming n 200 B 2000: slope %.6f [%.6f, %.6f] intercept %.6f [%.6f, %.6f]" % r)
        else:
            n = int(s); x, y = data(n)
            r, _ = best_of(lambda: pb(x, y), label=f"pb{n}")
            print(f"PB n {n}: slope %.6f [%.6f, %.6f] intercept %.6f [%.6f, %.6f] N %d K %d" % r)
