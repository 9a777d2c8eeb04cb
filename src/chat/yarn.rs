//! Yarn in the chat: what is on hand, a ball that came, a weighing as one number.

use chrono::{DateTime, Utc};

use super::Maker;
use super::button::Button;
use super::event::MessageId;
use super::outcome::{Key, Outcome, Place, Reply, Slot};
use super::say::{Caption, Say, YarnLine};
use super::talk::Step;
use crate::blanket::stock::{ENTRIES_MAX, Entry, EntryKind, Tenths};
use crate::blanket::{Book, Change, PerRow, Yarn, YarnId, YarnStatus, yarn_status};

/// Every colour that something is known of, with buttons for a ball and a weighing.
pub fn list(book: &Book) -> Reply {
    let lines: Vec<YarnLine> = yarn_status(book)
        .into_iter()
        .filter(|status| status.on_hand_grams.is_some() || status.known_rows > 0)
        .filter_map(|status| line(book, &status))
        .collect();
    // Every scale has a tier, and every tier a yarn.
    let default = book.scale().default_tier();
    let example = book.yarn_name(default.yarn).unwrap_or(&default.label).clone();
    Reply::new(Say::Yarn { lines, example }).at(Place::New(Some(Slot::Yarn))).keys([
        Key { caption: Caption::AddBall, button: Button::ChooseBall },
        Key { caption: Caption::Weigh, button: Button::ChooseWeighing },
    ])
}

fn line(book: &Book, status: &YarnStatus) -> Option<YarnLine> {
    Some(YarnLine {
        yarn: book.yarn_name(status.yarn)?.clone(),
        on_hand_grams: status.on_hand_grams,
        grams_per_row: status.per_row.map(PerRow::grams),
        measured: matches!(status.per_row, Some(PerRow::Measured(_))),
        rows_possible: status.rows_possible(),
        known_rows: status.known_rows,
        runs_short: status.runs_short(),
    })
}

pub fn show(maker: &Maker, book: &Book, tapped: MessageId) -> Outcome {
    maker.at(Step::Idle).say(list(book).at(in_place(tapped)))
}

/// Which colour?
pub fn choose(maker: &Maker, book: &Book, weigh: bool, tapped: MessageId) -> Outcome {
    let key = |yarn: &Yarn| Key {
        caption: Caption::Name(yarn.name.to_string()),
        button: match weigh {
            true => Button::Weigh { yarn: yarn.id },
            false => Button::Ball { yarn: yarn.id },
        },
    };
    let keys: Vec<Key> = book.yarns().iter().map(key).collect();
    let ask = Reply::new(Say::WhichYarn).at(in_place(tapped));
    let ask = keys.chunks(2).fold(ask, |reply, pair| reply.keys(pair.to_vec()));
    maker.at(Step::Idle).say(ask.key(Caption::Back, Button::Yarn))
}

/// How many grams?
pub fn ask_grams(
    maker: &Maker,
    book: &Book,
    (yarn, weigh): (YarnId, bool),
    tapped: MessageId,
) -> Outcome {
    let Some(name) = book.yarn_name(yarn) else { return show(maker, book, tapped) };
    let step = if weigh { Step::Weigh { yarn: yarn.0 } } else { Step::Ball { yarn: yarn.0 } };
    let ask = Reply::new(Say::AskGrams { yarn: name.clone(), weigh })
        .at(in_place(tapped))
        .key(Caption::Back, Button::Yarn);
    maker.at(step).say(ask)
}

/// A line that names a colour and a weight: "Shingle 83", "Shingle: 83.5 g", "Shingle +100". What
/// to say where the colour is known and the weight is not, or the other way round; `None` where
/// the line does not speak of yarn.
pub fn read(book: &Book, text: &str) -> Option<Result<(YarnId, EntryKind), Say>> {
    let (name, weight) = text.trim().rsplit_once(char::is_whitespace)?;
    let (name, weight) = match unit(weight) {
        // "Shingle 83 g": the unit stands apart.
        true => name.trim_end().rsplit_once(char::is_whitespace)?,
        false => (name, weight),
    };
    if !weight.contains(|c: char| c.is_ascii_digit()) {
        return None;
    }
    let name = name.trim_end_matches(|c: char| c.is_whitespace() || matches!(c, ':' | '='));
    let weighed = match weight.strip_prefix('+') {
        Some(ball) => tenths(ball).filter(|ball| *ball > Tenths(0)).map(EntryKind::Ball),
        None => tenths(weight).map(EntryKind::Weighing),
    };
    let typed = text.trim().to_owned();
    match (book.yarns().iter().find(|yarn| yarn.name.is(name)), weighed) {
        (Some(yarn), Some(kind)) => Some(Ok((yarn.id, kind))),
        (Some(_), None) => Some(Err(Say::UnknownGrams { typed })),
        (None, _) if book.yarns().iter().any(|yarn| yarn.name.nearly(name)) => {
            Some(Err(unknown_yarn(book, name)))
        }
        (None, _) => None,
    }
}

/// A colour this blanket does not have, and those it has.
pub fn unknown_yarn(book: &Book, typed: &str) -> Say {
    let names = book.yarns().iter().map(|yarn| yarn.name.clone()).collect();
    Say::UnknownYarn { typed: typed.trim().to_owned(), names }
}

/// The grams that were asked for, or a whole line about a colour.
pub fn grams_typed(
    maker: &Maker,
    book: &Book,
    (yarn, weigh): (u8, bool),
    text: &str,
    now: DateTime<Utc>,
) -> Outcome {
    if let Some(read) = read(book, text) {
        return entered(maker, book, read, now);
    }
    let digits = text.trim();
    let digits = if weigh { digits } else { digits.trim_start_matches('+') };
    let grams = tenths(digits).filter(|tenths| weigh || *tenths > Tenths(0));
    let Some(tenths) = grams else {
        let said = Reply::new(Say::UnknownGrams { typed: text.to_owned() });
        return maker.quiet().say(said.key(Caption::Back, Button::Yarn));
    };
    let kind = if weigh { EntryKind::Weighing(tenths) } else { EntryKind::Ball(tenths) };
    enter(maker, book, (YarnId(yarn), kind), now)
}

/// A line about a colour was understood, or not.
pub fn entered(
    maker: &Maker,
    book: &Book,
    read: Result<(YarnId, EntryKind), Say>,
    now: DateTime<Utc>,
) -> Outcome {
    match read {
        Ok(entry) => enter(maker, book, entry, now),
        Err(say) => maker.quiet().say(Reply::new(say)),
    }
}

/// Enters a ball or a weighing, and says what is known of the colour then.
fn enter(
    maker: &Maker,
    book: &Book,
    (yarn, kind): (YarnId, EntryKind),
    now: DateTime<Utc>,
) -> Outcome {
    let Some(name) = book.yarn_name(yarn).cloned() else { return maker.at(Step::Idle) };
    let ledger = book.ledger(yarn);
    let rows = book.rows_in(yarn);
    let refused = match kind {
        _ if ledger.entries().len() >= ENTRIES_MAX => {
            Some(Say::TooManyEntries { yarn: name, max: ENTRIES_MAX })
        }
        EntryKind::Weighing(grams) => ledger
            .lighter_before(grams, rows)
            .map(|before| Say::Heavier { yarn: name, now: grams.grams(), before: before.grams() }),
        EntryKind::Ball(_) => None,
    };
    if let Some(say) = refused {
        return maker.quiet().say(Reply::new(say));
    }
    let rows_since = ledger.rows_at_weighing().map(|then| rows.saturating_sub(then));
    let change = Change::Stocked { yarn, entry: Entry { kind, rows, at: now } };
    let mut after = book.clone();
    after.apply(&change);
    let outcome = maker.at(Step::Idle).change(change);
    let status = yarn_status(&after).into_iter().find(|status| status.yarn == yarn);
    let Some(line) = status.and_then(|status| line(&after, &status)) else { return outcome };
    let weighed = matches!(kind, EntryKind::Weighing(_));
    let said = Say::Stocked { line, rows_since: rows_since.filter(|_| weighed), weighed };
    let entries = u16::try_from(after.ledger(yarn).entries().len()).unwrap_or(u16::MAX);
    outcome.say(Reply::new(said).keys([
        Key { caption: Caption::Undo, button: Button::UndoStock { yarn, entries } },
        Key { caption: Caption::AllYarn, button: Button::Yarn },
    ]))
}

/// Takes the newest entry of a colour back, if it is the one the button spoke of. Shows the yarn
/// as it is then.
pub fn undo(
    maker: &Maker,
    book: &Book,
    (yarn, entries): (YarnId, u16),
    tapped: MessageId,
) -> Outcome {
    if book.ledger(yarn).entries().len() != usize::from(entries) || entries == 0 {
        return show(maker, book, tapped);
    }
    let change = Change::Unstocked { yarn };
    let mut after = book.clone();
    after.apply(&change);
    show(maker, &after, tapped).change(change)
}

fn unit(word: &str) -> bool {
    word.eq_ignore_ascii_case("g")
}

/// A weight in grams, with one digit after a point or a comma at most.
fn tenths(text: &str) -> Option<Tenths> {
    let text = text.strip_suffix(['g', 'G']).unwrap_or(text).trim_end();
    let (whole, tenth) = text.split_once(['.', ',']).unwrap_or((text, "0"));
    let whole = super::typed::number(whole, 5)?;
    let tenth = super::typed::number(tenth, 1)?;
    let tenths = Tenths(whole * 10 + tenth);
    (tenths <= Tenths::MAX).then_some(tenths)
}

fn in_place(tapped: MessageId) -> Place {
    Place::Change { slot: Some(Slot::Yarn), tapped: Some(tapped) }
}
