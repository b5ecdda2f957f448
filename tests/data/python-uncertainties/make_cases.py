"""Writes cases.json beside this file: ten random models over shared inputs, evaluated by the Python library `uncertainties`.

    python3 make_cases.py        (Python 3.11.7, uncertainties 3.1.6, numpy 1.24.2)

A model is text in reverse Polish notation: x0 ... x8 are inputs, numbers are exact, the words are + - * / sqrt exp log and pow:p.
Inputs x0 ... x5 are independent; x6 ... x8 are correlated by the covariance matrix given.
"""
import json
import os
import random

import numpy as np
import uncertainties
from uncertainties import umath

here = os.path.dirname(os.path.abspath(__file__))
rng = random.Random(20240611)

independent = [
    {"value": 1000.0, "u": 2.5},
    {"value": 5.0, "u": 0.011},
    {"value": 100.0, "u": 0.1},
    {"value": 0.37, "u": 0.02},
    {"value": 3.2, "u": 0.15},
    {"value": 24.5, "u": 0.4},
]
values = [1.8, 0.95, 7.1]
covariance = [[0.0016, 0.0009, -0.002], [0.0009, 0.0025, 0.001], [-0.002, 0.001, 0.04]]


def random_model():
    """Text of one random model that uses at least four inputs and stays moderate."""
    while True:
        words, depth, used = [], 0, set()
        for _ in range(rng.randint(14, 26)):
            if depth >= 2 and rng.random() < 0.5:
                words.append(rng.choice("+-*/"))
                depth -= 1
            elif depth >= 1 and rng.random() < 0.25:
                words.append(rng.choice(["sqrt", "exp", "log", "pow:2", "pow:-0.5", "pow:1.7"]))
            else:
                if rng.random() < 0.12:
                    words.append(repr(round(rng.uniform(0.2, 4), 2)))
                else:
                    i = rng.randrange(9)
                    used.add(i)
                    words.append(f"x{i}")
                depth += 1
        while depth > 1:
            words.append(rng.choice("+-*/"))
            depth -= 1
        if len(used) >= 4:
            return " ".join(words)


def evaluate(model, inputs):
    stack = []
    for word in model.split():
        if word in ("+", "-", "*", "/"):
            b, a = stack.pop(), stack.pop()
            stack.append(a + b if word == "+" else a - b if word == "-" else a * b if word == "*" else a / b)
        elif word in ("sqrt", "exp", "log"):
            stack.append(getattr(umath, word)(stack.pop()))
        elif word.startswith("pow:"):
            stack.append(stack.pop() ** float(word[4:]))
        elif word.startswith("x"):
            stack.append(inputs[int(word[1:])])
        else:
            stack.append(float(word))
    (result,) = stack
    return result


inputs = [uncertainties.ufloat(i["value"], i["u"]) for i in independent]
inputs += list(uncertainties.correlated_values(values, covariance))

models = []
while len(models) < 10:
    text = random_model()
    try:
        y = evaluate(text, inputs)
        moderate = 1e-6 < abs(y.n) < 1e6 and 1e-7 < y.s / abs(y.n) < 10
    except (ArithmeticError, ValueError, AttributeError, TypeError):
        continue
    if moderate:
        models.append((text, y))

matrix = uncertainties.covariance_matrix([y for _, y in models])
with open(os.path.join(here, "cases.json"), "w") as f:
    json.dump(
        {
            "independent": independent,
            "correlated": {"values": values, "covariance": covariance},
            "models": [{"model": text, "value": y.n, "u": y.s} for text, y in models],
            "covariance": matrix,
        },
        f,
        indent=1,
    )
    f.write("\n")
