"""Variance components of an unbalanced nested design by the analysis-of-variance method, the slow way: the expected mean squares are traces of
projection matrices, E MS = tr(P Z Z')/df, so that no formula for their coefficients enters. Run: python3 nested.py > nested.json (numpy 1.24)."""
import json
import numpy as np

groups = [[[10.2, 10.4, 10.1], [9.8, 10.0]], [[11.3, 11.1], [11.8, 11.9, 12.1, 11.7], [10.9, 11.0]], [[9.5, 9.9]], [[10.6, 10.4], [10.9, 11.2, 11.0]]]
y = np.array([v for g in groups for r in g for v in r])
group = np.array([i for i, g in enumerate(groups) for r in g for _ in r])
run = np.array([100 * i + j for i, g in enumerate(groups) for j, r in enumerate(g) for _ in r])
one = lambda labels: (labels[:, None] == np.unique(labels)[None, :]).astype(float)
hat = lambda z: z @ np.linalg.pinv(z)
a, b = one(group), one(run)
mean = np.ones((len(y), 1))
stages = [hat(a) - hat(mean), hat(b) - hat(a), np.eye(len(y)) - hat(b)]
dof = [np.trace(p) for p in stages]
ms = [y @ p @ y / d for p, d in zip(stages, dof)]
expected = [[np.trace(p @ z @ z.T) / d for z in (a, b, np.eye(len(y)))] for p, d in zip(stages, dof)]
print(json.dumps({"groups": groups, "dof": [round(d) for d in dof], "mean_squares": ms, "components": list(np.linalg.solve(np.array(expected), ms))}, indent=1))
