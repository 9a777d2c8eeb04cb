"""Made-up books to list rows of: the awkward ones first, then free ones, the same for a seed.

Answers: which books an independent list and the program's own are compared on. Never works out a
row. Source of what a book may hold: the facts of the trade as the project states them (stitches
and their widths, what may be worked without turning, rows per block, placements of fillers).
"""

from __future__ import annotations

from datetime import date, timedelta
from random import Random
from typing import Any, Iterator

from row_lists import PLACEMENTS, STITCHES, UNTURNED, Json

# Starts, ends and counts at which a calendar or a placement goes wrong first. Four of a kind.
AWKWARD: tuple[Json, ...] = (
    # Thirteen calendar blocks and 64 fillers.
    {"kind": "months", "days": "2027-01-15/2028-01-14", "rows_per_block": 33, "short_ends": False,
     "gaps": "none"},
    {"kind": "from_start", "days": "2027-01-31/2028-01-30", "rows_per_block": 31, "gaps": "none"},
    {"kind": "every", "every": 60, "days": "2027-01-01/2027-12-31", "rows_per_block": 60},
    {"kind": "strip", "days": "2027-01-01/2027-12-31", "pattern": "one", "gaps": "none"},
    {"kind": "months", "days": "2028-01-01/2028-12-31", "rows_per_block": 33,
     "fillers": "first_and_last", "gaps": "none"},
    # The year from 29 February, with its last day clipped and not.
    {"kind": "from_start", "days": "2028-02-29/2029-02-27", "gaps": "tail"},
    {"kind": "every", "every": 28, "days": "2028-02-29/2028-05-23", "short_ends": True},
    {"kind": "strip", "days": "2027-12-31/2028-04-09", "stitch": "garter_ridge", "carry": 3,
     "pattern": "alternate", "gaps": "none"},
    # A first and a last block of one day.
    {"kind": "months", "days": "2027-10-31/2028-03-01", "short_ends": True, "gaps": "none"},
    {"kind": "from_start", "days": "2027-08-31/2027-12-31", "short_ends": True, "gaps": "none"},
    {"kind": "every", "every": 7, "days": "2027-12-30/2028-03-05", "rows_per_block": 7},
    {"kind": "strip", "days": "2028-02-29/2028-02-29", "gaps": "none"},
    # A thirty-day month in 31 rows has one filler: row 1.
    {"kind": "months", "days": "2028-02-29/2028-07-31", "rows_per_block": 31, "short_ends": False,
     "fillers": "first_and_last", "gaps": "none"},
    {"kind": "from_start", "days": "2028-02-29/2029-02-28", "rows_per_block": 32,
     "short_ends": False, "fillers": "balanced", "gaps": "none"},
    {"kind": "every", "every": 1, "days": "2027-02-20/2027-03-05", "rows_per_block": 3},
    {"kind": "strip", "days": "2028-01-31/2028-06-30", "stitch": "half_double", "turned": True,
     "carry": 5, "pattern": "fours", "gaps": "none"},
)
KINDS = ("months", "from_start", "every", "strip")
PATTERNS = ("any", "twos", "one", "threes", "sticky", "alternate", "fours")
GAPS = ("none", "none", "tail", "holes", "both", "all")


class Deck:
    """Deals every card once before any comes again, so a small set of books covers all."""

    def __init__(self, rng: Random, cards: tuple[Any, ...]) -> None:
        self.rng, self.cards = rng, cards
        self.left: list[Any] = []

    def deal(self) -> Any:
        if not self.left:
            self.left = list(self.cards)
            self.rng.shuffle(self.left)
        return self.left.pop()


def books(seed: int, count: int) -> Iterator[Json]:
    """The awkward books first, then free ones, the kinds of block in turn."""
    rng = Random(seed)
    cards: dict[str, tuple[Any, ...]] = {
        "fillers": PLACEMENTS,
        "stitch": STITCHES,
        "pattern": PATTERNS,
        "gaps": GAPS,
        "carry": (0, 3, 5, 3, 5),
        "turned": (True, False),
        "short_ends": (True, False),
        "row_one": ("RS", "WS"),
        "turning_chain_counts": (True, False),
        "every": (2, 7, 10, 14, 30, 45, 60),
        "start": ("29 Feb", "31st", "1st", "any", "any"),
        "length": (30, 59, 90, 120, 150, 200, 365, 366),
    }
    decks = {name: Deck(rng, values) for name, values in cards.items()}
    for index in range(count):
        wanted = AWKWARD[index] if index < len(AWKWARD) else {"kind": KINDS[index % len(KINDS)]}
        yield book_of(rng, decks, wanted)


def book_of(rng: Random, decks: dict[str, Deck], wanted: Json) -> Json:
    def pick(name: str) -> Any:
        return wanted[name] if name in wanted else decks[name].deal()

    first, last = days_for(rng, decks, wanted)
    days = (last - first).days + 1
    blocks: Json = {"kind": wanted["kind"]}
    if wanted["kind"] == "every":
        blocks["days"] = pick("every")
    stitch, width = stitch_for(rng, pick("stitch"))
    turned = pick("turned") or stitch["kind"] not in UNTURNED
    scale = rng.randrange(2, 13)
    return {
        "first_day": first.isoformat(),
        "last_day": last.isoformat(),
        "blocks": blocks,
        "rows_per_block": wanted.get("rows_per_block") or rows_for(rng, blocks, days),
        "short_ends": pick("short_ends"),
        "fillers": pick("fillers"),
        "stitch": stitch,
        "width": width,
        "turned": turned,
        "row_one": pick("row_one") if turned else "RS",
        "turning_chain_counts": pick("turning_chain_counts"),
        "carry": pick("carry") if turned else 0,
        "scale": scale,
        "answers": with_gaps(rng, pick("gaps"), tiers(rng, pick("pattern"), scale, days)),
    }


def days_for(rng: Random, decks: dict[str, Deck], wanted: Json) -> tuple[date, date]:
    if "days" in wanted:
        first, last = (date.fromisoformat(day) for day in wanted["days"].split("/"))
        return first, last
    start = decks["start"].deal()
    first = date(2027, 1, 1) + timedelta(days=rng.randrange(730))
    if start == "29 Feb":
        first = date(2028, 2, 29)
    elif start == "31st":
        first = date(rng.choice((2027, 2028)), rng.choice((1, 3, 5, 8, 10, 12)), 31)
    elif start == "1st":
        first = first.replace(day=1)
    length = decks["length"].deal()
    if length < 365:
        length += rng.randrange(-20, 21)
    return first, first + timedelta(days=length - 1)


def rows_for(rng: Random, blocks: Json, days: int) -> int:
    if blocks["kind"] == "strip":
        return days
    if blocks["kind"] == "every":
        return min(60, int(blocks["days"]) + rng.randrange(0, 6))
    return rng.choice((31, 32, 33, 33, 34, 36, 40))


def stitch_for(rng: Random, kind: str) -> tuple[Json, int]:
    half = rng.randrange(4, 61)
    if kind == "own":
        multiple, offset = rng.randrange(2, 13), rng.randrange(0, 6)
        stitch = {"kind": kind, "multiple": multiple, "offset": offset,
                  "foundation": rng.randrange(0, 5)}
        return stitch, multiple * rng.randrange(2, 9) + offset
    if kind == "linen_chain_edge":
        return {"kind": kind}, 2 * half
    if kind.startswith("linen"):
        return {"kind": kind}, 2 * half + 1
    return {"kind": kind}, rng.randrange(8, 121)


def tiers(rng: Random, pattern: str, scale: int, days: int) -> list[int | None]:
    """Answers of a kind of life. In rows, twos and threes come back after 3 and fours after 5;
    with ridges alternate days come back after 3 and threes after 5."""
    if pattern in ("any", "sticky"):
        answers = [rng.randrange(scale)]
        while len(answers) < days:
            stays = pattern == "sticky" and rng.randrange(3) > 0
            answers.append(answers[-1] if stays else rng.randrange(scale))
        return list(answers)
    palette = list(range(scale))
    rng.shuffle(palette)
    colours = palette[: {"one": 1, "threes": 3}.get(pattern, 2)]
    stay = {"twos": 2, "fours": 4}.get(pattern, 1)
    return [colours[day // stay % len(colours)] for day in range(days)]


def with_gaps(rng: Random, gaps: str, answers: list[int | None]) -> list[int | None]:
    days = len(answers)
    if gaps == "all":
        return [None] * days
    if gaps in ("tail", "both"):
        open_days = rng.randrange(1, days // 3 + 2)
        answers = answers[: days - open_days] + [None] * min(open_days, days)
    if gaps in ("holes", "both"):
        for _ in range(rng.randrange(1, 4)):
            answers[rng.randrange(days)] = None
    return answers
