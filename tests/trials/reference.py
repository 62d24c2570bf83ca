"""Writes fits.txt: the law of several sets of strips, by scipy.

    pip install numpy==2.4.6 scipy==1.17.1
    python3 tests/trials/reference.py > tests/trials/fits.txt

Each set is a block: `set NAME READING`, a line `strip MINUTES CELSIUS CONTRAST` for each strip, then what scipy finds:
`limit`, `rate`, `start`, `scatter`, with several temperatures `factor LOW BEST HIGH`, and for some contrasts
`time CONTRAST CELSIUS MINUTES HALF_WIDTH`. The law is limit * (1 - exp(-rate * (t - start))), where t counts
factor ** ((celsius - 20) / 10) times. The half width is the larger of twice the reading error and Student's quantile
times the scatter, each through the covariance of the constants.
"""

import numpy as np
import scipy
from scipy.optimize import least_squares
from scipy.stats import t as student

E9 = [(4, 20, 0.38), (5.5, 20, 0.51), (8, 20, 0.66), (11, 20, 0.77), (15, 20, 0.87)]
E10 = E9 + [(4, 24, 0.50), (7.5, 24, 0.75), (8, 18, 0.61), (13, 18, 0.78)]
SETS = {
    "five": (0.01, E9, [(0.5695, 20), (0.4983, 20), (0.6644, 20)]),
    "temperatures": (0.01, E10, [(0.57, 18), (0.57, 20), (0.57, 22), (0.57, 24)]),
    "twice": (0.01, [(t, c, g + d) for (t, c, g) in E9 for d in (-0.006, 0.006)], [(0.5695, 20), (0.80, 20)]),
    "warm": (0.02, [(2, 24, 0.31), (3, 24, 0.44), (4.5, 24, 0.60), (6.5, 24, 0.74), (9, 24, 0.83), (12, 24, 0.90)],
             [(0.55, 24), (0.70, 24)]),
    "scattered": (0.01, [(4, 20, 0.39), (5.5, 20, 0.50), (8, 20, 0.67), (11, 20, 0.765), (15, 20, 0.875)],
                  [(0.5695, 20), (0.6644, 20)]),
    "no-start": (0.01, [(3, 20, 0.46), (5, 20, 0.60), (8, 20, 0.75), (12, 20, 0.90), (18, 20, 0.97)],
                 [(0.5695, 20), (0.80, 20)]),
}


def fit(strips):
    t, c, g = (np.array(column, float) for column in zip(*strips))
    several = len(set(c)) > 1
    reference = 20.0 if several else c[0]

    def law(p, t, c):
        factor = p[3] if several else 1.0
        return p[0] * -np.expm1(-p[1] * (t * factor ** ((c - reference) / 10) - p[2]))

    low, high = [0.01, 0.005, 0.0], [10, 3.0, 50]
    start = [1.0, 0.15, 0.5]
    if several:
        low, high, start = low + [1.05], high + [5.0], start + [2.5]
    found = least_squares(lambda p: law(p, t, c) - g, start, bounds=(low, high), xtol=1e-15, ftol=1e-15, gtol=1e-15,
                          max_nfev=100000)
    p = found.x
    # A start at its bound is not a result of the strips: the law has only the other constants.
    free = [i for i in range(len(p)) if not (i == 2 and p[2] < 1e-6)]
    if 2 not in free:
        p[2] = 0.0
        again = least_squares(lambda q: law([q[0], q[1], 0.0], t, c) - g, p[:2], xtol=1e-15, ftol=1e-15, gtol=1e-15)
        p[:2] = again.x
    # The Jacobian by central differences, independent of any formula.
    columns = []
    for i in free:
        h = 1e-6 * max(1, abs(p[i]))
        up, down = p.copy(), p.copy()
        up[i] += h
        down[i] -= h
        columns.append((law(up, t, c) - law(down, t, c)) / (2 * h))
    j = np.array(columns).T
    dof = len(g) - len(free)
    scatter = np.sqrt(np.sum((law(p, t, c) - g) ** 2) / dof)
    return p, free, np.linalg.inv(j.T @ j), scatter, dof, reference, several


def main():
    print(f"# numpy {np.__version__}, scipy {scipy.__version__}")
    for name, (reading, strips, asked) in SETS.items():
        p, free, covariance, scatter, dof, reference, several = fit(strips)
        wide = max(2 * reading, student.ppf(0.975, dof) * scatter)

        def minutes(p, contrast, celsius):
            factor = p[3] if several else 1.0
            return (p[2] - np.log(1 - contrast / p[0]) / p[1]) / factor ** ((celsius - reference) / 10)

        print(f"set {name} {reading}")
        for strip in strips:
            print("strip {} {} {:.4f}".format(*strip))
        print(f"limit {p[0]:.6f}\nrate {p[1]:.6f}\nstart {p[2]:.6f}\nscatter {scatter:.6f}")
        if several:
            half = wide * np.sqrt(covariance[3, 3]) / p[3]
            print(f"factor {p[3] * np.exp(-half):.5f} {p[3]:.5f} {p[3] * np.exp(half):.5f}")
        for contrast, celsius in asked:
            gradient = []
            for i in free:
                h = 1e-6 * max(1, abs(p[i]))
                up, down = p.copy(), p.copy()
                up[i] += h
                down[i] -= h
                gradient.append((minutes(up, contrast, celsius) - minutes(down, contrast, celsius)) / (2 * h))
            gradient = np.array(gradient)
            half = wide * np.sqrt(gradient @ covariance @ gradient)
            print(f"time {contrast} {celsius} {minutes(p, contrast, celsius):.5f} {half:.5f}")


main()
