# York's line where errors are as large as the spread and the published iteration swings: the least sum of squares over all directions, a grid of 20 000 and then a bounded search.
# /usr/bin/python3 make_large_errors.py > large_errors.json ; Debian's scipy 1.10.1
import json, sys
import numpy as np
from scipy import optimize

points = [
    ([2.676, 3.311, 4.827, 1.916, 2.267], [4.474, 1.329, 4.254, 2.823, 2.283], [0.765, 0.619, 0.999, 0.637, 0.58], [1.082, 0.875, 1.413, 0.901, 0.82]),
    ([7.741, 5.47, 3.527, 11.017, 7.528], [-2.028, 2.403, 5.004, 9.153, 11.417], [1.92, 1.038, 0.801, 2.049, 2.247], [2.715, 1.468, 1.133, 2.897, 3.177]),
    ([5.407, 4.612, 4.068, 4.019, 5.131], [5.753, 6.091, 6.651, 7.571, 8.036], [1.797, 1.465, 1.077, 1.666, 1.159], [2.541, 2.072, 1.523, 2.356, 1.639]),
]
out = []
for p in points:
    x, y, ux, uy = map(np.array, p)
    def s(angle):
        b = np.tan(angle)
        w = 1 / (uy ** 2 + b * b * ux ** 2)
        mx, my = (w * x).sum() / w.sum(), (w * y).sum() / w.sum()
        return (w * (y - my - b * (x - mx)) ** 2).sum()
    grid = np.linspace(-np.pi / 2, np.pi / 2, 20001)[1:-1]
    at = grid[np.argmin([s(g) for g in grid])]
    r = optimize.minimize_scalar(s, bounds=(at - 2e-4, at + 2e-4), method="bounded", options=dict(xatol=1e-12))
    out.append(dict(x=p[0], y=p[1], ux=p[2], uy=p[3], slope=float(np.tan(r.x)), chi_square=float(r.fun)))
json.dump(out, sys.stdout, indent=1)
