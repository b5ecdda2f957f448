#!/usr/bin/python3
"""10,000 points of gsw over the range of the equations: row i has
 S = 42 frac(i g1), t = -2 + 42 frac(i g2) degC, p = 10000 frac(i g3)^3 dbar for i = 1..10000, frac(x) = x - floor(x).
 Columns: conductivity mS/cm (C_from_SP), Conservative Temperature degC, density kg/m3 (75 terms)."""
import gsw
import numpy as np
i = np.arange(1, 10001, dtype=float)
f = lambda g: (i * g) % 1.0
S, t, p = 42 * f(0.6180339887498949), -2 + 42 * f(0.7548776662466927), 10000 * f(0.5698402909980532) ** 3
SA = S * 35.16504 / 35
CT = gsw.CT_from_t(SA, t, p)
with open('gsw_points.csv', 'w') as out:
    out.write('conductivity_ms_per_cm,ct_degC,rho_kg_per_m3\n')
    for c, ct, rho in zip(gsw.C_from_SP(S, t, p), CT, gsw.rho(SA, CT, p)):
        out.write(f'{c:.12g},{ct:.12g},{rho:.12g}\n')
