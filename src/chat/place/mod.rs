//! *Where am I?*: the maker taps the colours of the top stripes, from the hook or the needle down,
//! and hears after which row of the block that is.
//!
//! Every button carries what was tapped before it, so that a talk left half-way goes on days later
//! with the book as it is then. Nothing is crossed off or taken back without a tap.

mod found;

use chrono::{DateTime, Utc};

use super::Maker;
use super::button::{BlockButton, Button};
use super::caption::Caption;
use super::event::MessageId;
use super::lexicon::Lexicon;
use super::outcome::{Key, Outcome, Place, Reply, Slot};
use super::say::{BlockSaid, Say};
use crate::blanket::stitch::Craft;
use crate::blanket::stripes::{Seen, Stripe, places, stripes};
use crate::blanket::{Block, BlockNumber, Book, Label, RowNumber, YarnId};

use found::place_found;
pub use found::{NextRow, PlaceSaid, PlaceStep};

/// More places in one message would be a wall: those nearest to where the list stands are shown.
const PLACES_SHOWN_MAX: usize = 8;
/// A stripe of more rows is counted by the maker alone.
const TOP_ROWS_MAX: u16 = 40;
const COUNTS_IN_LINE: usize = 5;

/// The next stripe is asked for.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct AskStripe {
    pub block: BlockSaid,
    /// Those tapped before, from the top down.
    pub seen: Vec<Label>,
    pub craft: Craft,
    /// Places that fit what was tapped, where that is enough to say so.
    pub fits: Option<usize>,
}

/// Several places fit all that was asked for.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct WhichPlace {
    pub block: BlockSaid,
    /// The first and the last row of each top stripe.
    pub places: Vec<(RowNumber, RowNumber)>,
    /// Further ones.
    pub more: usize,
}

/// Colours typed after the words that ask for the place; the word that is no colour of the book,
/// where one is not. `None` where the line speaks of something else.
pub fn read(book: &Book, text: &str, lexicon: &Lexicon) -> Option<Result<Seen, String>> {
    let text = text.trim();
    let rest = lexicon.where_am_i.iter().find_map(|phrase| {
        let (start, rest) = text.split_at_checked(phrase.len())?;
        let ends = !rest.starts_with(|c: char| c.is_alphanumeric());
        (start.eq_ignore_ascii_case(phrase) && ends).then_some(rest)
    })?;
    let listed = rest.trim_start_matches('?').trim_start().starts_with(':');
    let mut yarns: Vec<YarnId> = Vec::new();
    let names = rest.trim_matches(|c: char| c.is_whitespace() || matches!(c, '?' | ':' | '.'));
    for name in names.split(',').map(str::trim).filter(|name| !name.is_empty()) {
        match book.yarns().iter().find(|yarn| yarn.name.is(name)) {
            // Two rows in one colour are one stripe.
            Some(yarn) if yarns.last() == Some(&yarn.id) => {}
            Some(yarn) => yarns.push(yarn.id),
            None if listed => return Some(Err(name.to_owned())),
            None => return None,
        }
    }
    yarns.truncate(Seen::MAX);
    Seen::new(yarns, false).map(Ok)
}

/// A new message: the first stripe is asked for, or what follows from those typed.
pub fn typed(
    maker: &Maker,
    book: &Book,
    seen: Result<Seen, String>,
    now: DateTime<Utc>,
) -> Outcome {
    let place = Place::New(Some(Slot::Place));
    match seen {
        Ok(seen) => maker.quiet().say(reply(book, in_work(book), &seen, now).at(place)),
        Err(typed) => {
            let names = book.yarns().iter().map(|yarn| yarn.name.clone()).collect();
            maker.quiet().say(Reply::new(Say::UnknownStripe { typed, names }))
        }
    }
}

/// The button under a list: a new message, so that the list stays.
pub fn start(maker: &Maker, book: &Book, now: DateTime<Utc>) -> Outcome {
    typed(maker, book, Ok(Seen::default()), now)
}

/// One more stripe was tapped, or the start over.
pub fn tapped(
    maker: &Maker,
    book: &Book,
    (block, seen): (BlockNumber, &Seen),
    now: DateTime<Utc>,
    tapped: MessageId,
) -> Outcome {
    // A block that is gone, or a colour: the start over.
    let known = seen.stripes().iter().all(|yarn| book.yarn_name(*yarn).is_some());
    let reply = match book.plan().block(block) {
        Some(block) if known => reply(book, Some(block), seen, now),
        Some(_) | None => reply(book, in_work(book), &Seen::default(), now),
    };
    maker.quiet().say(reply.at(in_place(tapped)))
}

/// One of the places that fit was chosen.
pub fn top_stripe(
    maker: &Maker,
    book: &Book,
    (number, row, seen): (BlockNumber, RowNumber, &Seen),
    now: DateTime<Utc>,
    message: MessageId,
) -> Outcome {
    let block = book.plan().block(number);
    let fit = block.map(|block| (block, places(book, &block, seen)));
    let chosen =
        fit.and_then(|(block, fit)| Some((block, fit.into_iter().find(|it| it.has(row))?)));
    match chosen {
        Some((block, top)) => {
            maker.quiet().say(at_top(book, &block, &top, seen, now).at(in_place(message)))
        }
        // The book has changed since: what fits now.
        None => tapped(maker, book, (number, seen), now, message),
    }
}

/// The last row worked was told.
pub fn after_row(
    maker: &Maker,
    book: &Book,
    (block, row, seen): (BlockNumber, RowNumber, &Seen),
    now: DateTime<Utc>,
    message: MessageId,
) -> Outcome {
    let found = book.plan().block(block);
    let fits = found.filter(|block| places(book, block, seen).iter().any(|top| top.has(row)));
    match fits {
        Some(block) => maker.quiet().say(place_found(book, &block, row, now).at(in_place(message))),
        // The book has changed since: what fits now.
        None => tapped(maker, book, (block, seen), now, message),
    }
}

/// The block the maker works on, or the last one where every row is worked.
pub fn in_work(book: &Book) -> Option<Block> {
    book.current_block().or_else(|| book.plan().blocks().last())
}

fn reply(book: &Book, block: Option<Block>, seen: &Seen, now: DateTime<Utc>) -> Reply {
    // Every blanket has a block.
    let Some(block) = block else { return Reply::new(Say::BlanketDone) };
    let fit = places(book, &block, seen);
    match fit.as_slice() {
        [] if seen.stripes().is_empty() => no_colours(book, &block, now),
        [] => unfit(book, &block, seen),
        [place] if seen.is_enough() => at_top(book, &block, place, seen, now),
        [_, ..] if seen.is_full() => which_place(book, &block, &fit, seen),
        [_, ..] => ask(book, &block, seen, fit.len()),
    }
}

/// The place is in this stripe.
fn at_top(book: &Book, block: &Block, top: &Stripe, seen: &Seen, now: DateTime<Utc>) -> Reply {
    match top.rows() {
        1 => place_found(book, block, top.first, now),
        _ => top_rows(book, block, top, seen),
    }
}

fn ask(book: &Book, block: &Block, seen: &Seen, fits: usize) -> Reply {
    let said = AskStripe {
        block: BlockSaid::of(book, block.number),
        seen: names(book, seen),
        craft: book.fabric().stitch.craft(),
        fits: seen.is_enough().then_some(fits),
    };
    // Neighbouring stripes have different colours.
    let colours = book.yarns().iter().filter_map(|yarn| {
        let button = BlockButton::Stripes { block: block.number, seen: seen.and(yarn.id)? }.into();
        Some(Key { caption: Caption::Name(yarn.name.to_string()), button })
    });
    let colours: Vec<Key> = colours.collect();
    let pairs = colours.chunks(2);
    let reply = pairs.fold(Reply::new(Say::AskStripe(said)), |ask, pair| ask.keys(pair.to_vec()));
    match seen.to_the_lowest() {
        Some(seen) => {
            let lowest = BlockButton::Stripes { block: block.number, seen }.into();
            start_over(reply.key(Caption::NoStripeBelow, lowest), block)
        }
        None => reply,
    }
}

/// The colours of the block begin with a day that is open.
fn no_colours(book: &Book, block: &Block, now: DateTime<Utc>) -> Reply {
    let (day, block_said) = (block.first_day, BlockSaid::of(book, block.number));
    let to_come = day > book.hours().day_at(now);
    let mut reply = Reply::new(Say::NoStripes { block: block_said, day, to_come });
    if !to_come {
        reply = reply.key(Caption::AnswerDay(day), Button::Ask { day });
    }
    elsewhere(book, block, &Seen::default(), reply)
}

fn unfit(book: &Book, block: &Block, seen: &Seen) -> Reply {
    let block_said = BlockSaid::of(book, block.number);
    let said = Say::StripesUnfit { block: block_said, seen: names(book, seen) };
    start_over(elsewhere(book, block, seen, Reply::new(said)), block)
}

/// A button for each neighbouring block where the stripes fit.
fn elsewhere(book: &Book, block: &Block, seen: &Seen, reply: Reply) -> Reply {
    let numbers = [block.number.0.checked_sub(1), block.number.0.checked_add(1)];
    let blocks = numbers.into_iter().flatten().map(BlockNumber);
    let fits = blocks.filter_map(|number| book.plan().block(number));
    let fits = fits.filter(|block| !places(book, block, seen).is_empty());
    let key = |other: Block| Key {
        caption: Caption::LookIn(BlockSaid::of(book, other.number)),
        button: BlockButton::Stripes { block: other.number, seen: seen.clone() }.into(),
    };
    reply.keys(fits.map(key))
}

/// How many rows of the top stripe are worked?
fn top_rows(book: &Book, block: &Block, top: &Stripe, seen: &Seen) -> Reply {
    let Some(yarn) = book.yarn_name(top.yarn).cloned() else { return unfit(book, block, seen) };
    let ridges = book.plan().faces().rows_per_day > 1;
    let block_said = BlockSaid::of(book, block.number);
    let said = Say::TopRows { block: block_said, yarn, begins: top.first, ridges };
    let keys: Vec<Key> = (1..=top.rows().min(TOP_ROWS_MAX))
        .map(|count| Key {
            caption: if ridges { Caption::Ridges(count) } else { Caption::RowCount(count) },
            button: BlockButton::AfterRow {
                block: block.number,
                row: RowNumber(top.first.0 + count - 1),
                seen: seen.clone(),
            }
            .into(),
        })
        .collect();
    let lines = keys.chunks(COUNTS_IN_LINE);
    let reply = lines.fold(Reply::new(said), |reply, line| reply.keys(line.to_vec()));
    start_over(reply, block)
}

/// Several places fit, and no more stripes are asked for.
fn which_place(book: &Book, block: &Block, fit: &[Stripe], seen: &Seen) -> Reply {
    let worked = worked_rows(book, block.number);
    let mut nearest: Vec<&Stripe> = fit.iter().collect();
    nearest.sort_by_key(|place| (place.last.0.abs_diff(worked), place.first));
    nearest.truncate(PLACES_SHOWN_MAX);
    nearest.sort_by_key(|place| place.first);
    let said = Say::WhichPlace(WhichPlace {
        block: BlockSaid::of(book, block.number),
        places: nearest.iter().map(|place| (place.first, place.last)).collect(),
        more: fit.len() - nearest.len(),
    });
    let key = |place: &&Stripe| {
        let (block, row, seen) = (block.number, place.first, seen.clone());
        let caption = Caption::AfterRows { from: place.first, to: place.last };
        Key { caption, button: BlockButton::TopStripe { block, row, seen }.into() }
    };
    let keys: Vec<Key> = nearest.iter().map(key).collect();
    let reply = keys.chunks(2).fold(Reply::new(said), |reply, pair| reply.keys(pair.to_vec()));
    start_over(reply, block)
}

fn start_over(reply: Reply, block: &Block) -> Reply {
    let again = BlockButton::Stripes { block: block.number, seen: Seen::default() }.into();
    reply.key(Caption::StartOver, again)
}

fn names(book: &Book, seen: &Seen) -> Vec<Label> {
    seen.stripes().iter().filter_map(|yarn| book.yarn_name(*yarn)).cloned().collect()
}

/// Whether a block has a colour to find a place by.
pub fn has_stripes(book: &Book, block: &Block) -> bool {
    !stripes(book, block).is_empty()
}

fn worked_rows(book: &Book, block: BlockNumber) -> u16 {
    u16::try_from(book.worked(block).len()).unwrap_or(u16::MAX)
}

fn in_place(tapped: MessageId) -> Place {
    Place::Change { slot: Some(Slot::Place), tapped: Some(tapped) }
}
