"""Quantiles of Dixon's ratios of the largest value in normal samples, by simulation: numpy 1.24, PCG64 seed 20, 2 million samples a line.
The standard error is that of the quantile by the density from a neighbouring one. Run: python3 dixon.py > dixon_simulated.csv"""
import numpy as np

rng = np.random.default_rng(20)
shapes = {"R10": (1, 1), "R11": (1, 2), "R12": (1, 3), "R20": (2, 1), "R21": (2, 2), "R22": (2, 3)}
print("ratio,n,upper_tail,quantile,standard_error")
for ratio, n in [("R10", 5), ("R10", 25), ("R11", 5), ("R11", 9), ("R12", 6), ("R12", 12), ("R20", 5), ("R20", 12), ("R21", 6), ("R21", 12), ("R22", 7), ("R22", 18), ("R22", 30)]:
    j, i = shapes[ratio]
    r = []
    for _ in range(20):
        x = np.sort(rng.standard_normal((100_000, n)), axis=1)
        r.append((x[:, -1] - x[:, -1 - j]) / (x[:, -1] - x[:, i - 1]))
    r = np.sort(np.concatenate(r))
    for tail in (0.1, 0.025, 0.005):
        q = lambda t: r[int((1 - t) * len(r))]
        slope = (q(tail * 0.9) - q(tail * 1.1)) / (0.2 * tail)
        print(f"{ratio},{n},{tail},{q(tail):.5f},{slope * np.sqrt(tail * (1 - tail) / len(r)):.5f}")
