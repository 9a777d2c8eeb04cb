"""The row lists of a blanket, worked out a second time.

Answers: for a book (first and last day, blocks, fillers, stitch, answers) which unit of which
block is which day, on which side, in which yarn, and what is done with the yarn before it; and
what a block takes in stitches and ends. Never shares code or tables with the program it checks.

Source: the facts of the trade as the project states them (calendar and counted blocks, fillers
and where they go, sides, keep, change and carry, foundation chains, stitches per row, ends to
weave), together with the worked values given there, which `selftest` asserts (row_checks.py).

    row_lists.py books SEED COUNT     COUNT books as JSON lines, the same for the same seed
    row_lists.py lists < books.jsonl  one JSON line of blocks and rows per book
    row_lists.py selftest             the worked values; ends with status 1 when one is not met

Words: a unit is one day's work or one filler: a row, or with `garter_ridge` a ridge, which is two
worked rows. Unit numbers and worked rows count from 1 in each block. US terms. What is open:
a block is listed up to its first unit without an answer, and counts what is listed.
"""

from __future__ import annotations

import calendar
import json
import sys
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any, Callable

Json = dict[str, Any]
# Unit, first and last worked row, side, day or None for a filler, tier or "joining", step.
Entry = tuple[int, int, int, str, "str | None", "int | str", str]

PLACEMENTS = ("after", "first_and_last", "before", "balanced")
KNIT = ("garter_ridge", "garter_row", "stockinette")
UNTURNED = ("linen_sc_edges", "single", "half_double", "double", "own")
STITCHES = ("linen_chain_edge", "linen_sc_at_end") + UNTURNED + KNIT


@dataclass(frozen=True)
class Span:
    """The days of one block; full when it holds every day its kind would give it."""

    first: date
    last: date
    full: bool

    @property
    def days(self) -> int:
        return (self.last - self.first).days + 1


def lists_of(book: Json) -> Json:
    """Every block of the book with its rows."""
    refuse_nonsense(book)
    return {"blocks": [block_of(book, span) for span in spans_of(book)]}


def block_of(book: Json, span: Span) -> Json:
    units = units_in(book, span)
    entries, open_from = entries_of(book, span, units)
    runs = sum(entry[6] != "keep" for entry in entries)
    carries = sum(entry[6] == "carry" for entry in entries)
    # Not turned, every listed row is a run of its own and nothing is carried, so 2 x rows is this.
    foundation, first_stitch_in, row_1, row_2 = stitches_of(book)
    return {
        "first": span.first.isoformat(),
        "last": span.last.isoformat(),
        "days": span.days,
        "units": units,
        "fillers": units - span.days,
        "worked_rows": units * rows_a_unit(book),
        "runs": runs,
        "carries": carries,
        "ends": 2 * (runs - carries),
        "open_from": open_from,
        "foundation": foundation,
        "first_stitch_in": first_stitch_in,
        "row_1": row_1,
        "row_2": row_2,
        "list": entries,
    }


def spans_of(book: Json) -> list[Span]:
    """The blocks in order: they hold every day of the book once."""
    first, last = first_and_last_day(book)
    start_of = starts_of(book, first, last)
    spans: list[Span] = []
    while (start := start_of(len(spans))) <= last:
        end = start_of(len(spans) + 1) - timedelta(days=1)
        if counts_clipped_day(book, first, start) and start == last and spans:
            # A year from 29 February to 28 February is twelve blocks: its last day, to which the
            # beginning of the next block is clipped, is in the twelfth.
            spans[-1] = Span(spans[-1].first, last, True)
            break
        own_first, own_last = max(start, first), min(end, last)
        spans.append(Span(own_first, own_last, (own_first, own_last) == (start, end)))
    return spans


def counts_clipped_day(book: Json, first: date, start: date) -> bool:
    return book["blocks"]["kind"] == "from_start" and start.day < first.day


def starts_of(book: Json, first: date, last: date) -> Callable[[int], date]:
    """Where block k (from 0) begins when nothing cuts it short."""
    kind = book["blocks"]["kind"]
    if kind == "months":
        return lambda k: months_after(first.replace(day=1), k)
    if kind == "from_start":
        # Counted from the first day each time: clipping in February must not shorten March.
        return lambda k: months_after(first, k)
    days = book["blocks"]["days"] if kind == "every" else (last - first).days + 1
    return lambda k: first + timedelta(days=days * k)


def months_after(start: date, months: int) -> date:
    year, month = divmod(start.year * 12 + start.month - 1 + months, 12)
    length = calendar.monthrange(year, month + 1)[1]
    return date(year, month + 1, min(start.day, length))


def units_in(book: Json, span: Span) -> int:
    """Units of the block. Only a first or last block can be other than full."""
    if book["short_ends"] and not span.full:
        return span.days
    return int(book["rows_per_block"])


def fillers_before(placement: str, fillers: int) -> int:
    """How many fillers come before the first day; the others come after the last."""
    if placement == "after":
        return 0
    if placement == "before":
        return fillers
    if placement == "first_and_last":
        return min(fillers, 1)
    return fillers // 2


def entries_of(book: Json, span: Span, units: int) -> tuple[list[Entry], int | None]:
    """The listed units, and the unit at which the list stops for want of an answer."""
    first_day = date.fromisoformat(book["first_day"])
    before = fillers_before(book["fillers"], units - span.days)
    height = rows_a_unit(book)
    entries: list[Entry] = []
    left_at: dict[int | str, int] = {}
    for unit in range(1, units + 1):
        day: date | None = None
        yarn: int | str | None = "joining"
        if before < unit <= before + span.days:
            day = span.first + timedelta(days=unit - before - 1)
            yarn = book["answers"][(day - first_day).days]
        if yarn is None:
            return entries, unit
        row = (unit - 1) * height + 1
        step = step_into(book, row, left_at.get(yarn))
        until = row + height - 1
        iso = day.isoformat() if day else None
        entries.append((unit, row, until, side_of(book, row), iso, yarn, step))
        left_at[yarn] = until
    return entries, None


def step_into(book: Json, row: int, left_at: int | None) -> str:
    """What brings the yarn to this worked row, when it was last left at the end of `left_at`."""
    if row == 1:
        return "start"
    if not book["turned"] or left_at is None:
        return "change"
    passed = row - left_at
    if passed == 1:
        return "keep"
    return "carry" if passed % 2 == 1 and passed <= book["carry"] else "change"


def side_of(book: Json, row: int) -> str:
    if not book["turned"]:
        return "RS"
    return "RS" if (row % 2 == 1) != (book["row_one"] == "WS") else "WS"


def rows_a_unit(book: Json) -> int:
    return 2 if book["stitch"]["kind"] == "garter_ridge" else 1


def stitches_of(book: Json) -> tuple[int, int | None, Json, Json]:
    """Foundation (chain or cast-on), chain of the first stitch, and rows 1 and 2."""
    stitch, n, counts = book["stitch"], book["width"], book["turning_chain_counts"]
    kind, half = stitch["kind"], n // 2
    if kind == "linen_chain_edge":
        # The turning chain makes the space at the edge, so both add up to the width.
        row = linen(half, half)
        return n + 2, 4, row, row
    if kind == "linen_sc_edges":
        return n + 1, 2, linen(half + 1, half), linen(half + 2, half - 1)
    if kind == "linen_sc_at_end":
        return n + 1, 2, linen(half + 1, half), linen(half + 1, half)
    if kind == "single":
        return n + 1, 2, plain(n), plain(n)
    if kind in ("half_double", "double"):
        skipped = 2 if kind == "half_double" else 3
        row = {"stitches": n - 1, "chain": True} if counts else plain(n)
        return n + skipped - (1 if counts else 0), skipped + 1, row, row
    if kind == "own":
        return n + stitch["foundation"], None, plain(n), plain(n)
    return n, None, plain(n), plain(n)


def linen(single_crochets: int, spaces: int) -> Json:
    return {"sc": single_crochets, "spaces": spaces}


def plain(stitches: int) -> Json:
    return {"stitches": stitches, "chain": False}


def first_and_last_day(book: Json) -> tuple[date, date]:
    return date.fromisoformat(book["first_day"]), date.fromisoformat(book["last_day"])


def refuse_nonsense(book: Json) -> None:
    """A book the trade does not allow is a mistake in the caller, not something to list."""
    first, last = first_and_last_day(book)
    kind, stitch, n = book["blocks"]["kind"], book["stitch"], book["width"]
    days, rows, sort = (last - first).days + 1, book["rows_per_block"], stitch["kind"]
    least = {"months": 31, "from_start": 31, "strip": days}.get(kind, book["blocks"].get("days"))
    rules = {
        "the last day is not before the first": days >= 1,
        "one answer a day": len(book["answers"]) == days,
        "answers are tiers of the scale": all(
            a is None or 0 <= a < book["scale"] for a in book["answers"]
        ),
        "a known kind of block": kind in ("months", "from_start", "every", "strip"),
        "a known placement of fillers": book["fillers"] in PLACEMENTS,
        "a known stitch": sort in STITCHES,
        "rows hold the days": least is not None and 1 <= least <= rows,
        "a strip has no fillers": kind != "strip" or rows == days,
        "not turned only where it can be": book["turned"] or sort in UNTURNED,
        "not turned always shows the right side": book["turned"] or book["row_one"] == "RS",
        "an even width": sort != "linen_chain_edge" or (n % 2 == 0 and n >= 2),
        "an odd width": sort not in ("linen_sc_edges", "linen_sc_at_end")
        or (n % 2 == 1 and n >= 3),
        "a width of the own multiple": sort != "own"
        or (n - stitch["offset"]) % stitch["multiple"] == 0,
    }
    broken = [rule for rule, kept in rules.items() if not kept]
    if broken:
        raise ValueError(f"book from {book['first_day']}: not kept: {', '.join(broken)}")


def main(words: list[str]) -> int:
    sys.dont_write_bytecode = True

    def out(value: Json) -> None:
        print(json.dumps(value, separators=(",", ":")))

    match words:
        case ["books", seed, count]:
            from row_books import books

            for book in books(int(seed), int(count)):
                out(book)
        case ["lists"]:
            for line in sys.stdin:
                out(lists_of(json.loads(line)))
        case ["selftest"]:
            from row_checks import selftest

            return selftest()
        case _:
            print("row_lists.py books SEED COUNT | lists < books.jsonl | selftest", file=sys.stderr)
            return 2
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
