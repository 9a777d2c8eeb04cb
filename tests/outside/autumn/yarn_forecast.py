"""How much yarn the days to come may take, written anew from the published formulas.

Answers: the chances a colour lasts with, when it may run out and the balls to buy, by another road
than the program's: the beta-binomial chances by their definition with gamma functions, not by the
ratio of neighbours. Reads nothing and knows no blanket. Source: J. G. Skellam, Journal of the
Royal Statistical Society B 10(2), 1948, pages 257 to 261 (beta-binomial); R. T. Birge, Physical
Review 40, 1932, pages 207 to 227 (weighings that disagree); the rest is arithmetic.
"""

from __future__ import annotations

from math import erfc, exp, lgamma, sqrt

WORDS = {"hardly ever": 1, "sometimes": 4, "often": 10, "most days": 20}


def normalised(weights: list[float]) -> list[float]:
    return [weight / sum(weights) for weight in weights]


class Forecast:
    """From the tiers of the days so far, oldest first and from 0, and the maker's words if any."""

    def __init__(self, days: list[int], tiers: int, words: list[str] | None) -> None:
        t, self.tiers = len(days), tiers
        middle, width = (tiers - 1) / 2, tiers / 3
        by_place = [exp(-(((k - middle) / width) ** 2) / 2) for k in range(tiers)]
        expected = normalised([WORDS[word] for word in words] if words else by_place)
        seen = [days.count(k) / t if t else 0.0 for k in range(tiers)]
        self.t, (self.c1, self.c2) = t, self.memory(days, seen)
        self.vpp = self.spread(t) / t**2 if t else None
        self.b = (1 / self.vpp) / (1 / self.vpp + 16) if t else 0.0
        near = [[exp(-((j - k) ** 2) / 2) for j in range(tiers)] for k in range(tiers)]
        given = [sum(row) for row in near]
        smooth = [
            sum(seen[j] * near[j][k] / given[j] for j in range(tiers)) for k in range(tiers)
        ]
        part = t / (t + 32)
        believed = [(1 - part) * p + part * g for p, g in zip(expected, smooth)]
        self.shares = [(1 - self.b) * q + self.b * f for q, f in zip(believed, seen)]

    @staticmethod
    def memory(days: list[int], seen: list[float]) -> tuple[float, float]:
        """The weights of the short and of the long memory, learned from thirty days on."""
        t = len(days)
        if t < 30:
            return 0.15, 0.03
        off = [[(day == k) - share for day in days] for k, share in enumerate(seen)]
        all_of = sum(x * x for row in off for x in row) / t

        def alike(lag: int) -> float:
            products = sum(row[i] * row[i - lag] for row in off for i in range(lag, t))
            return products / (t - lag) / all_of if all_of else 0.0

        r1 = max(0.0, alike(1) + 1 / t)
        rm = max(0.0, sum(alike(lag) for lag in range(8, 22)) / 14 + 1 / t)
        c2 = min(0.5, (120 * 0.03 + t * rm) / (120 + t))
        s = (120 * (0.15 * 0.6 + 0.03) + t * r1) / (120 + t)
        c1 = min(0.6, max(0.0, (s - c2) / 0.6))
        return (0.95 - c2 if c1 + c2 > 0.95 else c1), c2

    def spread(self, n: int) -> float:
        """The variance of a sum of n days, every pair of days with its correlation."""
        pairs = sum(2 * (n - lag) * self.alike(lag) for lag in range(1, n))
        return n + pairs

    def alike(self, lag: int) -> float:
        return self.c1 * 0.6**lag + self.c2 * exp(-lag / 90)

    def variance(self, h: int) -> float:
        vff = self.spread(h) / h**2
        if self.t == 0:
            return vff + 0.05
        # A past day a days before the last and the future day j are a + j apart.
        vpf = sum(
            (min(self.t - 1, lag - 1) - max(0, lag - h) + 1) * self.alike(lag)
            for lag in range(1, self.t + h)
        ) / (self.t * h)
        b = self.b
        return vff - 2 * b * vpf + b * b * self.vpp + (1 - b) ** 2 * 0.05

    def to_come(self, share: float, h: int) -> list[float]:
        """The chance of each count among the next h days."""
        if h == 0:
            return [1.0]
        if h == 1:
            return [1 - share, share]
        rho = min(0.95, max(1e-6, (self.variance(h) - 1 / h) / (1 - 1 / h)))
        strength = 1 / rho - 1
        a, b = share * strength, (1 - share) * strength

        def log_beta(x: float, y: float) -> float:
            return lgamma(x) + lgamma(y) - lgamma(x + y)

        def chance(n: int) -> float:
            ways = lgamma(h + 1) - lgamma(n + 1) - lgamma(h - n + 1)
            return exp(ways + log_beta(a + n, b + h - n) - log_beta(a, b))

        return [chance(n) for n in range(h + 1)]


def weigh(pairs: list[tuple[int, float]], step: float,
          prior: tuple[float, float] | None) -> tuple[float, float, float | None]:
    """Grams per row, its standard error and the Birge ratio, from (rows, grams) pairs."""
    g = sum(grams for _, grams in pairs) / sum(rows for rows, _ in pairs)

    def variance(rows: int, grams_per_row: float) -> float:
        return step**2 / 6 + rows * (0.05 * grams_per_row) ** 2

    for _ in range(3):
        v = [variance(rows, g) for rows, _ in pairs]
        precision = sum(rows**2 / x for (rows, _), x in zip(pairs, v))
        g = sum(rows * grams / x for (rows, grams), x in zip(pairs, v)) / precision
    ratio = None
    if len(pairs) > 1:
        chi2 = sum((grams - rows * g) ** 2 / variance(rows, g) for rows, grams in pairs)
        ratio = sqrt(chi2 / (len(pairs) - 1))
    se = max(1.0, ratio or 0.0) / sqrt(precision)
    if prior:
        p, q = se**-2, prior[1] ** -2
        g, se = (p * g + q * prior[0]) / (p + q), (p + q) ** -0.5
    return g, se, ratio


def short(rows: int, on_hand: tuple[float, float], row: tuple[float, float],
          kept_back: tuple[float, float] = (0.0, 0.0)) -> float:
    """The chance that the yarn is not enough for so many rows; values with their errors."""
    need = rows * row[0] + kept_back[0]
    if need <= 0:
        return 0.0
    of_rows = (rows * row[1]) ** 2 + rows * (0.05 * row[0]) ** 2
    sd = sqrt(of_rows + on_hand[1] ** 2 + kept_back[1] ** 2)
    return 0.5 * erfc((on_hand[0] - need) / sd / sqrt(2))


def lasts(forecast: Forecast, share: float, h: int, known: int, on_hand: tuple[float, float],
          row: tuple[float, float], kept_back: tuple[float, float] = (0.0, 0.0)) -> float:
    chances = forecast.to_come(share, h)
    return sum(p * (1 - short(known + n, on_hand, row, kept_back)) for n, p in enumerate(chances))


def runs_out(forecast: Forecast, share: float, h: int, known: int, on_hand: tuple[float, float],
             row: tuple[float, float], chance: float) -> int | None:
    """After how many days to come the colour is short with this chance."""
    for days in range(h + 1):
        if 1 - lasts(forecast, share, days, known, on_hand, row) >= chance:
            return days
    return None


def balls(forecast: Forecast, share: float, h: int, known: int, on_hand: tuple[float, float],
          row: tuple[float, float], ball: float, target: float,
          kept_back: tuple[float, float] = (0.0, 0.0)) -> int:
    count = 0
    while lasts(forecast, share, h, known, (on_hand[0] + count * ball, on_hand[1]), row,
                kept_back) < target:
        count += 1
    return count


def worked_values() -> int:
    """The published worked values of the formulas; how many were checked."""
    made = 0

    def near(got: float, want: float) -> None:
        nonlocal made
        made += 1
        assert abs(got - want) < 1.5e-6, (got, want)

    x30 = [int(c) for c in "223122333432212323432211223342"]
    five = ["hardly ever", "sometimes", "most days", "often", "sometimes"]
    e1 = Forecast([], 5, five)
    near(e1.variance(365), 0.065092)
    for got, want in zip(e1.shares, [0.025641, 0.102564, 0.512821, 0.256410, 0.102564]):
        near(got, want)
    near(sum(e1.to_come(e1.shares[2], 365)[:181]), 0.443910)
    e2 = Forecast(x30[:14], 5, five)
    near(e2.b, 0.334754)
    near(e2.variance(351), 0.046853)
    near(e2.to_come(e2.shares[0], 351)[0], 0.218741)
    e3 = Forecast(x30, 5, None)
    near(e3.c1, 0.099670)
    near(e3.c2, 0.040202)
    near(e3.variance(335), 0.042361)
    for got, want in zip(e3.shares, [0.054007, 0.173720, 0.352922, 0.291867, 0.127484]):
        near(got, want)
    near(e3.to_come(e3.shares[0], 335)[0], 0.027410)
    near(e3.variance(1), 0.995848)
    pairs = [(4, 33.0), (6, 48.0), (3, 26.0)]
    near(weigh(pairs, 1, None)[0], 8.217265)
    near(weigh(pairs, 1, None)[1], 0.181885)
    near(weigh([(2, 15.0), (10, 84.0)], 1, (8.5, 2.125))[1], 0.298382)
    return made


if __name__ == "__main__":
    print(f"{worked_values()} worked values agree")
