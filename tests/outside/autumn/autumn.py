"""Are the numbers of the autumn rehearsal the right ones?

Reads what the maker typed and tapped in the rehearsal's transcript, keeps a book of its own from
that, and compares every chance, date and number of balls the bot said with its own. Knows nothing
of the program but its words; the formulas are in yarn_forecast.py. Month blocks of 33 rows, filler
rows after the last day, every colour cut where the next begins: what this rehearsal sets up.
"""

from __future__ import annotations

import contextlib
import io
import re
import sys
from calendar import monthrange
from datetime import date, timedelta
from math import hypot, sqrt
from pathlib import Path

import yarn_forecast as yf

TIERS = ["Very rough", "Rough", "A bit rough", "Ordinary", "A bit smooth", "Smooth", "Very smooth"]
COLOURS = ["Mussel", "Tarred Rope", "Kelp", "Shingle", "Net Float", "Brick", "Rosehip"]
JOINING, ROWS, STEP = "Harbour Blue", 33, 1.0
FIRST, LAST = date(2027, 1, 1), date(2027, 12, 31)
MONTHS = "Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec".split()
# Typed where the blanket is made: 36 stitches, a swatch of 14 by 16, 3 columns, 2 rounds.
WIDTH_CM, ROW_CM, COLUMNS, ROUNDS = 10 * 36 / 14, 10 / 16, 3, 2
MADE = {"Width": "36", "Swatch": "14 x 16", "Blocks side by side": "3", "Border": "2"}
ALL_DAYS = [FIRST + timedelta(days) for days in range((LAST - FIRST).days + 1)]
LASTS = r"(?:lasts|enough) in (about \d+|fewer than 1|more than 99) of 100 cases\."
OUNCE, YARD = 28.349523125, 0.9144


class Book:
    def __init__(self) -> None:
        self.days: dict[date, int] = {}
        self.worked = dict.fromkeys(range(1, 13), 0)
        self.guess: dict[str, str] = {}
        # Grams of a ball and, where its label says that, metres.
        self.label: tuple[float, float | None] | None = None
        # Of each colour: (kind, grams, rows worked then).
        self.stock: dict[str, list[tuple[str, float, int]]] = {c: [] for c in [*COLOURS, JOINING]}
        self.balls: dict[str, tuple[float, float | None]] = {}
        self.whole = self.sewn = False

    def row(self, month: int, number: int) -> str | None:
        """The colour of a row; None where its day is open."""
        if number > monthrange(2027, month)[1]:
            return JOINING
        tier = self.days.get(date(2027, month, number))
        return None if tier is None else COLOURS[tier]

    def rows_worked(self, colour: str) -> int:
        worked = [self.row(m, n) for m, count in self.worked.items() for n in range(1, count + 1)]
        return worked.count(colour)

    def work_block(self) -> None:
        month = next(m for m, count in self.worked.items() if count < ROWS)
        while self.worked[month] < ROWS and self.row(month, self.worked[month] + 1):
            self.worked[month] += 1

    def known(self, colour: str) -> list[tuple[int, int]]:
        """Rows known and not worked, in the order of the work."""
        return [(m, n) for m in range(1, 13) for n in range(self.worked[m] + 1, ROWS + 1)
                if self.row(m, n) == colour]

    def runs_per_row(self) -> float:
        rows = runs = 0
        for month in range(1, 13):
            before = None
            for number in range(1, ROWS + 1):
                colour = self.row(month, number)
                if colour is None:
                    break
                rows, runs, before = rows + 1, runs + (colour != before), colour
        return runs / rows if rows >= 14 else 1.0

    def tex(self, colour: str) -> float:
        """Grams per 100,000 cm by a ball's label: its own, or the one the maker named."""
        for label in (self.balls.get(colour), self.label):
            if label and label[1]:
                return 1000 * label[0] / label[1]
        raise ValueError(f"no ball of {colour} has a length")

    def pairs(self, colour: str) -> list[tuple[int, float]]:
        """Rows and grams from the first weighing of a chain to its last; a label ends a chain."""
        pairs, chain = [], []
        for kind, grams, rows in [*self.stock[colour], ("ball", 0.0, 0)]:
            if kind == "weighing":
                chain.append((grams, rows))
                continue
            if len(chain) > 1 and chain[-1][1] > chain[0][1]:
                pairs.append((chain[-1][1] - chain[0][1], chain[0][0] - chain[-1][0]))
            chain = []
        return pairs

    def per_row(self, colour: str) -> tuple[float, float]:
        own = self.pairs(colour)
        others = [pair for other in self.stock if other != colour for pair in self.pairs(other)]
        if others:
            grams, se, _ = yf.weigh(others, STEP, None)
            prior = grams, max(se, 0.04 * grams)
        else:
            cm = 12.4 * WIDTH_CM * ROW_CM + 30 * self.runs_per_row()
            grams = self.tex(colour) * cm / 100_000
            prior = grams, 0.25 * grams
        return yf.weigh(own, STEP, prior)[:2] if own else prior

    def on_hand(self, colour: str) -> tuple[float, float] | None:
        grams, rows = None, 0
        for kind, amount, then in self.stock[colour]:
            if kind == "ball" and grams is not None:
                grams += amount
            else:
                grams, rows = amount, then
        if grams is None:
            return None
        row, since = self.per_row(colour), self.rows_worked(colour) - rows
        off = hypot(hypot(0.3, since * row[1]), sqrt(abs(since)) * 0.05 * row[0])
        return max(0.0, grams - since * row[0]), off

    def kept_back(self, colour: str) -> tuple[float, float]:
        """Sewing the blocks together, column by column, two tails a seam; then the border."""
        if colour != JOINING:
            return 0.0, 0.0
        width, height = WIDTH_CM, ROWS * ROW_CM
        grams = lambda cm: self.tex(colour) * cm / 100_000
        down = 12 // COLUMNS
        seams = COLUMNS * (down - 1) * width + (COLUMNS - 1) * down * height
        joins = grams(3 * seams + 11 * 30) if self.sewn else 0.0
        edge = ROUNDS * 2 * (COLUMNS * width + down * height)
        return joins + grams(6.75 * edge), grams(2.5 / 4 * edge)

    def forecast(self) -> yf.Forecast:
        words = [self.guess.get(tier, "sometimes") for tier in TIERS] if self.guess else None
        return yf.Forecast([self.days[day] for day in sorted(self.days)], len(TIERS), words)

    def outlook(self, colour: str) -> dict[str, object]:
        forecast, known = self.forecast(), len(self.known(colour))
        open_days = [day for day in ALL_DAYS if day not in self.days]
        share, h = 0.0, 0
        if colour in COLOURS:
            share, h = forecast.shares[COLOURS.index(colour)], len(open_days)
        row, kept = self.per_row(colour), self.kept_back(colour)
        hand = self.on_hand(colour) or (0.0, 0.3)
        target = 1 - 0.1 / 8 if self.whole else 0.9
        chance = yf.lasts(forecast, share, h, known, hand, row, kept)
        ball = (self.balls.get(colour) or self.label or (0.0,))[0]
        said: dict[str, object] = {"chance": chance, "per row": row, "on hand": hand[0]}
        said["balls"] = 0 if chance >= target else yf.balls(
            forecast, share, h, known, hand, row, ball, target, kept) if ball else None
        if colour in COLOURS:
            for name, short in (("early", 0.1), ("likely", 0.5)):
                days = yf.runs_out(forecast, share, h, known, hand, row, short)
                said[name] = open_days[days - 1] if days else self.short_row(colour, days)
        return said

    def short_row(self, colour: str, days: int | None) -> tuple[int, int] | None:
        if days is None:
            return None
        known = self.known(colour)
        hand = self.on_hand(colour) or (0.0, 0.0)
        return known[min(int(hand[0] / self.per_row(colour)[0]), len(known) - 1)]


def amount(text: str, units: dict[str, float]) -> float:
    """ "50 g", "1 3/4 oz", "98,5" in the first of the units."""
    value, unit = 0.0, 1.0
    for word in text.replace(",", ".").split():
        above, slash, below = word.partition("/")
        if word in units:
            unit = units[word]
        else:
            value += float(above) / float(below) if slash else float(word)
    return value * unit


class Player:
    """Does in a book of its own what the transcript says the maker did, and compares."""

    def __init__(self) -> None:
        self.book, self.asked, self.compared = Book(), "", 0
        self.wrong: list[str] = []

    def same(self, what: str, said: object, own: object) -> None:
        self.compared += 1
        print(f"{what}: said {said}, computed {own}")
        if said != own:
            self.wrong.append(what)

    def types(self, line: str) -> None:
        book = self.book
        if found := re.fullmatch(r"/today 1 (\w+): ([\d ]+)", line):
            month = MONTHS.index(found[1]) + 1
            self.asked = "days"
            tiers = enumerate(found[2].replace(" ", ""), 1)
            self.draft = {date(2027, month, day): int(tier) - 1 for day, tier in tiers}
            return
        if self.asked in MADE and not line.startswith("/"):
            self.same(f"typed for {self.asked}", line, MADE[self.asked])
        ball = re.fullmatch(
            r"(.+?) \+(?:(\d+) x )?([\d /.,]+ (?:g|oz))( [\d.]+ (?:m|yd))?(?: lot \w+)?", line)
        weighing = re.fullmatch(r"(.+?) ([\d.,]+)", line)
        if ball and ball[1] in book.stock:
            grams = round(10 * amount(ball[3], {"g": 1.0, "oz": OUNCE})) / 10
            length = ball[4] and round(10 * amount(ball[4], {"m": 1.0, "yd": YARD})) / 10
            book.balls[ball[1]] = grams, length
            count = int(ball[2] or 1)
            book.stock[ball[1]].append(("ball", count * grams, book.rows_worked(ball[1])))
        elif weighing and weighing[1] in book.stock:
            grams = amount(weighing[2], {})
            self.weighed = weighing[1], ("weighing", grams, book.rows_worked(weighing[1]))
        elif self.asked == "What a ball weighs" and (
                label := re.fullmatch(r"([\d.]+) g(?: ([\d.]+) m)?", line)):
            book.label = float(label[1]), label[2] and float(label[2])
        self.asked = line if line == "/rows block" else self.asked

    def taps(self, label: str) -> None:
        book, word = self.book, label.lower()
        if label.startswith("Keep these"):
            book.days |= self.draft
        elif label == "Worked":
            book.work_block()
        elif word in yf.WORDS and self.asked in TIERS:
            book.guess[self.asked] = word
        elif label in ("For the whole blanket", "For each colour"):
            book.whole = label == "For the whole blanket"
        elif label == "Sewn":
            book.sewn = True
        self.asked = label

    def hears(self, lines: list[str]) -> None:
        text = " ".join(line.strip() for line in lines)
        colour = lines[0].split(":")[0]
        if "Nothing was changed" not in text and "Weighed." in text:
            name, entry = self.weighed
            self.book.stock[name].append(entry)
        if lines[0].startswith("What to buy"):
            self.to_buy(text)
        elif lines[0].startswith("If your days go"):
            for line in lines[1:]:
                if found := re.search(r"^\s*(.+?): .*It lasts in (.+?) of 100 cases", line):
                    own = percent(self.book.outlook(found[1])["chance"])
                    self.same(f"{found[1]} lasts", found[2], own)
        elif colour in self.book.stock and "That it lasts is" in text:
            self.detail(colour, text)
        elif colour in self.book.stock and (found := re.search(LASTS, text)):
            self.same(f"{colour} lasts, once entered", found[1],
                      percent(self.book.outlook(colour)["chance"]))

    def to_buy(self, text: str) -> None:
        if not self.book.label and not self.book.balls:
            self.same("colours nothing is known of", text.count("Not known yet for"), 1)
            return
        for colour in self.book.stock:
            found = re.search(rf" {colour}: (\d+) balls?", text)
            self.same(f"{colour}, balls to buy", int(found[1]) if found else 0,
                      self.book.outlook(colour)["balls"])

    def detail(self, colour: str, text: str) -> None:
        own = self.book.outlook(colour)
        said = re.search(LASTS + " That it", text)
        self.same(f"{colour} lasts", said and said[1], percent(own["chance"]))
        if weighed := re.search(r"takes about ([\d.]+) g: ([\d.]+) to ([\d.]+) g", text):
            grams, se = own["per row"]
            want = [f"{x:.2f}".rstrip("0").rstrip(".") for x in
                    (grams, grams - 1.645 * se, grams + 1.645 * se)]
            self.same(f"{colour}, grams a row", list(weighed.groups()), want)
        buy = re.search(r"buy (\d+) ball", text)
        self.same(f"{colour}, balls", int(buy[1]) if buy else 0, own["balls"])
        when = r"(row \d+ of \w+|the row of \w+ \d+ \w+)"
        both = re.search(rf"as likely as not to run out by {when}", text)
        if ends := re.search(rf"it ends in {when}", text):
            self.same(f"{colour} ends", ends[1], when_said(own["likely"]))
            return
        early = both or re.search(rf"as early as {when}", text)
        likely = both or re.search(rf"By {when}, that is as likely", text)
        self.same(f"{colour}, early", early and early[1], when_said(own["early"]))
        self.same(f"{colour}, as likely as not", likely and likely[1], when_said(own["likely"]))


def percent(chance: object) -> str:
    value = round(100 * float(chance))  # type: ignore[arg-type]
    return "fewer than 1" if value < 1 else "more than 99" if value > 99 else f"about {value}"


def when_said(when: object) -> str | None:
    if isinstance(when, date):
        return f"the row of {when:%A} {when.day} {when:%B}"
    if isinstance(when, tuple):
        return f"row {when[1]} of {date(2027, when[0], 1):%B}"
    return None


def play(text: str) -> Player:
    player: Player = Player()
    heard: list[str] = []
    for line in [*text.splitlines(), "maker: "]:
        if line.startswith("  "):
            heard.append(line)
            continue
        if heard:
            player.hears(heard)
            heard = []
        who, _, what = line.partition(": ")
        if who == "maker":
            player.types(what)
        elif who == "tap":
            player.taps(what)
        elif who.startswith("bot"):
            heard = [what]
    return player


def selftest(text: str) -> None:
    """Are numbers that are wrong by one found, wherever they stand?"""
    print(f"{yf.worked_values()} worked values agree")
    places = [
        r"it lasts in about (\d+)", r"Kelp: (\d+) balls? of \d",
        r"as early as the row of \w+ (\d+)", r"By the row of \w+ (\d+)",
        r"takes about (\d+)[.\d]* g: ", r"buy (\d+) ball",
        r"It lasts in about (\d+) of 100",
    ]
    for place in places:
        found = list(re.finditer(place, text))[-1]
        text = text[:found.start(1)] + str(int(found[1]) + 1) + text[found.end(1):]
    with contextlib.redirect_stdout(io.StringIO()):
        wrong = play(text).wrong
    assert len(wrong) == len(places), wrong
    print(f"{len(wrong)} of {len(places)} numbers that are wrong by one are found")


def main(arguments: list[str]) -> int:
    text = Path(arguments[-1]).read_text().split("\n---\n", 1)[-1]
    if arguments[0] == "selftest":
        selftest(text)
        return 0
    player = play(text)
    for what in player.wrong:
        print(f"DIFFERS {what}")
    print(f"{player.compared} statements compared, {len(player.wrong)} differ")
    return 1 if player.wrong or player.compared < 90 else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
