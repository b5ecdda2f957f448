# Generalised least squares with the full covariance of the known values, iterated on the gain. /usr/bin/python3, Debian numpy.
import numpy as np

def fit(c, u_stock, u_own, y, s, n, q):
    c, y, n = map(np.asarray, (c, y, n))
    U = u_stock**2 * np.outer(c, c) + np.diag((np.asarray(u_own) * c) ** 2)
    X = np.column_stack([np.ones(len(c)), c])
    b = 1.0
    for _ in range(200):
        V = b * b * U + np.diag(np.maximum(np.asarray(s) ** 2, q * q / 12) / n + q * q / 12)
        W = np.linalg.inv(V)
        cov = np.linalg.inv(X.T @ W @ X)
        a, b = cov @ X.T @ W @ y
    r = y - X @ np.array([a, b])
    return a, b, np.sqrt(cov[0, 0]), np.sqrt(cov[1, 1]), cov[0, 1], r @ W @ r

print("numpy", np.__version__)
for case in (
    dict(c=[1.0, 4.0, 10.0], u_stock=0.01, u_own=[0.004, 0.003, 0.002], y=[1.08, 4.31, 10.52], s=[0.06, 0.06, 0.06], n=[4, 4, 4], q=0.0),
    dict(c=[0.5, 5.0, 20.0], u_stock=0.02, u_own=[0.010, 0.005, 0.005], y=[0.55, 4.92, 19.1], s=[0.05, 0.05, 0.05], n=[3, 5, 6], q=0.1),
):
    print(case)
    print("offset %.15g gain %.15g u(offset) %.15g u(gain) %.15g covariance %.15g chi2 %.15g" % fit(**case))
