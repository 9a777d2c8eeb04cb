//! The buttons of each screen on which the maker says how the blanket is made.

use super::said::{Lost, MakingRefusal};
use super::{act_key, basis, facts, key};
use crate::blanket::size::Basis;
use crate::blanket::stitch::{Craft, LinenEdge, Stitch, Width, WidthFault};
use crate::blanket::{BlockNumber, Book, Carry, Cut, Fabric, Fillers, RowNumber, Side, Terms};
use crate::chat::button::{Act, BlockButton, Button, Choice, Screen};
use crate::chat::caption::Caption;
use crate::chat::differing;
use crate::chat::outcome::Key;

/// The lines of buttons of a screen, *Back* not among them.
pub fn lines(book: &Book, screen: Screen, lost: &Lost, asks: bool) -> Vec<Vec<Key>> {
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
        Screen::Fillers => one_each(FILLERS.map(Choice::Fillers).to_vec()),
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
        Screen::Carry => one_each(CARRIES.map(Choice::Carry).to_vec()),
        Screen::Names => vec![
            [Terms::Us, Terms::Uk].map(|it| choose(Choice::Terms(it), terms)).to_vec(),
            [false, true].map(|left| choose(Choice::LeftHanded(left), terms)).to_vec(),
        ],
        Screen::Width => vec![square_widths(book), again(Screen::Width, asks)],
        Screen::Swatch(over) if asks => {
            let other = match over.unwrap_or(basis(book)) {
                Basis::TenCentimetres => Basis::FourInches,
                Basis::FourInches => Basis::TenCentimetres,
            };
            vec![square_widths(book), vec![show(Screen::Swatch(Some(other)))]]
        }
        Screen::Swatch(_) => vec![square_widths(book), again(Screen::Swatch(None), asks)],
        Screen::Size => size_keys(book),
        Screen::Columns => vec![one_line(facts::columns(book.plan()), |it| {
            choose(Choice::Columns(Some(it)), terms)
        })],
        Screen::Border => [vec![0, 1], vec![2, 3]]
            .map(|rounds| one_line(rounds, |it| choose(Choice::Border(it), terms)))
            .into(),
        Screen::Days | Screen::Rows | Screen::OwnWidths(_) => Vec::new(),
    }
}

const FILLERS: [Fillers; 4] =
    [Fillers::After, Fillers::FirstAndLast, Fillers::Before, Fillers::Balanced];
const CARRIES: [Carry; 3] = [Carry::Never, Carry::Three, Carry::Five];
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

/// After a choice, *Change* leads to where another can be typed.
fn again(screen: Screen, asks: bool) -> Vec<Key> {
    let button = Button::Making { act: Act::Show(screen) };
    if asks { Vec::new() } else { vec![Key { caption: Caption::Change, button }] }
}

fn one_line(numbers: Vec<u16>, key: impl Fn(u16) -> Key) -> Vec<Key> {
    numbers.into_iter().map(key).collect()
}

/// Pulls a block back to its row `left`. One that is woven in or joined is not pulled back by a tap.
fn pull_back(book: &Book, block: BlockNumber, was: u16, left: u16) -> Vec<Key> {
    if differing::is_fixed(book, block) {
        return Vec::new();
    }
    let caption = Caption::PullBack { to: RowNumber(left), rows: was.saturating_sub(left) };
    vec![Key { caption, button: Button::Undo { block, left, was } }]
}

/// Buttons that a refusal offers instead.
pub fn ways_on(book: &Book, refusal: &MakingRefusal) -> Vec<Key> {
    let terms = book.fabric().terms;
    match refusal {
        MakingRefusal::Width { fault, .. } => widths(*fault, terms),
        MakingRefusal::Turned { stitch, .. } if *stitch != book.fabric().stitch => {
            vec![choose(Choice::Stitch { stitch: *stitch, turn: true }, terms)]
        }
        MakingRefusal::MoreWorked { block, worked, rows } => {
            pull_back(book, block.number, *worked, *rows)
        }
        MakingRefusal::WorkedBlockGone { block } => {
            let worked = u16::try_from(book.worked(block.number).len()).unwrap_or(u16::MAX);
            pull_back(book, block.number, worked, 0)
        }
        MakingRefusal::FinishedBlock { block, .. } => {
            let button = BlockButton::List { block: block.number }.into();
            vec![Key { caption: Caption::ShowBlock(*block), button }]
        }
        MakingRefusal::Unread { .. }
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
