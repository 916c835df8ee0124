"""Golden values of the distributions, written to golden.json beside this file.

mpmath 1.3.0 with 60 digits: incomplete beta and gamma functions and root finding, at the exact binary value of every
argument. Run by hand: python3 make-golden.py
"""
import json
import pathlib
from mpmath import mp, mpf, betainc, gammainc, erfc, sqrt, log, binomial, findroot, nstr, inf, loggamma

mp.dps = 80


def beta_fraction(a, b, x, y):
    """I_x(a, b) for x below a/(a + b): the continued fraction of DLMF 8.17.22 by Lentz's method, to 75 digits."""
    front = mp.exp(a * log(x) + b * log(y) + loggamma(a + b) - loggamma(a) - loggamma(b)) / a
    c, d, f = mpf(1), mpf(0), mpf(1)
    for n in range(1, 1_000_000):
        m = n // 2
        if n % 2 == 0:
            step = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m))
        else:
            step = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1))
        d = 1 / (1 + step * d)
        c = 1 + step / c
        f *= c * d
        if abs(c * d - 1) < mpf(10) ** -75:
            return front / f
    raise ArithmeticError("the fraction did not settle")


def beta_lower(a, b, x, y):
    """I_x(a, b) with y = 1 - x given apart, so that nothing is lost near 1."""
    if x * (a + b) < a:
        return beta_fraction(a, b, x, y)
    return 1 - beta_fraction(b, a, y, x)


# The fraction against mpmath's own hypergeometric series where that converges.
for a, b, x in ((0.5, 0.5, 0.1), (10, 20, 0.2), (3, 248, 0.005), (97, 1.5, 0.9)):
    a, b, x = mpf(a), mpf(b), mpf(x)
    assert abs(beta_lower(a, b, x, 1 - x) / betainc(a, b, 0, x, regularized=True) - 1) < mpf(10) ** -60


def t_tail(t, nu):
    """P(T >= t), t > 0."""
    return beta_lower(nu / 2, mpf(1) / 2, nu / (nu + t * t), t * t / (nu + t * t)) / 2


def chi_lower(x, nu):
    return gammainc(nu / 2, 0, x / 2, regularized=True)


def chi_upper(x, nu):
    return gammainc(nu / 2, x / 2, inf, regularized=True)


def f_lower(x, a, b):
    return beta_lower(a / 2, b / 2, a * x / (a * x + b), b / (a * x + b))


def f_upper(x, a, b):
    return beta_lower(b / 2, a / 2, b / (a * x + b), a * x / (a * x + b))


def normal_lower(z):
    return erfc(-z / sqrt(mpf(2))) / 2


def solve(function, target, low, high):
    """x with function(x) = target on a positive bracket that is widened as needed; the root is sought in ln x."""
    g = lambda u: log(function(mp.exp(u))) - log(target)
    a, b = log(mpf(low)), log(mpf(high))
    while g(a) * g(b) > 0:
        a, b = a - 2, b + 2
    for _ in range(24):
        middle = (a + b) / 2
        if g(a) * g(middle) <= 0:
            b = middle
        else:
            a = middle
    return mp.exp(findroot(g, (a, b), solver="anderson", tol=mpf(10) ** -50, maxsteps=500, verify=False))


def student_quantile(p, nu):
    tail = 1 - p if p > 0.5 else p
    if tail == mpf(1) / 2:
        return mpf(0)
    t = solve(lambda t: t_tail(t, nu), tail, "1e-3", "1e3")
    return t if p > 0.5 else -t


def normal_quantile(p):
    tail = 1 - p if p > 0.5 else p
    z = solve(lambda z: normal_lower(-z), tail, "1e-2", "10")
    return z if p > 0.5 else -z


def smaller_tail_quantile(lower, upper, p, centre):
    if p <= 0.5:
        return solve(lower, p, centre / 4, centre * 4)
    return solve(upper, 1 - p, centre / 4, centre * 4)


def beta_quantile(p, a, b):
    odds = lambda u: beta_lower(a, b, u / (1 + u), 1 / (1 + u))
    over = lambda u: beta_lower(b, a, 1 / (1 + u), u / (1 + u))
    u = smaller_tail_quantile(odds, over, p, a / b)
    return u / (1 + u)


cases = []


def case(function, arguments, value):
    cases.append({"function": function, "arguments": arguments, "value": nstr(value, 25)})


for p in (1e-300, 1e-100, 1e-20, 1e-15, 1e-10, 1e-6, 1e-4, 0.001, 0.005, 0.0099, 0.01, 0.025, 0.05, 0.1, 0.25, 0.4,
          0.6, 0.75, 0.9, 0.95, 0.975, 0.9772498680518208, 0.99, 0.995, 0.999, 0.99999, 1 - 1e-10):
    case("normalQuantile", [p], normal_quantile(mpf(p)))
for x in (-37.0, -20.0, -10.0, -5.0, -3.0, -1.0, -0.1, 0.5, 1.96, 5.0):
    case("normalCdf", [x], normal_lower(mpf(x)))
for nu in (0.5, 1, 2, 2.7, 3, 4.3, 5, 7, 8, 10, 16.7, 19, 30, 40, 56.0036, 100, 999.5, 99998):
    for p in (1e-9, 0.025, 0.3, 0.6, 0.75, 0.95, 0.975, 0.9772498680518208, 0.995, 0.9995, 1 - 1e-6):
        case("studentQuantile", [p, nu], student_quantile(mpf(p), mpf(nu)))
for nu in (1, 2.5, 8, 17.77647351618, 50, 1000):
    for t in (0.1, 1.0, 1.86, 5.0, 20.0, 100.0):
        case("studentTwoSidedP", [t, nu], 2 * t_tail(mpf(t), mpf(nu)))
for nu in (1, 2, 2.5, 5, 19, 29, 100, 194, 399, 401, 2000):
    n = mpf(nu)
    for p in (0.001, 0.005, 0.025, 0.05, 0.5, 0.95, 0.975, 0.995, 0.999):
        value = smaller_tail_quantile(lambda x: chi_lower(x, n), lambda x: chi_upper(x, n), mpf(p), n)
        case("chiSquaredQuantile", [p, nu], value)
    for ratio in (0.3, 0.8, 1.0, 1.3, 2.0, 8.88421052631579):
        case("chiSquaredUpperP", [ratio * nu, nu], chi_upper(mpf(ratio * nu), n))
for d1, d2 in ((1, 1), (1, 10), (2, 3.5), (4, 20), (9, 40), (9, 90), (60, 2.5), (18, 60), (200, 300), (5, 1000)):
    a, b = mpf(d1), mpf(d2)
    for p in (0.01, 0.05, 0.5, 0.95, 0.975, 0.99):
        value = smaller_tail_quantile(lambda x: f_lower(x, a, b), lambda x: f_upper(x, a, b), mpf(p), mpf(1))
        case("fQuantile", [p, d1, d2], value)
    for x in (0.2, 1.0, 2.3, 10.0, 245.6):
        case("fUpperP", [x, d1, d2], f_upper(mpf(x), a, b))
for a, b in ((0.5, 0.5), (1, 20), (3, 248), (38, 213), (81, 183), (82, 182), (1000, 30)):
    for p in (0.005, 0.025, 0.05, 0.5, 0.95, 0.975, 0.995):
        case("betaQuantile", [p, a, b], beta_quantile(mpf(p), mpf(a), mpf(b)))
for k, n, p in ((0, 20, 0.1), (3, 20, 0.1), (20, 20, 0.1), (11, 32, 0.20992), (58, 141, 0.5), (500, 1000, 0.5),
                (5, 100000, 0.0001), (900, 1000, 0.5)):
    q = mpf(p)
    case("binomialPmf", [k, n, p], binomial(n, k) * q ** k * (1 - q) ** (n - k))

path = pathlib.Path(__file__).with_name("golden.json")
lines = ",\n".join("  " + json.dumps(entry) for entry in cases)
path.write_text("[\n" + lines + "\n]\n")
print(len(cases), "values")
