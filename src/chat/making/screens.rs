//! The screens on which the maker says how the blanket is made, with their buttons, and the way
//! back from each.

use super::said::{Lost, MakingRefusal, MakingSaid};
use super::{DAYS_OF_BLOCK, OWN_MAX, act_key, back_key, basis, facts, key, shape};
use crate::blanket::size::Basis;
use crate::blanket::stitch::{Craft, LinenEdge, Stitch, Width, WidthFault};
use crate::blanket::{Book, Carry, Cut, Fabric, Fillers, Plan, Side, Terms};
use crate::chat::button::{Act, Button, Choice, Screen};
use crate::chat::outcome::{Key, Reply};
use crate::chat::say::{Caption, Say};
use crate::chat::talk::Awaited;

/// A screen as it is opened: what is typed there is waited for.
pub fn screen(book: &Book, screen: Screen, lost: &Lost) -> Reply {
    draw(book, screen, lost, true)
}

/// A screen after a choice: nothing is waited for.
pub fn quiet(book: &Book, screen: Screen, lost: &Lost) -> Reply {
    draw(book, screen, lost, false)
}

/// The screen to show instead where a blanket has no use for one.
pub fn of_this_blanket(book: &Book, screen: Screen) -> Screen {
    let strip = book.plan().pieces().cut == Cut::Strip;
    match screen {
        Screen::Rows | Screen::Fillers | Screen::ShortEnds if strip => Screen::Blocks,
        Screen::Columns if strip => Screen::Size,
        Screen::Swatch(None) => Screen::Swatch(Some(basis(book))),
        screen => screen,
    }
}

/// What a screen waits for.
pub fn waits(screen: Screen) -> Option<Awaited> {
    match screen {
        Screen::Days => Some(Awaited::Days),
        Screen::Rows => Some(Awaited::Rows),
        Screen::OwnWidths(craft) => Some(Awaited::OwnWidths(craft)),
        Screen::Width => Some(Awaited::Width),
        Screen::Swatch(basis) => Some(Awaited::Swatch(basis.unwrap_or(Basis::TenCentimetres))),
        Screen::Columns => Some(Awaited::Columns),
        Screen::Border => Some(Awaited::Border),
        Screen::Home
        | Screen::Blocks
        | Screen::Cut
        | Screen::Strip
        | Screen::Fillers
        | Screen::ShortEnds
        | Screen::Stitch
        | Screen::Linen
        | Screen::HalfDouble
        | Screen::Double
        | Screen::Garter
        | Screen::Own
        | Screen::Carry
        | Screen::Names
        | Screen::Size => None,
    }
}

/// The screen that waits for it.
pub fn of(wait: Awaited) -> Screen {
    match wait {
        Awaited::Days => Screen::Days,
        Awaited::Rows => Screen::Rows,
        Awaited::OwnWidths(craft) => Screen::OwnWidths(craft),
        Awaited::Width => Screen::Width,
        Awaited::Swatch(basis) => Screen::Swatch(Some(basis)),
        Awaited::Columns => Screen::Columns,
        Awaited::Border => Screen::Border,
    }
}

/// The screen that shows what was chosen.
pub fn of_choice(choice: Choice) -> Screen {
    match choice {
        Choice::Cut(_)
        | Choice::CutAsBefore { .. }
        | Choice::Rows(_)
        | Choice::Fillers(_)
        | Choice::ShortEnds(_) => Screen::Blocks,
        Choice::Stitch { .. }
        | Choice::StitchAsBefore { .. }
        | Choice::Turned(_)
        | Choice::FirstSide(_) => Screen::Stitch,
        Choice::Carry(_) => Screen::Carry,
        Choice::Terms(_) | Choice::LeftHanded(_) => Screen::Names,
        Choice::Width(_) => Screen::Width,
        Choice::Swatch(_) => Screen::Swatch(None),
        Choice::Columns(_) | Choice::Border(_) => Screen::Size,
    }
}

/// The screen that *Back* leads to; `None` for all settings.
pub fn parent(screen: Screen) -> Option<Screen> {
    match screen {
        Screen::Home => None,
        Screen::Blocks
        | Screen::Stitch
        | Screen::Carry
        | Screen::Names
        | Screen::Width
        | Screen::Swatch(_)
        | Screen::Size => Some(Screen::Home),
        Screen::Cut | Screen::Rows | Screen::Fillers | Screen::ShortEnds => Some(Screen::Blocks),
        Screen::Days | Screen::Strip => Some(Screen::Cut),
        Screen::Linen | Screen::HalfDouble | Screen::Double | Screen::Garter | Screen::Own => {
            Some(Screen::Stitch)
        }
        Screen::OwnWidths(_) => Some(Screen::Own),
        Screen::Columns | Screen::Border => Some(Screen::Size),
    }
}

/// What was typed cannot be read.
pub fn unread(book: &Book, wait: Awaited, text: &str) -> MakingRefusal {
    let stitch = book.fabric().stitch;
    let (least, most, usual) = match wait {
        Awaited::Days => (*DAYS_OF_BLOCK.start(), *DAYS_OF_BLOCK.end(), 10),
        Awaited::Rows => (book.plan().pieces().rows_min(), Plan::ROWS_MAX, Plan::ROWS_DEFAULT),
        Awaited::OwnWidths(_) => (1, OWN_MAX, 6),
        Awaited::Width => (2, Stitch::WIDTH_MAX, facts::example_width(stitch)),
        Awaited::Swatch(_) => (2, 120, 14),
        Awaited::Columns => (1, shape::columns_max(book.plan()), 3),
        Awaited::Border => (0, Fabric::BORDER_ROUNDS_MAX, 2),
    };
    let example = usual.clamp(least, most.max(least));
    MakingRefusal::Unread { typed: text.to_owned(), wait, least, most, example }
}

/// Buttons that a refusal offers instead.
pub fn ways_on(book: &Book, refusal: &MakingRefusal) -> Vec<Key> {
    let terms = book.fabric().terms;
    match refusal {
        MakingRefusal::Width { fault, .. } => widths(*fault, terms),
        MakingRefusal::Turned { stitch, .. } if *stitch != book.fabric().stitch => {
            vec![choose(Choice::Stitch { stitch: *stitch, turn: true }, terms)]
        }
        MakingRefusal::Worked { .. }
        | MakingRefusal::Unread { .. }
        | MakingRefusal::Days { .. }
        | MakingRefusal::Rows { .. }
        | MakingRefusal::StripRows
        | MakingRefusal::Turned { .. }
        | MakingRefusal::Own { .. }
        | MakingRefusal::Swatch
        | MakingRefusal::Columns { .. }
        | MakingRefusal::Border { .. } => Vec::new(),
    }
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
    let reply = lines(book, screen, lost, asks)
        .into_iter()
        .fold(Reply::new(Say::Making(said)), |reply, line| reply.keys(line));
    match parent(screen) {
        Some(parent) => reply.keys([back_key(parent)]),
        None => reply.key(Caption::Back, Button::Settings),
    }
}

/// The lines of buttons of a screen, *Back* not among them.
fn lines(book: &Book, screen: Screen, lost: &Lost, asks: bool) -> Vec<Vec<Key>> {
    let fabric = *book.fabric();
    let terms = fabric.terms;
    let show = |screen| key(screen, book);
    let one_each = |choices: Vec<Choice>| {
        choices.into_iter().map(|choice| vec![choose(choice, terms)]).collect::<Vec<_>>()
    };
    let forms = |stitches: &[Stitch]| {
        one_each(stitches.iter().map(|&stitch| Choice::Stitch { stitch, turn: false }).collect())
    };
    match screen {
        Screen::Home => vec![
            vec![show(Screen::Blocks), show(Screen::Stitch)],
            vec![show(Screen::Width), show(Screen::Swatch(None))],
            vec![show(Screen::Carry), show(Screen::Size)],
            vec![show(Screen::Names)],
        ],
        Screen::Blocks if book.plan().pieces().cut == Cut::Strip => vec![vec![show(Screen::Cut)]],
        Screen::Blocks => vec![
            vec![show(Screen::Cut)],
            vec![show(Screen::Rows), show(Screen::Fillers)],
            vec![show(Screen::ShortEnds)],
        ],
        Screen::Cut => {
            let mut lines = one_each(vec![Choice::Cut(Cut::Months), Choice::Cut(Cut::FromStart)]);
            lines.extend([vec![show(Screen::Days)], vec![show(Screen::Strip)]]);
            lines
        }
        Screen::Strip => one_each(vec![Choice::Cut(Cut::Strip)]),
        Screen::Fillers => {
            let all = [Fillers::After, Fillers::FirstAndLast, Fillers::Before, Fillers::Balanced];
            one_each(all.map(Choice::Fillers).to_vec())
        }
        Screen::ShortEnds => one_each(vec![Choice::ShortEnds(false), Choice::ShortEnds(true)]),
        Screen::Stitch => stitches(book, lost),
        Screen::Linen => forms(&LINEN),
        Screen::HalfDouble => {
            forms(&[true, false].map(|chain_counts| Stitch::HalfDouble { chain_counts }))
        }
        Screen::Double => forms(&[true, false].map(|chain_counts| Stitch::Double { chain_counts })),
        Screen::Garter => forms(&[true, false].map(|day_is_ridge| Stitch::Garter { day_is_ridge })),
        Screen::Own => {
            let crafts = [Craft::Crochet, Craft::Knit];
            vec![crafts.map(|craft| show(Screen::OwnWidths(craft))).to_vec()]
        }
        Screen::Carry => {
            one_each([Carry::Never, Carry::Three, Carry::Five].map(Choice::Carry).to_vec())
        }
        Screen::Names => vec![
            [Terms::Us, Terms::Uk].map(|it| choose(Choice::Terms(it), terms)).to_vec(),
            [false, true].map(|left| choose(Choice::LeftHanded(left), terms)).to_vec(),
        ],
        Screen::Width if asks => vec![square_widths(book)],
        Screen::Width => vec![vec![change(Screen::Width)]],
        Screen::Swatch(over) if asks => {
            let other = match over.unwrap_or(basis(book)) {
                Basis::TenCentimetres => Basis::FourInches,
                Basis::FourInches => Basis::TenCentimetres,
            };
            vec![square_widths(book), vec![show(Screen::Swatch(Some(other)))]]
        }
        Screen::Swatch(_) => vec![square_widths(book), vec![change(Screen::Swatch(None))]],
        Screen::Size => size_keys(book),
        Screen::Columns => {
            let columns = facts::columns(book.plan());
            vec![columns.into_iter().map(|it| choose(Choice::Columns(Some(it)), terms)).collect()]
        }
        Screen::Border => {
            let keys: Vec<Key> =
                (0..=3).map(|rounds| choose(Choice::Border(rounds), terms)).collect();
            keys.chunks(2).map(<[Key]>::to_vec).collect()
        }
        Screen::Days | Screen::Rows | Screen::OwnWidths(_) => Vec::new(),
    }
}

const LINEN: [Stitch; 3] = [
    Stitch::Linen(LinenEdge::ChainTwo),
    Stitch::Linen(LinenEdge::Single),
    Stitch::Linen(LinenEdge::SingleAtEnd),
];

fn stitches(book: &Book, lost: &Lost) -> Vec<Vec<Key>> {
    let Fabric { terms, turned, first_side, .. } = *book.fabric();
    let show = |screen| key(screen, book);
    let plain = |stitch| choose(Choice::Stitch { stitch, turn: false }, terms);
    let nearest = lost.width.map(|(_, fault)| widths(fault, terms)).unwrap_or_default();
    let swatch = lost.swatch.map(|swatch| choose(Choice::Swatch(Some(swatch)), terms));
    let other_side = match first_side {
        Side::Right => Side::Wrong,
        Side::Wrong => Side::Right,
    };
    let mut ways = vec![choose(Choice::Turned(!turned), terms)];
    // Where the work is not turned, every row faces right.
    if turned {
        ways.push(choose(Choice::FirstSide(other_side), terms));
    }
    vec![
        nearest,
        swatch.into_iter().collect(),
        vec![plain(Stitch::SingleCrochet)],
        vec![show(Screen::HalfDouble)],
        vec![show(Screen::Double)],
        vec![show(Screen::Linen), show(Screen::Garter)],
        vec![plain(Stitch::Stockinette), show(Screen::Own)],
        ways,
    ]
}

fn size_keys(book: &Book) -> Vec<Vec<Key>> {
    let Fabric { swatch, width, .. } = book.fabric();
    let wanted = [
        swatch.is_none().then_some(Screen::Swatch(None)),
        width.is_none().then_some(Screen::Width),
    ];
    let layout = match book.plan().pieces().cut {
        Cut::Strip => vec![Screen::Border],
        Cut::Months | Cut::FromStart | Cut::Every(_) => vec![Screen::Columns, Screen::Border],
    };
    let keys = |screens: Vec<Screen>| screens.into_iter().map(|it| key(it, book)).collect();
    vec![keys(wanted.into_iter().flatten().collect()), keys(layout)]
}

/// The widths that make a block nearest to a square, to tap.
fn square_widths(book: &Book) -> Vec<Key> {
    let near = facts::swatch(book, None).near_square;
    let taken = book.fabric().width;
    let others = near.into_iter().map(|near| near.width).filter(|width| Some(*width) != taken);
    others.map(|width| choose(Choice::Width(Some(width)), book.fabric().terms)).collect()
}

fn widths(fault: WidthFault, terms: Terms) -> Vec<Key> {
    let near: [Option<Width>; 2] = [fault.below, fault.above];
    near.into_iter().flatten().map(|width| choose(Choice::Width(Some(width)), terms)).collect()
}

fn choose(choice: Choice, terms: Terms) -> Key {
    act_key(Act::Choose(choice), terms)
}

fn change(screen: Screen) -> Key {
    Key { caption: Caption::Change, button: Button::Making { act: Act::Show(screen) } }
}
