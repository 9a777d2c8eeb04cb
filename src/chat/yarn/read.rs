//! What a typed line says of yarn: "Shingle 83", "Shingle +2 x 50 g 115 m lot 4471",
//! "Shingle = 70", "Shingle 90 to 83 in 6 rows". Parsers alone, never a sentence.

use super::said::YarnRefusal;
use crate::blanket::forecast::{ounces_in_grams, yards_in_metres};
use crate::blanket::stock::{BALLS_MAX, Ball, Decimetres, EntryKind, Tenths};
use crate::blanket::yarn::{BallLabel, Units};
use crate::blanket::{Book, Label, Yarn, YarnId};
use crate::chat::lexicon::YarnWords;
use crate::chat::typed::number;

/// More rows than a maker works between two weighings by hand.
pub const ROWS_MAX: u16 = 1000;

/// A name of 24 characters has no more words.
const NAME_WORDS_MAX: usize = 12;

/// How lines are read: the words of the language, and what a number without a unit is.
#[derive(Clone, Copy)]
pub struct Reader<'a> {
    pub words: &'a YarnWords,
    pub units: Units,
}

/// A line that names a colour and what happened to it; `None` where it does not speak of yarn.
pub fn line(
    book: &Book,
    text: &str,
    reader: Reader<'_>,
) -> Option<Result<(YarnId, EntryKind), YarnRefusal>> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let named = |yarn: &&Yarn, name: &str| yarn.name.is(name);
    for split in (1..words.len().min(NAME_WORDS_MAX + 1)).rev() {
        let name = words[..split].join(" ");
        let name = name.trim_end_matches(':');
        let found = book.yarns().iter().find(|yarn| named(yarn, name));
        if let (Some(yarn), true) = (found, says_how_much(words[split])) {
            let rest = words[split..].join(" ");
            return Some(reader.entry(&rest, text).map(|kind| (yarn.id, kind)));
        }
    }
    let split = words.iter().position(|word| says_how_much(word))?;
    if !(1..=NAME_WORDS_MAX).contains(&split) {
        return None;
    }
    let name = words[..split].join(" ");
    nearest(book, &name).map(|_| Err(unknown(book, &name)))
}

/// The colour whose name is nearly this.
pub fn nearest<'a>(book: &'a Book, typed: &str) -> Option<&'a Label> {
    let typed = typed.trim().trim_end_matches(':');
    book.yarns().iter().map(|yarn| &yarn.name).find(|name| name.nearly(typed))
}

/// A colour this blanket does not have, those it has, and the one that was meant.
pub fn unknown(book: &Book, typed: &str) -> YarnRefusal {
    YarnRefusal::Colour {
        typed: typed.trim().to_owned(),
        names: book.yarns().iter().map(|yarn| yarn.name.clone()).collect(),
        nearest: nearest(book, typed).cloned(),
    }
}

/// A digit, perhaps after a sign or a mark.
fn says_how_much(word: &str) -> bool {
    let sign = ['+', '=', '-', '\u{2212}'];
    let rest = word.trim_start_matches(sign);
    word == "=" || word == "+" || rest.starts_with(|c: char| c.is_ascii_digit() || is_part(c))
}

fn is_part(c: char) -> bool {
    part(c).is_some()
}

/// A quarter, a half, three quarters in one character.
fn part(c: char) -> Option<f64> {
    match c {
        '¼' => Some(0.25),
        '½' => Some(0.5),
        '¾' => Some(0.75),
        _ => None,
    }
}

/// A number and its unit, if one is named.
#[derive(Clone, Copy)]
struct Amount {
    value: f64,
    /// Digits after the point.
    decimals: usize,
    unit: Option<Unit>,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Unit {
    Grams,
    Ounces,
    Metres,
    Yards,
}

impl Reader<'_> {
    /// What is said after the name of a colour.
    fn entry(self, rest: &str, whole: &str) -> Result<EntryKind, YarnRefusal> {
        if let Some(ball) = rest.strip_prefix('+') {
            return self.ball(ball).map(EntryKind::Ball);
        }
        if let Some(weight) = rest.strip_prefix('=') {
            return Ok(EntryKind::Correction(self.weight(weight, whole)?));
        }
        let tokens = tokens(rest);
        match tokens.iter().position(|token| self.words.to.contains(&token.as_str())) {
            Some(to) => self.tried(&tokens[..to], &tokens[to + 1..], whole),
            None => Ok(EntryKind::Weighing(self.weight(rest, whole)?)),
        }
    }

    /// A weight alone. `whole` is what is quoted where it is none.
    pub fn weight(self, text: &str, whole: &str) -> Result<Tenths, YarnRefusal> {
        let refused = || YarnRefusal::Weight { typed: whole.trim().to_owned() };
        let tokens = tokens(text);
        let mut rest = tokens.as_slice();
        let tenths = self.amount(&mut rest).and_then(|amount| self.tenths(amount));
        tenths.filter(|tenths| rest.is_empty() && *tenths <= Tenths::MAX).ok_or_else(refused)
    }

    /// "90 to 83 in 6 rows", parted at its "to".
    fn tried(
        self,
        before: &[String],
        after: &[String],
        whole: &str,
    ) -> Result<EntryKind, YarnRefusal> {
        let within = after.iter().position(|token| self.words.within.contains(&token.as_str()));
        let Some(within) = within else {
            return Err(YarnRefusal::Weight { typed: whole.trim().to_owned() });
        };
        let before = self.weight(&before.join(" "), whole)?;
        let rows = self.rows(&after[within + 1..].join(" "))?;
        let after = self.weight(&after[..within].join(" "), whole)?;
        Ok(EntryKind::Tried { before, after, rows })
    }

    /// So many rows, at least one.
    pub fn rows(self, text: &str) -> Result<u16, YarnRefusal> {
        let tokens = tokens(text);
        let count = match tokens.as_slice() {
            [count] => number(count, 6),
            [count, word] if self.words.rows.contains(&word.as_str()) => number(count, 6),
            _ => None,
        };
        let rows = count.and_then(|count| u16::try_from(count).ok());
        match rows.filter(|rows| (1..=ROWS_MAX).contains(rows)) {
            Some(rows) => Ok(rows),
            None => Err(YarnRefusal::Rows { typed: text.trim().to_owned(), max: ROWS_MAX }),
        }
    }

    /// "50", "3 x 50 g 115 m lot 4471 weighs 154".
    pub fn ball(self, text: &str) -> Result<Ball, YarnRefusal> {
        let refused = || YarnRefusal::Ball { typed: text.trim().to_owned() };
        let (plain, lot) = self.without_lot(text)?;
        let tokens = tokens(&plain);
        let (tokens, weighs) =
            match tokens.iter().position(|token| self.words.weighs.contains(&token.as_str())) {
                Some(at) => (&tokens[..at], Some(tokens[at + 1..].join(" "))),
                None => (tokens.as_slice(), None),
            };
        let (count, mut rest) = match tokens {
            [count, x, rest @ ..] if x == "x" => (number(count, 4).ok_or_else(refused)?, rest),
            all => (1, all),
        };
        let each = self.amount(&mut rest).and_then(|amount| self.tenths(amount));
        let each = each.filter(|each| *each > Tenths(0)).ok_or_else(refused)?;
        let length_each = match rest.is_empty() {
            true => None,
            false => Some(self.length(&mut rest).ok_or_else(refused)?),
        };
        if !rest.is_empty() {
            return Err(refused());
        }
        if each > Ball::EACH_MAX {
            return Err(YarnRefusal::BallTooHeavy { max: Ball::EACH_MAX.grams() });
        }
        let count =
            u16::try_from(count).ok().filter(|count| (1..=BALLS_MAX).contains(&u32::from(*count)));
        let Some(count) = count else { return Err(YarnRefusal::TooManyBalls { max: BALLS_MAX }) };
        let weighed = weighs.map(|weight| self.weight(&weight, text)).transpose()?;
        Ok(Ball { count, each, length_each, lot, weighed })
    }

    /// What the label of a ball says, for any colour.
    pub fn label(self, text: &str) -> Result<BallLabel, YarnRefusal> {
        let ball = self.ball(text.trim().trim_start_matches('+'))?;
        Ok(BallLabel { each: ball.each, length_each: ball.length_each })
    }

    /// Takes the lot out of a line. A ball is of one lot.
    fn without_lot(self, text: &str) -> Result<(String, Option<Label>), YarnRefusal> {
        let typed = || text.trim().to_owned();
        let mut kept = Vec::new();
        let mut lot = None;
        let mut words = text.split_whitespace();
        while let Some(word) = words.next() {
            if !self.words.lot.contains(&word.to_lowercase().as_str()) {
                kept.push(word);
                continue;
            }
            let named = words.next().and_then(|word| Label::parse(word).ok());
            let named = named.ok_or_else(|| YarnRefusal::Lot { typed: typed() })?;
            if lot.replace(named).is_some() {
                return Err(YarnRefusal::TwoLots { typed: typed() });
            }
        }
        Ok((kept.join(" "), lot))
    }

    /// The next number, with its fraction and its unit.
    fn amount(self, tokens: &mut &[String]) -> Option<Amount> {
        let (first, mut rest) = tokens.split_first()?;
        let (mut value, decimals) = numeral(first)?;
        if let Some(fraction) = rest.first().and_then(|next| fraction(next))
            && decimals == 0
            && value.fract() == 0.0
        {
            value += fraction;
            rest = &rest[1..];
        }
        let unit = rest.first().and_then(|next| self.unit(next));
        if unit.is_some() {
            rest = &rest[1..];
        }
        *tokens = rest;
        Some(Amount { value, decimals, unit })
    }

    fn unit(self, word: &str) -> Option<Unit> {
        let YarnWords { grams, ounces, metres, yards, .. } = self.words;
        let lists = [
            (grams, Unit::Grams),
            (ounces, Unit::Ounces),
            (metres, Unit::Metres),
            (yards, Unit::Yards),
        ];
        lists.into_iter().find(|(list, _)| list.contains(&word)).map(|(_, unit)| unit)
    }

    /// A weight in tenths of a gram. A scale in grams shows one digit after the point.
    fn tenths(self, amount: Amount) -> Option<Tenths> {
        let unit = amount.unit.unwrap_or(match self.units {
            Units::Grams => Unit::Grams,
            Units::Ounces => Unit::Ounces,
        });
        let grams = match unit {
            Unit::Grams if amount.decimals <= 1 => amount.value,
            Unit::Ounces => ounces_in_grams(amount.value),
            Unit::Grams | Unit::Metres | Unit::Yards => return None,
        };
        // Numbers have at most six digits.
        Some(Tenths((10.0 * grams).round() as u32))
    }

    /// A length of a ball: its unit is named.
    fn length(self, tokens: &mut &[String]) -> Option<Decimetres> {
        let amount = self.amount(tokens)?;
        let metres = match amount.unit? {
            Unit::Metres => amount.value,
            Unit::Yards => yards_in_metres(amount.value),
            Unit::Grams | Unit::Ounces => return None,
        };
        let length = Decimetres((10.0 * metres).round() as u32);
        (Decimetres(10)..=Decimetres::MAX).contains(&length).then_some(length)
    }
}

/// "83", "83.5", "83,5", "3/4", "1½", and how many digits are after the point.
fn numeral(token: &str) -> Option<(f64, usize)> {
    if let Some(fraction) = fraction(token) {
        return Some((fraction, 0));
    }
    if let Some((last, part)) =
        token.char_indices().next_back().and_then(|(at, c)| Some((at, part(c)?)))
    {
        let whole = number(&token[..last], 6)?;
        return Some((f64::from(whole) + part, 0));
    }
    let (whole, decimals) = token.split_once(['.', ',']).unwrap_or((token, ""));
    let whole = number(whole, 6)?;
    if decimals.is_empty() {
        // "5." is no number.
        return (!token.ends_with(['.', ','])).then_some((f64::from(whole), 0));
    }
    let after = number(decimals, 2)?;
    let power = if decimals.len() == 1 { 10.0 } else { 100.0 };
    Some((f64::from(whole) + f64::from(after) / power, decimals.len()))
}

/// "3/4", "½".
fn fraction(token: &str) -> Option<f64> {
    let mut chars = token.chars();
    if let (Some(c), None) = (chars.next(), chars.next()) {
        return part(c);
    }
    let (above, below) = token.split_once('/')?;
    let (above, below) = (number(above, 2)?, number(below, 2)?);
    (above < below).then(|| f64::from(above) / f64::from(below))
}

/// Words and numbers in small letters, parted where letters and digits meet: "83g" is two.
fn tokens(text: &str) -> Vec<String> {
    let mut tokens: Vec<String> = Vec::new();
    let numeric = |c: char| c.is_ascii_digit() || is_part(c) || matches!(c, '.' | ',' | '/');
    for word in text.split_whitespace() {
        let mut last: Option<bool> = None;
        for c in word.to_lowercase().chars() {
            let c = if matches!(c, '×' | '*') { 'x' } else { c };
            match tokens.last_mut() {
                Some(token) if last == Some(numeric(c)) => token.push(c),
                _ => tokens.push(c.to_string()),
            }
            last = Some(numeric(c));
        }
    }
    tokens
}
