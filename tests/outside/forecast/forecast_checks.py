"""What should the yarn forecast say? Worked out anew, by other means, with scipy and numpy.

The program sums series in closed form and goes from one beta-binomial chance to the next; here
variances are added up lag by lag, chances come from scipy.stats.betabinom and norm, and balls and
days are tried one after the other. It has never seen the program's sources.

    forecast_checks.py selftest
    forecast_checks.py cases SEED COUNT >FILE
    forecast_checks.py compare FILE FILE

A case is a line of JSON: what the program is told, and under "answers" what it should say.
"""

from __future__ import annotations

import json
import math
import pathlib
import sys
from typing import Any

import numpy as np
from scipy.stats import betabinom, binom, norm

Json = dict[str, Any]
WORDS = (1, 4, 10, 20)
FAST, SLOW = 0.6, math.exp(-1 / 90)
BALLS_MAX = 200
# Counts of rows and balls are the same or they are not; other numbers may differ by this.
SAME = 1e-9


def prior(tiers: int, words: list[int] | None) -> np.ndarray:
    """The words' weights, or a bell over the scale's middle, a third of the scale wide."""
    if words is not None:
        weights = np.array([WORDS[word] for word in words], float)
    else:
        weights = norm.pdf(np.arange(tiers), (tiers - 1) / 2, tiers / 3)
    return weights / weights.sum()


def memory(days: np.ndarray, tiers: int) -> tuple[float, float]:
    """How much of a day's variance is shared with the days near it, and with the season."""
    count = len(days)
    if count < 30:
        return 0.15, 0.03
    off = np.eye(tiers)[days]
    off = off - off.mean(axis=0)
    variance = np.mean(np.sum(off * off, axis=1))

    def at(lag: int) -> float:
        if variance == 0:
            return 0.0
        return float(np.mean(np.sum(off[lag:] * off[:-lag], axis=1)) / variance)

    def with_expected(expected: float, seen: float) -> float:
        return (120 * expected + count * max(0.0, seen + 1 / count)) / (120 + count)

    slow = min(0.5, with_expected(0.03, float(np.mean([at(lag) for lag in range(8, 22)]))))
    fast = min(0.6, max(0.0, (with_expected(0.15 * FAST + 0.03, at(1)) - slow) / FAST))
    return min(fast, 0.95 - slow), slow


def model(days: list[int], tiers: int, words: list[int] | None, ahead: int) -> tuple[Any, float]:
    """The expected share of each tier, and the correlation of two days to come."""
    past, ahead = len(days), int(ahead)
    fast, slow = memory(np.array(days, int), tiers)
    lags = np.arange(past + ahead + 1)
    alike = fast * FAST**lags + slow * SLOW**lags
    alike[0] = 1.0

    def mean_over(one: range, other: range) -> float:
        # Day by day: the correlation depends on the lag alone.
        sums = np.concatenate([[0.0], np.cumsum(alike)])
        total = 0.0
        for day in one:
            before, after = max(0, day - other.start + 1), max(0, other.stop - day)
            if other.start <= day < other.stop:
                total += sums[before] + sums[after] - alike[0]
            else:
                total += sums[other.stop - day] - sums[other.start - day]
        return total / (len(one) * len(other))

    seen, to_come = range(past), range(past, past + ahead)
    of_future = mean_over(to_come, to_come) if ahead else 1.0
    expected = prior(tiers, words)
    if past == 0:
        shares, variance = expected, of_future + 0.05
    else:
        of_past = mean_over(seen, seen)
        own = (1 / of_past) / (1 / of_past + 16)
        between = mean_over(seen, to_come) if ahead else 0.0
        variance = of_future - 2 * own * between + own**2 * of_past + (1 - own) ** 2 * 0.05
        counted = np.bincount(days, minlength=tiers) / past
        near = np.exp(-np.subtract.outer(np.arange(tiers), np.arange(tiers)) ** 2 / 2)
        smooth = (near / near.sum(axis=0)) @ counted
        grown = past / (past + 32)
        shares = (1 - own) * ((1 - grown) * expected + grown * smooth) + own * counted
    if ahead < 2:
        return shares, 0.0
    return shares, min(0.95, max(1e-6, (variance - 1 / ahead) / (1 - 1 / ahead)))


def counts(share: float, alike: float, ahead: int) -> Any:
    """The distribution of the days of one tier."""
    if ahead < 2:
        return binom(ahead, share)
    strength = 1 / alike - 1
    return betabinom(ahead, share * strength, (1 - share) * strength)


def quantile(chances: np.ndarray, chance: float) -> int:
    """Two tiers as likely as each other have an exact half, whatever the last digit says."""
    return int(np.argmax(np.cumsum(chances) >= chance - SAME))


def enough(case: Json, grams: float, chances: np.ndarray) -> float:
    rows = case["known_rows"] + case["rows_per_day"] * np.arange(len(chances))
    need = rows * case["row_grams"] + case["kept_grams"]
    error = np.sqrt(
        (rows * case["row_se_grams"]) ** 2
        + rows * (0.05 * case["row_grams"]) ** 2
        + 0.3**2
        + case["kept_se_grams"] ** 2
    )
    # A need of nothing is met for certain.
    return float(np.sum(chances * np.where(need > 0, norm.cdf((grams - need) / error), 1.0)))


def balls(case: Json, chances: np.ndarray, target: float) -> int | None:
    for bought in range(BALLS_MAX + 1):
        if enough(case, case["on_hand_grams"] + bought * case["ball_grams"], chances) >= target:
            return bought
    return None


def run_out(case: Json, days: list[int]) -> list[int | None]:
    found: list[int | None] = [None, None]
    for until in range(case["ahead"] + 1):
        shares, alike = model(days, case["tiers"], case["words"], until)
        of = counts(shares[case["tier"]], alike, until)
        short = 1 - enough(case, case["on_hand_grams"], of.pmf(np.arange(until + 1)))
        for index, chance in enumerate((0.1, 0.5)):
            if found[index] is None and short >= chance:
                found[index] = until
    return found


def answers(case: Json) -> Json:
    days = [int(digit, 16) for digit in case["days"]]
    shares, alike = model(days, case["tiers"], case["words"], case["ahead"])
    share, ahead = float(shares[case["tier"]]), case["ahead"]
    of = counts(share, alike, ahead)
    chances = of.pmf(np.arange(ahead + 1))
    told = {
        "share": share,
        "mean": float(of.mean()),
        "none": float(chances[0]),
        "at_most_mean": float(of.cdf(math.floor(share * ahead))),
        "likely": quantile(chances, 0.5),
        "plan_on": quantile(chances, 0.9),
        "enough": enough(case, case["on_hand_grams"], chances),
        "balls": [balls(case, chances, target) for target in (0.5, 0.9, 0.98)],
    }
    if case["with_run_out"]:
        told["run_out"] = run_out(case, days)
    if case["weighings"]:
        told["weighed"] = weighed(case)
    return told


def weighed(case: Json) -> Json:
    """Grams a row by least squares, twice reweighted, widened by the Birge ratio."""
    rows, grams = np.array(case["weighings"], float).T
    per_row = grams.sum() / rows.sum()
    for _ in range(3):
        error = np.sqrt(case["step_grams"] ** 2 / 6 + rows * (0.05 * per_row) ** 2)
        (found,), *_ = np.linalg.lstsq((rows / error)[:, None], grams / error, rcond=None)
        before, per_row = error, float(found)
    se = 1 / math.sqrt(float(np.sum((rows / before) ** 2)))
    ratio = None
    if len(rows) > 1:
        error = np.sqrt(case["step_grams"] ** 2 / 6 + rows * (0.05 * per_row) ** 2)
        ratio = math.sqrt(float(np.sum(((grams - rows * per_row) / error) ** 2)) / (len(rows) - 1))
        se *= max(1.0, ratio)
    return {"grams": per_row, "se_grams": se, "ratio": ratio}


def made_up(seed: int, count: int) -> list[Json]:
    """Cases of every length and kind: quick and slow makers, little and much yarn."""
    rng = np.random.default_rng(seed)
    cases = []
    for number in range(count):
        tiers = int(rng.integers(2, 13))
        any_past = [rng.integers(3, 120), rng.integers(120, 366)]
        past = int(rng.choice([0, 1, 2, 13, 29, 30, 31, *any_past]))
        common, days = rng.dirichlet(np.full(tiers, 0.7)), []
        stays = rng.choice([0.0, 0.3, 0.8, 1.0], p=[0.4, 0.3, 0.25, 0.05])
        for _ in range(past):
            stay = days and rng.random() < stays
            days.append(days[-1] if stay else int(rng.choice(tiers, p=common)))
        any_ahead = [rng.integers(4, 60), rng.integers(60, 367)]
        ahead = int(rng.choice([0, 1, 2, 3, *any_ahead, 732 - past]))
        if number % 10 == 0:
            ahead = min(ahead, 150)
        words = [int(word) for word in rng.integers(0, 4, tiers)] if rng.random() < 0.5 else None
        on_hand = float(rng.choice([0, rng.uniform(0, 60), rng.uniform(0, 900)]))
        row = round(float(rng.uniform(0.5, 15)), 2)
        step = float(rng.choice([0.1, 1]))
        # Half of the makers weigh well, and the others miscount.
        off = rng.choice([0.05, 0.5])
        weighings = []
        for rows in rng.integers(1, 12, rng.integers(0, 5)):
            grams = step * round(rows * row * float(rng.normal(1, off)) / step)
            weighings.append([int(rows), round(max(step, grams), 1)])
        cases.append({
            "tiers": tiers,
            "words": words,
            "days": "".join(f"{day:x}" for day in days),
            "ahead": ahead,
            "tier": int(rng.integers(tiers)),
            "on_hand_grams": round(on_hand, 1),
            "row_grams": row,
            "row_se_grams": round(float(rng.choice([0, 0.03, 0.1, 0.25])) * row, 3),
            "known_rows": int(rng.choice([0, 0, 1, rng.integers(2, 40)])),
            "rows_per_day": int(rng.choice([1, 1, 1, 2])),
            "kept_grams": float(rng.choice([0, 0, 0, 25])),
            "kept_se_grams": float(rng.choice([0, 0, 4])),
            "ball_grams": float(rng.choice([25, 50, 100])),
            "with_run_out": number % 10 == 0,
            "step_grams": step,
            "weighings": weighings,
        })
    return cases


def differences(one: Any, other: Any, where: str = "") -> list[str]:
    """Where two readings of JSON differ by more than the last digits of a number."""
    if isinstance(one, dict) and isinstance(other, dict):
        if one.keys() != other.keys():
            return [f"{where}: {sorted(one)} and {sorted(other)}"]
        return [line for key in one for line in differences(one[key], other[key], f"{where} {key}")]
    if isinstance(one, list) and isinstance(other, list) and len(one) == len(other):
        pairs = enumerate(zip(one, other))
        return [line for at, (a, b) in pairs for line in differences(a, b, f"{where} {at}")]
    if isinstance(one, float) and isinstance(other, float):
        same = abs(one - other) <= SAME * max(1.0, abs(one))
    else:
        same = type(one) is type(other) and one == other
    return [] if same else [f"{where}: {one} and {other}"]


def shortened(value: Any) -> Any:
    """Without the digits of a number that another machine may round otherwise."""
    if isinstance(value, dict):
        return {key: shortened(each) for key, each in value.items()}
    return round(value, 12) if isinstance(value, float) else value


def compare(one: list[Json], other: list[Json]) -> list[str]:
    if len(one) != len(other) or not one:
        return [f"{len(one)} cases and {len(other)}"]
    numbered = enumerate(zip(one, other), 1)
    return [line for at, (a, b) in numbered for line in differences(a, b, f"case {at}")]


def lines(file: str) -> list[Json]:
    return [json.loads(line) for line in pathlib.Path(file).read_text("utf-8").splitlines()]


def selftest() -> list[str]:
    """Numbers worked by hand or known, and pairs of files that are the same and are not."""
    wrong = []

    def close(name: str, ours: float, expected: float, within: float = 1e-6) -> None:
        if not abs(ours - expected) <= within:
            wrong.append(f"{name}: {ours}, expected {expected}")

    # 6 of 10 days alike by chance alone: the beta-binomial with both parameters 1 is uniform.
    close("uniform", counts(0.5, 1 / 3, 10).pmf(6), 1 / 11)
    # One day to come is a coin with the tier's share.
    close("one day", counts(0.3, 0.0, 1).pmf(1), 0.3)
    # Before any day: 1, 4, 10 and 20 of 35.
    shares, alike = model([], 4, [0, 1, 2, 3], 1)
    close("words", shares[3], 20 / 35)
    close("one day's likeness", alike, 0.0)
    # Two days to come and none behind: 1/2 + (.15 * .6 + .03 w) / 2, and .05 for the words.
    shares, alike = model([], 2, None, 2)
    close("two days", alike, 0.15 * FAST + 0.03 * SLOW + 2 * 0.05)
    plain = {"known_rows": 4, "rows_per_day": 1, "row_grams": 8.25, "row_se_grams": 0.25,
             "kept_grams": 0.0, "kept_se_grams": 0.0, "on_hand_grams": 33.0, "ball_grams": 50.0}
    close("even odds", enough(plain, 33.0, np.ones(1)), 0.5)
    if balls(plain, np.ones(1), 0.9) != 1:
        wrong.append("one more ball was not enough")
    # Two equal weighings agree perfectly.
    same = weighed({"weighings": [[5, 40.0], [5, 40.0]], "step_grams": 1.0})
    close("agreed grams", same["grams"], 8.0)
    close("agreed ratio", same["ratio"], 0.0)
    cases = [dict(case, answers=answers(case)) for case in made_up(1, 20)]
    again = json.loads(json.dumps(cases))
    if compare(cases, again):
        wrong.append(f"the same cases differ: {compare(cases, again)}")
    again[3]["answers"]["share"] += 1e-6
    again[7]["answers"]["plan_on"] += 1
    again[11]["days"] += "0"
    found = [len(compare(*pair)) for pair in ((cases, again), (cases, again[:-1]), ([], []))]
    if found != [3, 1, 1]:
        wrong.append(f"changed cases: {compare(cases, again)}")
    return wrong


def main() -> int:
    match sys.argv[1:]:
        case ["selftest"]:
            problems = selftest()
        case ["cases", seed, count]:
            problems = []
            for made in made_up(int(seed), int(count)):
                told = dict(made, answers=shortened(answers(made)))
                print(json.dumps(told, separators=(",", ":")))
            return 0
        case ["compare", one, other]:
            problems = compare(lines(one), lines(other))
        case _:
            problems = [__doc__]
    print("\n".join(problems) or "nothing differs")
    return 1 if problems else 0


if __name__ == "__main__":
    sys.exit(main())
