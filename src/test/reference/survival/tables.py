"""Barnard's and Boschloo's tests by exact fractions and a dense grid, beside scipy. Prints what tables.out holds."""
from fractions import Fraction as F
import numpy as np
import scipy
from scipy.stats import barnard_exact, binom, boschloo_exact, fisher_exact

print("scipy", scipy.__version__)


def squared_z(i, j, n1, n2):
    s = F(i + j, n1 + n2)
    v = s * (1 - s) * (F(1, n1) + F(1, n2))
    return (F(i, n1) - F(j, n2)) ** 2 / v if v else F(0)


def barnard(i0, n1, j0, n2):
    observed = squared_z(i0, j0, n1, n2)
    extreme = np.array([[squared_z(i, j, n1, n2) >= observed for j in range(n2 + 1)] for i in range(n1 + 1)]) * 1.0
    ties = sum(squared_z(i, j, n1, n2) == observed for i in range(n1 + 1) for j in range(n2 + 1))
    grid = np.linspace(0.00005, 0.99995, 40001)
    return ties, max(binom.pmf(range(n1 + 1), n1, p) @ extreme @ binom.pmf(range(n2 + 1), n2, p) for p in grid)


print("barnard [[7,12],[8,3]]: tables that tie, supremum", barnard(7, 15, 12, 15))
print("scipy barnard_exact", barnard_exact([[7, 12], [8, 3]]).pvalue)
b = boschloo_exact([[7, 12], [8, 3]], n=256)
print("scipy boschloo_exact statistic, p", b.statistic, b.pvalue)
print("scipy boschloo_exact [[7,0],[13,20]]", boschloo_exact([[7, 0], [13, 20]], n=256).pvalue)
print("fisher less", fisher_exact([[7, 12], [8, 3]], alternative="less")[1])
