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
    Reply::new(Say::Yarn { lines }).at(Place::New(Some(Slot::Yarn))).keys([
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

/// A line that names a colour and a weight: "Shingle 83", "Shingle +100".
pub fn read(book: &Book, text: &str) -> Option<(YarnId, EntryKind)> {
    let (name, weight) = text.trim().rsplit_once(char::is_whitespace)?;
    let (name, weight) = match unit(weight) {
        // "Shingle 83 g": the unit stands apart.
        true => name.trim_end().rsplit_once(char::is_whitespace)?,
        false => (name, weight),
    };
    let yarn = book.yarns().iter().find(|yarn| yarn.name.is(name))?.id;
    Some(match weight.strip_prefix('+') {
        Some(weight) => (yarn, EntryKind::Ball(tenths(weight)?)),
        None => (yarn, EntryKind::Weighing(tenths(weight)?)),
    })
}

/// The grams that were asked for.
pub fn grams_typed(
    maker: &Maker,
    book: &Book,
    (yarn, weigh): (u8, bool),
    text: &str,
    now: DateTime<Utc>,
) -> Outcome {
    let digits = text.trim().trim_start_matches('+');
    let digits = digits.strip_suffix('g').unwrap_or(digits);
    let Some(tenths) = tenths(digits.trim()) else {
        let typed = text.to_owned();
        return maker.quiet().say(Reply::new(Say::UnknownGrams { typed }));
    };
    let kind = if weigh { EntryKind::Weighing(tenths) } else { EntryKind::Ball(tenths) };
    enter(maker, book, (YarnId(yarn), kind), now)
}

/// Enters a ball or a weighing, and says what is known of the colour then.
pub fn enter(
    maker: &Maker,
    book: &Book,
    (yarn, kind): (YarnId, EntryKind),
    now: DateTime<Utc>,
) -> Outcome {
    let quiet = maker.at(Step::Idle);
    let Some(name) = book.yarn_name(yarn).cloned() else { return quiet };
    let ledger = book.ledger(yarn);
    if ledger.entries().len() >= ENTRIES_MAX {
        return quiet.say(Reply::new(Say::TooManyEntries { yarn: name, max: ENTRIES_MAX }));
    }
    let rows = book.rows_in(yarn);
    if let (EntryKind::Weighing(grams), Some((before, _))) = (kind, ledger.last_known())
        && ledger.entries().iter().any(|entry| matches!(entry.kind, EntryKind::Weighing(_)))
        && grams > before
    {
        let (now, before) = (grams.grams(), before.grams());
        return quiet.say(Reply::new(Say::Heavier { yarn: name, now, before }));
    }
    let rows_since = ledger.last_known().map(|(_, then)| rows.saturating_sub(then));
    let change = Change::Stocked { yarn, entry: Entry { kind, rows, at: now } };
    let mut after = book.clone();
    after.apply(&change);
    let status = yarn_status(&after).into_iter().find(|status| status.yarn == yarn);
    let Some(line) = status.and_then(|status| line(&after, &status)) else { return quiet };
    let weighed = matches!(kind, EntryKind::Weighing(_));
    let said = Say::Stocked { line, rows_since: rows_since.filter(|_| weighed), weighed };
    quiet.change(change).say(Reply::new(said).key(Caption::AllYarn, Button::Yarn))
}

fn unit(word: &str) -> bool {
    word.eq_ignore_ascii_case("g")
}

/// A weight in grams, with one digit after a point or a comma at most.
fn tenths(text: &str) -> Option<Tenths> {
    let text = text.strip_suffix('g').unwrap_or(text);
    let (whole, tenth) = text.split_once(['.', ',']).unwrap_or((text, "0"));
    let whole = super::typed::number(whole, 5)?;
    let tenth = super::typed::number(tenth, 1)?;
    let tenths = Tenths(whole * 10 + tenth);
    (tenths <= Tenths::MAX).then_some(tenths)
}

fn in_place(tapped: MessageId) -> Place {
    Place::Change { slot: Some(Slot::Yarn), tapped: Some(tapped) }
}
