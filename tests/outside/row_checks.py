"""The worked values of the trade, asserted of the row lists, and what must hold for any book.

Answers: whether row_lists.py is right where the right number is known. Never compares with the
program the lists check. Source: the facts of the trade as the project states them (396 rows and
31 fillers for twelve 33-row months, 13 blocks and 64 fillers from the 15th, the ends of the worst
year, chain 42 for linen of 40, chain 26 for 12 single crochets); linen rows by a simulation of
which cell each stitch goes into.
"""

from __future__ import annotations

import sys
from datetime import date, timedelta
from typing import Any

from row_books import KINDS, books
from row_lists import (
    KNIT, PLACEMENTS, STITCHES, Json, fillers_before, linen, lists_of, spans_of, stitches_of,
)


class Checks:
    """Counts what was compared and keeps what differed."""

    def __init__(self) -> None:
        self.made = 0
        self.failed: list[str] = []

    def same(self, what: str, got: object, want: object) -> None:
        self.made += 1
        if got != want:
            self.failed.append(f"{what}: got {got}, want {want}")


def year(first: str, last: str, **changes: Any) -> Json:
    """Twelve 33-row months in single crochet, neighbouring days never alike."""
    days = (date.fromisoformat(last) - date.fromisoformat(first)).days + 1
    book: Json = {
        "first_day": first, "last_day": last, "blocks": {"kind": "months"}, "rows_per_block": 33,
        "short_ends": False, "fillers": "after", "stitch": {"kind": "single"}, "width": 40,
        "turned": True, "row_one": "RS", "turning_chain_counts": True, "carry": 0, "scale": 2,
        "answers": [day % 2 for day in range(days)],
    }
    return book | changes


def total(book: Json, name: str) -> int:
    return sum(block[name] for block in lists_of(book)["blocks"])


def check_years(checks: Checks) -> None:
    plain_year, leap_year = ("2027-01-01", "2027-12-31"), ("2028-01-01", "2028-12-31")
    for first, last, days, fillers in ((*plain_year, 365, 31), (*leap_year, 366, 30)):
        book = year(first, last)
        got = tuple(total(book, name) for name in ("units", "days", "fillers"))
        checks.same(f"rows, days and fillers of {first[:4]}", got, (396, days, fillers))
    blocks = lists_of(year("2028-01-01", "2029-02-28"))["blocks"]
    by_length = {block["days"]: block["fillers"] for block in blocks}
    checks.same("fillers by month length", by_length, {31: 2, 30: 3, 29: 4, 28: 5})
    mid = year("2027-01-15", "2028-01-14")
    checks.same("blocks from the 15th", len(lists_of(mid)["blocks"]), 13)
    checks.same("fillers from the 15th", total(mid, "fillers"), 64)
    strip = {"blocks": {"kind": "strip"}, "rows_per_block": 365}
    unturned = {"turned": False}
    for what, changes, runs, ends, metres in (
        ("one strip", strip, 365, 730, 109.5),
        ("fillers last", {}, 377, 754, 113.1),
        ("first and last", {"fillers": "first_and_last"}, 389, 778, 116.7),
        ("not turned", unturned, 396, 792, 118.8),
    ):
        book = year(*plain_year, **changes)
        worst = total(book, "runs"), total(book, "ends"), round(total(book, "ends") * 0.15, 1)
        checks.same(f"worst year, {what}: runs, ends, metres", worst, (runs, ends, metres))
    counted = {"blocks": {"kind": "from_start"}}
    for first, last in (("2027-01-31", "2028-01-30"), ("2028-02-29", "2029-02-28")):
        spans = spans_of(year(first, last, **counted))
        checks.same(f"months counted from {first}", len(spans), 12)
        checks.same(f"all of them full from {first}", all(span.full for span in spans), True)


def check_ends(checks: Checks) -> None:
    """A first and a last block of one day each, kept whole and worked short."""
    for short, units in ((False, [33, 33, 33]), (True, [1, 33, 1])):
        blocks = lists_of(year("2027-10-31", "2027-12-01", short_ends=short))["blocks"]
        checks.same(f"units, short ends {short}", [block["units"] for block in blocks], units)
    # A whole month at the end is no short end, and keeps its fillers.
    whole = year("2027-01-31", "2027-02-28", short_ends=True)
    checks.same("a whole last month", [b["units"] for b in lists_of(whole)["blocks"]], [1, 33])


def check_rows(checks: Checks) -> None:
    cut = lists_of(year("2027-01-01", "2027-01-31", turned=False))["blocks"][0]["list"]
    checks.same("not turned: sides", {entry[3] for entry in cut}, {"RS"})
    checks.same("not turned: steps", {entry[6] for entry in cut[1:]}, {"change"})
    january = lists_of(year("2027-01-01", "2027-01-31"))["blocks"][0]["list"]
    checks.same("the row is the date", all(int(e[4][8:]) == e[0] for e in january[:31]), True)
    checks.same("33 rows start and end on RS", (january[0][3], january[-1][3]), ("RS", "RS"))
    april = year("2027-04-01", "2027-04-30", rows_per_block=31, fillers="first_and_last")
    for placement in ("first_and_last", "before"):
        second = lists_of(april | {"fillers": placement})["blocks"][0]["list"][1]
        checks.same("one filler first: day 1", second[:5], (2, 2, 2, "WS", "2027-04-01"))
    places = {p: [fillers_before(p, f) for f in range(6)] for p in PLACEMENTS}
    checks.same("fillers at the start, of 0 to 5", places, {
        "after": [0] * 6, "first_and_last": [0, 1, 1, 1, 1, 1], "before": [0, 1, 2, 3, 4, 5],
        "balanced": [0, 0, 1, 1, 2, 2]})
    ridges = year("2027-01-01", "2027-01-31", stitch={"kind": "garter_ridge"}, carry=3)
    checks.same("33 ridges are 66 rows", total(ridges, "worked_rows"), 66)
    # Two colours by turns: 31 days, all but the first two carried; the fillers are one more run.
    checks.same("ridges carry", (total(ridges, "carries"), total(ridges, "ends")), (29, 6))
    rows = year("2027-01-01", "2027-01-31", carry=5)
    checks.same("alternate rows never carry", total(rows, "carries"), 0)
    rows["answers"] = [day // 2 % 2 for day in range(31)]
    checks.same("pairs of rows carry over two", total(rows, "carries"), 14)
    rows["answers"] = [day // 4 % 2 for day in range(31)]
    checks.same("fours carry over four", total(rows, "carries"), 6)
    checks.same("fours do not carry at three", total(rows | {"carry": 3}, "carries"), 0)


def check_stitches(checks: Checks) -> None:
    def of(kind: str, n: int, counts: bool = True) -> tuple[int, int | None, Json, Json]:
        return stitches_of({"stitch": {"kind": kind}, "width": n, "turning_chain_counts": counts})

    checks.same("linen of 40", of("linen_chain_edge", 40)[0], 42)
    checks.same("chain 26", of("linen_chain_edge", 24)[0], 26)
    checks.same("chain 26: sc a row", of("linen_chain_edge", 24)[2]["sc"], 12)
    for kind, widths in (("linen_chain_edge", range(2, 60, 2)), ("linen_sc_edges", range(3, 60, 2)),
                         ("linen_sc_at_end", range(3, 60, 2))):
        for n in widths:
            chain, start, row_1, row_2 = of(kind, n)
            # Row 1 goes into every second chain and must end in the last one.
            into = list(range(start or 0, chain + 1, 2))
            checks.same(f"{kind} {n}: row 1 ends in the last chain", into[-1], chain)
            checks.same(f"{kind} {n}: row 1", len(into), row_1["sc"])
            cells = ["sc" if at % 2 == 0 else "sp" for at in range(2 * len(into) - 1)]
            if kind == "linen_chain_edge":
                cells = ["sp"] + cells
            for number, want in ((2, row_2), (3, row_1)):
                checks.same(f"{kind} {n}: cells", len(cells), n)
                cells = next_linen_row(kind, cells)
                got = linen(cells.count("sc"), cells.count("sp"))
                checks.same(f"{kind} {n}: row {number}", got, want)
    for kind, counts in (("single", False), ("half_double", True), ("half_double", False),
                         ("double", True), ("double", False)):
        chain, start, row_1, row_2 = of(kind, 30, counts)
        # Row 1 goes into every chain from the first stitch on.
        checks.same(f"{kind} {counts}: row 1", chain - (start or 0) + 1, row_1["stitches"])
        checks.same(f"{kind} {counts}: width", row_2["stitches"] + row_2["chain"], 30)
    for kind, counts, foundation, first in (
        ("single", True, 31, 2), ("half_double", True, 31, 3), ("half_double", False, 32, 3),
        ("double", True, 32, 4), ("double", False, 33, 4),
    ):
        checks.same(f"{kind} {counts}: chain", of(kind, 30, counts)[:2], (foundation, first))
    for kind in KNIT:
        checks.same(kind, of(kind, 30)[:2], (30, None))


def next_linen_row(kind: str, below: list[str]) -> list[str]:
    """One row over another, both in the order they are worked."""
    below = below[::-1]
    if kind == "linen_sc_at_end":
        # From the first space on, then into the last single crochet; spaces lie between.
        stitches = below.count("sp") + 1
        return ["sc", "sp"] * (stitches - 1) + ["sc"]
    row = ["sc" if cell == "sp" else "sp" for cell in below]
    if kind == "linen_sc_edges":
        row[0] = row[-1] = "sc"
    return row


def check_books(checks: Checks) -> None:
    """What must hold for any book, and that the awkward ones do what they are there for."""
    seen: set[object] = set()
    for book in books(2027, 200):
        blocks = lists_of(book)["blocks"]
        checks.same("days of the blocks", sum(b["days"] for b in blocks), len(book["answers"]))
        seen |= {book["blocks"]["kind"], book["stitch"]["kind"], book["fillers"], book["turned"]}
        for block in blocks:
            check_block(checks, book, block, seen)
    want = {*KINDS, *STITCHES, *PLACEMENTS, True, False}
    want |= {(height, passed) for height in (1, 2) for passed in (3, 5)}
    checks.same("what the books never show", want - seen, set())


def check_block(checks: Checks, book: Json, block: Json, seen: set[object]) -> None:
    entries, left_at, pieces = block["list"], dict[int | str, int](), 0
    if block["open_from"] is None:
        first, days = date.fromisoformat(block["first"]), block["days"]
        want = [(first + timedelta(days=k)).isoformat() for k in range(days)]
        checks.same("days in order", [e[4] for e in entries if e[4]], want)
        checks.same("fillers", [e[5] for e in entries].count("joining"), block["fillers"])
    else:
        checks.same("listed up to the open unit", len(entries) + 1, block["open_from"])
    height = 2 if book["stitch"]["kind"] == "garter_ridge" else 1
    for at, (unit, row, until, side, _, yarn, step) in enumerate(entries):
        want_rows = (at + 1, at * height + 1, (at + 1) * height)
        checks.same("unbroken rows", (unit, row, until), want_rows)
        if book["turned"] and height == 1 and at > 0:
            checks.same("sides alternate", side != entries[at - 1][3], True)
        if step == "carry":
            passed = row - left_at[yarn]
            checks.same("carry", passed % 2 == 1 and 1 < passed <= book["carry"], True)
            seen.add((height, passed))
        pieces += step in ("start", "change")
        left_at[yarn] = until
    checks.same("two ends to a piece of yarn", block["ends"], 2 * pieces)


def selftest() -> int:
    checks = Checks()
    for part in (check_years, check_ends, check_rows, check_stitches, check_books):
        part(checks)
    for failure in checks.failed[:20]:
        print(failure, file=sys.stderr)
    print(f"{checks.made} checks, {len(checks.failed)} failed")
    return 1 if checks.failed else 0
