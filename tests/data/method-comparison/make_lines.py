# Lines between two methods, fitted by scipy's ODRPACK, for one ratio of error variances by numpy's singular value decomposition, and, where errors of x and y are correlated, from the definition in 40 digits.
# /usr/bin/python3 make_lines.py > lines.json ; Debian's numpy, scipy, mpmath.
import json
import mpmath as mp
import numpy as np
from scipy import odr

mp.mp.dps = 40
rng = np.random.default_rng(20)

def points(n, a, b, low, high, ux, uy, r):
    t = rng.uniform(low, high, n)
    sx = np.round(ux * rng.uniform(0.5, 2, n), 4)
    sy = np.round(uy * rng.uniform(0.5, 2, n), 4)
    c = np.round(r * rng.uniform(0.5, 1, n), 3)
    z1, z2 = rng.standard_normal(n), rng.standard_normal(n)
    return np.round(t + sx * z1, 4), np.round(a + b * t + sy * (c * z1 + np.sqrt(1 - c * c) * z2), 4), sx, sy, c

def ordinary(x, y):
    return np.polyfit(x, y, 1)[::-1]

def by_odr(x, y, sx, sy):
    model = odr.Model(lambda p, v: p[0] + p[1] * v, fjacb=lambda p, v: np.vstack([np.ones_like(v), v]), fjacd=lambda p, v: np.full_like(v, p[1]))
    fit = odr.ODR(odr.RealData(x, y, sx=sx, sy=sy), model, beta0=ordinary(x, y), maxit=2000, sstol=1e-16, partol=1e-16)
    fit.set_job(deriv=2)
    out = fit.run()
    c = out.cov_beta                      # not scaled by the residual variance
    return dict(intercept=out.beta[0], slope=out.beta[1], u_intercept=np.sqrt(c[0, 0]), u_slope=np.sqrt(c[1, 1]), covariance=c[0, 1], chi_square=out.sum_square)

def by_definition(x, y, sx, sy, r):
    """Minimises the sum of squared Mahalanobis distances to the line; the point of the line nearest to each is its adjusted point."""
    X, Y, A, B, R = ([mp.mpf(str(v)) for v in q] for q in (x, y, sx, sy, r))
    def centre(b):
        w = [1 / (v * v + b * b * u * u - 2 * b * c * u * v) for u, v, c in zip(A, B, R)]
        s = mp.fsum(w)
        return w, s, mp.fsum(p * q for p, q in zip(w, X)) / s, mp.fsum(p * q for p, q in zip(w, Y)) / s
    def sum_of_squares(b):
        w, _, mx, my = centre(b)
        return mp.fsum(p * (v - my - b * (u - mx)) ** 2 for p, u, v in zip(w, X, Y))
    b = mp.findroot(lambda q: mp.diff(sum_of_squares, q), mp.mpf(float(ordinary(x, y)[1])), tol=1e-30)
    w, s, mx, my = centre(b)
    a = my - b * mx
    adjusted = []
    for u, v, p, q, c in zip(X, Y, A, B, R):
        m = mp.matrix([[p * p, c * p * q], [c * p * q, q * q]]) ** -1
        # derivative of (u-t, v-a-bt) m (u-t, v-a-bt)' by t is zero
        g = m * mp.matrix([1, b])
        adjusted.append((g[0] * u + g[1] * (v - a)) / (g[0] + g[1] * b))
    mean = mp.fsum(p * q for p, q in zip(w, adjusted)) / s
    spread = mp.fsum(p * (q - mean) ** 2 for p, q in zip(w, adjusted))
    return dict(intercept=float(a), slope=float(b), u_intercept=float(mp.sqrt(1 / s + mean ** 2 / spread)), u_slope=float(mp.sqrt(1 / spread)), covariance=float(-mean / spread), chi_square=float(sum_of_squares(b)))

york = []
for n, a, b, low, high, ux, uy, r in [(12, 0.3, 1.04, 1, 20, 0.2, 0.3, 0), (60, -2, 0.97, 5, 50, 0.5, 0.4, 0), (25, 100, -3.5, 0, 40, 0.6, 2, 0), (15, 0.1, 1.1, 1, 12, 0.3, 0.3, 0.8), (40, 5, 0.5, 0, 100, 2, 1, -0.7), (9, 0, 12, 1, 3, 0.05, 0.9, 0.5)]:
    x, y, sx, sy, c = points(n, a, b, low, high, ux, uy, r)
    case = dict(x=list(x), y=list(y), ux=list(sx), uy=list(sy), r=list(c), definition=by_definition(x, y, sx, sy, c))
    if r == 0:
        case["odr"] = by_odr(x, y, sx, sy)
    york.append(case)

deming = []
for n, a, b, low, high, ux, ratio in [(10, 0.3, 1.03, 1, 12, 0.4, 1), (30, -1, 0.9, 5, 40, 0.8, 2.5), (80, 20, -2, 0, 30, 0.7, 0.25), (5, 0, 1, 1, 9, 0.3, 1), (12, 0, 1, 4, 6, 0.5, 4)]:
    t = rng.uniform(low, high, n)
    x = np.round(t + ux * rng.standard_normal(n), 3)
    y = np.round(a + b * t + ux * np.sqrt(ratio) * rng.standard_normal(n), 3)
    fit = by_odr(x, y, np.full(n, 1.0), np.full(n, np.sqrt(ratio)))
    # total least squares: the first right singular vector of the points in units of their errors
    axis = np.linalg.svd(np.column_stack([x - x.mean(), (y - y.mean()) / np.sqrt(ratio)]))[2][0]
    slope = np.sqrt(ratio) * axis[1] / axis[0]
    deming.append(dict(x=list(x), y=list(y), ratio=ratio, slope=slope, intercept=y.mean() - slope * x.mean(), odr=dict(slope=fit["slope"], intercept=fit["intercept"])))

json.dump(dict(york=york, deming=deming), __import__("sys").stdout, indent=1)
