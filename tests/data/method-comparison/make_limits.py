# Limits of agreement with exact intervals by scipy's noncentral t, prediction interval by its t. /usr/bin/python3 make_limits.py > limits.csv
import numpy as np
from scipy import optimize, stats

# scipy's t.ppf keeps eight digits only at 39 degrees of freedom; its cdf keeps them all, as R's qt confirms
def t_point(p, dof):
    return optimize.brentq(lambda t: stats.t.sf(t, dof) - (1 - p), 0, 1000, xtol=1e-14, rtol=1e-15)

rows = np.genfromtxt("bland_altman_1986_pefr.csv", delimiter=",", names=True)
differences = rows["wright_first_L_per_min"] - rows["mini_wright_first_L_per_min"]
print("n,share,coverage,mean,sd,bias_low,bias_high,lower,lower_low,lower_high,upper,upper_low,upper_high,next_low,next_high")
for n, share, coverage in [(17, 0.95, 0.95), (2, 0.95, 0.95), (3, 0.95, 0.9), (5, 0.9, 0.95), (12, 0.99, 0.95), (40, 0.95, 0.99), (200, 0.95, 0.95), (5000, 0.95, 0.95)]:
    mean, sd = (differences.mean(), differences.std(ddof=1)) if n == 17 else (0.0, 1.0)
    z, tail, root = stats.norm.ppf((1 + share) / 2), (1 - coverage) / 2, np.sqrt(n)
    t = t_point(1 - tail, n - 1)
    near, far = (stats.nct.ppf(p, n - 1, z * root) / root for p in (tail, 1 - tail))
    further = t_point((1 + share) / 2, n - 1) * np.sqrt(1 + 1 / n)
    cells = [mean, sd, mean - t * sd / root, mean + t * sd / root, mean - z * sd, mean - far * sd, mean - near * sd, mean + z * sd, mean + near * sd, mean + far * sd, mean - further * sd, mean + further * sd]
    print(",".join(["%d,%g,%g" % (n, share, coverage)] + ["%.15g" % c for c in cells]))
