//! The screens on which the maker says how the blanket is made: what each says of this blanket.

use super::said::{Lost, MakingRefusal, MakingSaid};
use super::{DAYS_OF_BLOCK, back_key, basis, facts, keys, shape, ways};
use crate::blanket::stitch::Stitch;
use crate::blanket::{Book, Fabric, Plan};
use crate::chat::button::{Button, Screen};
use crate::chat::caption::Caption;
use crate::chat::outcome::Reply;
use crate::chat::say::Say;
use crate::chat::talk::Awaited;

/// A screen as it is opened: what is typed there is waited for.
pub fn screen(book: &Book, screen: Screen, lost: &Lost) -> Reply {
    draw(book, screen, lost, true)
}

/// A screen after a choice: nothing is waited for.
pub fn quiet(book: &Book, screen: Screen, lost: &Lost) -> Reply {
    draw(book, screen, lost, false)
}

/// What was typed cannot be read.
pub fn unread(book: &Book, wait: Awaited, text: &str) -> MakingRefusal {
    let stitch = book.fabric().stitch;
    let (least, most, usual) = match wait {
        Awaited::Days => (*DAYS_OF_BLOCK.start(), *DAYS_OF_BLOCK.end(), 10),
        Awaited::Rows => (book.plan().pieces().rows_min(), Plan::ROWS_MAX, Plan::ROWS_DEFAULT),
        Awaited::OwnWidths(_) => (1, Stitch::OWN_MAX, 6),
        Awaited::Width => (2, Stitch::WIDTH_MAX, facts::example_width(stitch)),
        Awaited::Swatch(_) => (2, 120, 14),
        Awaited::Columns => (1, shape::columns_max(book.plan()), 3),
        Awaited::Border => (0, Fabric::BORDER_ROUNDS_MAX, 2),
    };
    let example = usual.clamp(least, most.max(least));
    MakingRefusal::Unread { typed: text.to_owned(), wait, least, most, example }
}

fn draw(book: &Book, screen: Screen, lost: &Lost, asks: bool) -> Reply {
    let (plan, fabric) = (book.plan(), *book.fabric());
    let pieces = plan.pieces();
    let said = match screen {
        Screen::Home => {
            let block = fabric.block_size(plan.rows_max());
            MakingSaid::Home { blocks: facts::blocks(book), fabric, block }
        }
        Screen::Blocks => MakingSaid::Blocks(facts::blocks(book)),
        Screen::Cut => MakingSaid::AskCut,
        Screen::Days => MakingSaid::AskDays,
        Screen::Strip => {
            let (rows, height_cm, by_swatch) = facts::strip(book);
            MakingSaid::StripWarning { rows, height_cm, by_swatch }
        }
        Screen::Rows => {
            MakingSaid::AskRows { least: pieces.rows_min(), most: Plan::ROWS_MAX, now: pieces.rows }
        }
        Screen::Fillers => {
            MakingSaid::AskFillers { fillers: facts::blocks(book).fillers, now: pieces.fillers }
        }
        Screen::ShortEnds => MakingSaid::AskShortEnds(facts::blocks(book)),
        Screen::Stitch => MakingSaid::Stitch { fabric, lost: *lost },
        Screen::Linen | Screen::HalfDouble | Screen::Double | Screen::Garter => {
            MakingSaid::AskForm { of: screen, terms: fabric.terms }
        }
        Screen::Own => MakingSaid::AskOwnCraft,
        Screen::OwnWidths(_) => MakingSaid::AskOwnWidths,
        Screen::Carry => MakingSaid::Carry { fabric, ends: facts::ends_of_block(book) },
        Screen::Names => MakingSaid::Names { terms: fabric.terms, left_handed: fabric.left_handed },
        Screen::Width => {
            let example = facts::example_width(fabric.stitch);
            MakingSaid::Width { fabric, asks: asks.then_some(example) }
        }
        Screen::Swatch(over) => {
            let over = over.unwrap_or(basis(book));
            MakingSaid::Swatch(facts::swatch(book, asks.then_some(over)))
        }
        Screen::Size => MakingSaid::Size(facts::size(book)),
        Screen::Columns => {
            MakingSaid::AskColumns { blocks: plan.block_count(), most: shape::columns_max(plan) }
        }
        Screen::Border => MakingSaid::AskBorder { most: Fabric::BORDER_ROUNDS_MAX },
    };
    let reply = keys::lines(book, screen, lost, asks)
        .into_iter()
        .fold(Reply::new(Say::Making(said)), |reply, line| reply.keys(line));
    match ways::parent(screen) {
        Some(parent) => reply.keys([back_key(parent)]),
        None => reply.key(Caption::Back, Button::Settings),
    }
}
