"""Generalised least squares in exact rational arithmetic on the doubles: (X'V^-1 X)^-1 X'V^-1 y by Gaussian elimination of fractions, so that no
rounding enters before the last step. Invented data. Run: python3 generalised.py > generalised.json"""
import json
from fractions import Fraction as F

def solve(a, b):
    n = len(a)
    m = [row[:] + r[:] for row, r in zip(a, b)]
    for i in range(n):
        p = next(r for r in range(i, n) if m[r][i] != 0)
        m[i], m[p] = m[p], m[i]
        m[i] = [v / m[i][i] for v in m[i]]
        for r in range(n):
            if r != i and m[r][i] != 0:
                m[r] = [u - m[r][i] * v for u, v in zip(m[r], m[i])]
    return [row[n:] for row in m]

def product(a, b):
    return [[sum(x * y for x, y in zip(row, column)) for column in zip(*b)] for row in a]

def transpose(a):
    return [list(c) for c in zip(*a)]

def case(x, y, covariance, degree):
    v = [[F(c) for c in row] for row in covariance]
    design = [[F(t) ** k for k in range(degree + 1)] for t in x]
    white = solve(v, [row + [F(t)] for row, t in zip(design, y)])
    vx, vy = [r[:-1] for r in white], [r[-1:] for r in white]
    inverse = solve(product(transpose(design), vx), [[F(int(i == j)) for j in range(degree + 1)] for i in range(degree + 1)])
    beta = product(inverse, product(transpose(design), vy))
    rest = [[F(t) - f[0]] for t, f in zip(y, product(design, beta))]
    chi2 = product(transpose(rest), solve(v, rest))[0][0]
    return {"x": x, "y": y, "covariance": covariance, "degree": degree, "coefficients": [float(b[0]) for b in beta],
            "coefficient_covariance": [[float(c) for c in row] for row in inverse], "chi_square": float(chi2)}

shared = [1.0, 2.0, 4.0, 8.0, 9.0, 11.0]
line = case(shared, [1.02, 2.13, 3.98, 8.21, 8.9, 11.3], [[0.0004 * a * b + (0.01 + 0.001 * a if i == j else 0) for j, b in enumerate(shared)] for i, a in enumerate(shared)], 1)
steps = [10.0, 10.5, 11.0, 11.5, 12.0, 12.5, 13.0, 13.5]
curve = case(steps, [101.1, 110.9, 121.3, 132.1, 144.6, 156.2, 169.3, 181.7], [[0.25 * 0.9 ** abs(i - j) for j in range(8)] for i in range(8)], 2)
diagonal = case(shared, [1.02, 2.13, 3.98, 8.21, 8.9, 11.3], [[(0.1 * a) ** 2 if i == j else 0.0 for j in range(6)] for i, a in enumerate(shared)], 1)
print(json.dumps({"line": line, "curve": curve, "diagonal": diagonal}, indent=1))
