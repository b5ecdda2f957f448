#!/usr/bin/python3
"""Twenty random preparation plans with shared glassware, and what they are worth by other means.

Writes plans.json: each plan in the form of the prepare verb, with its value and standard uncertainty by the
package uncertainties (first order, from formulas written here) and mean, standard deviation and the ends of the
symmetric 95 % interval by numpy (10^6 trials of the same formulas). Run: /usr/bin/python3 make.py > plans.json
"""
import json, math, random
import numpy as np
from uncertainties import ufloat

AIR, WEIGHTS, ALPHA = 1.2e-3, 8.0, 2.1e-4
# densities at 22 degC, g/mL: pure water by Tanaka et al. 2001, seawater of S 35 and 30 by TEOS-10 as the library states them (checked elsewhere)
A1, A2, A3, A4, A5 = -3.983035, 301.797, 522528.9, 69.34881, 999.974950
def tanaka(t): return A5 * (1 - (t + A1) ** 2 * (t + A2) / (A3 * (t + A4))) / 1000
random.seed(20261126)
M = 1_000_000
rng = np.random.default_rng(7)

class Source:
    """One cause of error, standardised: as an uncertainties variable and as a million draws."""
    def __init__(self, shape):
        self.first = ufloat(0, 1)
        if shape == 'rectangular': self.draws = rng.uniform(-math.sqrt(3), math.sqrt(3), M)
        elif shape == 'triangular': self.draws = rng.triangular(-math.sqrt(6), 0, math.sqrt(6), M)
        else: self.draws = rng.standard_normal(M)

class Number:
    """A value in both worlds at once."""
    def __init__(self, first, draws): self.first, self.draws = first, draws
    @staticmethod
    def of(x): return x if isinstance(x, Number) else Number(x, x)
    def _do(self, o, f): o = Number.of(o); return Number(f(self.first, o.first), f(self.draws, o.draws))
    def __add__(self, o): return self._do(o, lambda a, b: a + b)
    def __radd__(self, o): return self + o
    def __sub__(self, o): return self._do(o, lambda a, b: a - b)
    def __rsub__(self, o): return Number.of(o) - self
    def __mul__(self, o): return self._do(o, lambda a, b: a * b)
    def __rmul__(self, o): return self * o
    def __truediv__(self, o): return self._do(o, lambda a, b: a / b)
    def __rtruediv__(self, o): return Number.of(o) / self

def known(value, *parts):
    """value + sum of u * source"""
    n = Number(value, value)
    for source, u in parts: n = n + Number(source.first * u, source.draws * u)
    return n

class Piece:
    def __init__(self, name, kind, nominal=None, tolerance=0.0, relative=False, triangular=False, repeatability=0.0, readability=0.0, proof=None):
        self.__dict__.update(locals())
        shape = 'triangular' if triangular else 'rectangular'
        self.u = tolerance / math.sqrt(6 if triangular else 3)
        self.gain, self.offset, self.bias = Source(shape), Source(shape), Source('normal')
    def measure(self, setting):
        if self.proof and abs(setting - self.proof[0]) <= 0.1 * self.proof[0]:
            s, bias, bias_u, sd = self.proof
            return known(setting + bias, (self.bias, bias_u), (Source('normal'), sd))
        parts = []
        if self.relative: parts.append((self.gain, self.u * setting))
        elif self.kind == 'piston_pipette' and self.nominal:
            p = setting / self.nominal
            parts += [(self.gain, self.u * p), (self.offset, self.u * math.sqrt(max(0, 1 - p * p)))]
        else: parts.append((self.gain, self.u))
        if self.repeatability: parts.append((Source('normal'), self.repeatability))
        if self.readability: parts += [(Source('rectangular'), self.readability / math.sqrt(12))] + [(Source('rectangular'), self.readability / math.sqrt(12))]
        return known(setting, *parts)
    def plan(self):
        unit = 'g' if self.kind == 'balance' else 'mL'
        p = {'kind': self.kind, 'tolerance': f'{100 * self.tolerance!r} %' if self.relative else f'{self.tolerance!r} {unit}'}
        if self.triangular: p['distribution'] = 'triangular'
        if self.nominal: p['nominal'] = f'{self.nominal!r} {unit}'
        if self.repeatability: p['repeatability'] = f'{self.repeatability!r} {unit}'
        if self.readability: p['readability'] = f'{self.readability!r} {unit}'
        if self.proof:
            s, bias, bias_u, sd = self.proof
            p['proof'] = {'setting': f'{s!r} {unit}', 'bias': f'{bias!r} {unit}', 'bias_u': f'{bias_u!r} {unit}', 'sd': f'{sd!r} {unit}'}
        return p

def pieces():
    r = random.random
    return {
        'P1': Piece('P1', 'piston_pipette', 1.0, 0.008, repeatability=0.003),
        'P5': Piece('P5', 'piston_pipette', 5.0, 0.04, repeatability=0.015, proof=(2.0, -0.011, 0.004, 0.006) if r() < 0.4 else None),
        'PX': Piece('PX', 'piston_pipette', None, 0.04, repeatability=0.01),
        'PG': Piece('PG', 'piston_pipette', 5.0, 0.008, relative=True),
        'B10': Piece('B10', 'bulb_pipette', 10.0, 0.02),
        'F100': Piece('F100', 'flask', 100.0, 0.1, triangular=r() < 0.5, repeatability=0.02),
        'F500': Piece('F500', 'flask', 500.0, 0.25),
        'KB': Piece('KB', 'balance', None, 2.0, readability=1.0),
        'LB': Piece('LB', 'balance', None, 0.02, readability=0.01, repeatability=0.01),
    }

def mass_volume(grams, density): return grams * (1 - AIR / WEIGHTS) / (density - AIR)

def one(i):
    box, used = pieces(), set()
    t = 22.0
    water = tanaka(t)
    plan = {'analyte': 'NO3', 'glassware': {}}
    fresh = random.random() < 0.6   # seawater plans use volumes alone, so that no density of seawater is needed here
    theta = Source('rectangular')
    half = random.choice([0, 2.0, 4.0])
    room = known(1.0, (theta, -ALPHA * half / math.sqrt(3))) if half else Number(1.0, 1.0)
    if half: plan['temperature'] = {'at': '20 C', 'half_range': f'{half!r} C'}
    plan['matrix'] = {'kind': 'fresh_water' if fresh else 'seawater', 'temperature': '22 C'}
    if not fresh: plan['matrix']['salinity'] = 35
    b = Number(0.0, 0.0)
    if random.random() < 0.6:
        value, u = round(random.uniform(0.01, 0.2), 3), round(random.uniform(0.005, 0.05), 3)
        plan['matrix'].update(background=f'{value!r} mg/L NO3', background_u=f'{u!r} mg/L NO3')
        b = known(value, (Source('normal'), u))
    kind = random.choice(['rectangular', 'triangular', 'u', 'expanded', 'salt'])
    if kind == 'salt':
        m, v = round(random.uniform(0.7, 0.9), 4), box['F500']
        # molar masses from the abridged weights of IUPAC 2021: K 39.098, N 14.007, O 15.999
        knO3, no3 = 39.098 + 14.007 + 3 * 15.999, 14.007 + 3 * 15.999
        plan['stock'] = {'salt': 'KNO3', 'mass': f'{m!r} g', 'mass_u': '0.002 g', 'purity': '0.995', 'purity_half_range': '0.003', 'to': '500 mL', 'in': 'F500'}
        used.add('F500')
        c = 1e6 * no3 / knO3 * known(m, (Source('normal'), 0.002)) * known(0.995, (Source('rectangular'), 0.003 / math.sqrt(3))) / (v.measure(500.0) * room)
    else:
        value, doubt = random.choice([(1000.0, 5.0), (1000.0, 2.0), (442.7, 3.0)])
        stock = {'concentration': f'{value!r} mg/L NO3'}
        if kind == 'u': stock['u'], u = f'{doubt!r} mg/L', doubt
        elif kind == 'expanded': stock.update(expanded=f'{doubt!r} mg/L', k=2); u = doubt / 2
        else: stock.update(tolerance=f'{doubt!r} mg/L', distribution=kind); u = doubt / math.sqrt(6 if kind == 'triangular' else 3)
        plan['stock'] = stock
        c = known(value, (Source('normal' if kind in ('u', 'expanded') else kind), u))
    mixing = random.choice([0, 0.002])
    if mixing: plan['mixing'] = '0.2 %'
    steps = []
    weighs = fresh and random.random() < 0.6
    density_first = Number(water, water)
    stock_density = None
    for s in range(random.randint(1, 3)):
        form = random.choice(['to', 'into', 'weigh', 'weigh both']) if weighs else random.choice(['to', 'into', 'to'])
        if form == 'weigh both' and s == 0: plan['stock'].update(density='0.9985 g/mL', density_u='0.0005 g/mL')
        name = random.choice(['P1', 'P5', 'P5', 'PX', 'PG', 'B10'])
        if form in ('to', 'into'):
            aliquot = {'P1': 1.0, 'B10': 10.0}.get(name) or random.choice([1.0, 2.0, 5.0])
            vessel = random.choice(['F100', 'F500'])
            made = box[vessel].nominal
            step = {'aliquot': f'{aliquot!r} mL', 'with': name, form: f'{made!r} mL', 'in': vessel}
        elif form == 'weigh':
            aliquot, vessel, made = {'P1': 1.0, 'B10': 10.0}.get(name) or 2.0, 'KB', random.choice([250.0, 500.0])
            step = {'aliquot': f'{aliquot!r} mL', 'with': name, 'into': f'{made!r} g', 'in': vessel}
        else:
            name, vessel, aliquot, made = 'LB', 'KB', random.choice([2.0, 5.0]), 500.0
            step = {'aliquot': f'{aliquot!r} g', 'with': name, 'to': f'{made!r} g', 'in': vessel}
        steps.append((step, form, name, vessel, aliquot, made))
        used |= {name, vessel}
    density = known(0.9985, (Source('normal'), 0.0005)) if 'density' in plan['stock'] else Number(water, water)
    for step, form, name, vessel, aliquot, made in steps:
        a, m = box[name].measure(aliquot), box[vessel].measure(made)
        mu = known(1.0, (Source('normal'), mixing)) if mixing else 1.0
        diluent = water
        if form == 'to': taken = a * room; added = m * room - taken
        elif form == 'into': taken = a * room; added = m * room
        elif form == 'weigh': taken = a * room; added = mass_volume(m, diluent)
        else: taken = mass_volume(a, density); added = mass_volume(m - a, diluent)
        if not fresh:
            c = (c * taken + b * added) / (taken + added) * mu
        else:
            c = (c * taken + b * added) / (taken + added) * mu
            density = (taken * density + added * diluent) / (taken + added)
    plan['steps'] = [s[0] for s in steps]
    plan['glassware'] = {n: box[n].plan() for n in sorted(used)}
    first, draws = c.first, np.asarray(c.draws)
    low, high = np.quantile(draws, [0.025, 0.975])
    return {'plan': plan, 'value': first.nominal_value, 'u': first.std_dev, 'mc_mean': float(draws.mean()), 'mc_u': float(draws.std(ddof=1)), 'mc_low': float(low), 'mc_high': float(high)}

print(json.dumps([one(i) for i in range(20)], indent=1))
