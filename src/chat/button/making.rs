//! The screens on which a maker says how the blanket is made, what can be chosen there, and how
//! both travel in a token.

use crate::blanket::size::{Basis, Swatch};
use crate::blanket::stitch::{Craft, LinenEdge, Stitch, Width};
use crate::blanket::{Carry, Cut, Fillers, Side, Terms};

use super::token::{read_flag, read_number, read_some};

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Act {
    Show(Screen),
    Choose(Choice),
    /// The same, after what it makes of worked rows was shown.
    Change {
        choice: Choice,
        shown: Shown,
    },
}

/// What was shown of worked rows: how many there are, and in short which of them would differ.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Shown {
    pub rows: u16,
    pub sum: u16,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Screen {
    /// How the blanket is made, all of it.
    Home,
    Blocks,
    Cut,
    /// So many days a block, typed.
    Days,
    /// What one strip would be, before it begins.
    Strip,
    /// Rows a block, typed.
    Rows,
    Fillers,
    ShortEnds,
    Stitch,
    Linen,
    HalfDouble,
    Double,
    Garter,
    Own,
    /// The multiple and what is added, typed.
    OwnWidths(Craft),
    Carry,
    Names,
    /// Stitches across, typed.
    Width,
    /// Stitches and rows of the swatch, typed.
    Swatch(Option<Basis>),
    Size,
    /// Blocks side by side, tapped or typed.
    Columns,
    /// Rounds of the border, tapped or typed.
    Border,
}

/// A new value of one thing. An undo is a choice of what was before, so that it is safe to tap
/// twice.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Choice {
    /// The rows a block follow from it.
    Cut(Cut),
    CutAsBefore {
        cut: Cut,
        rows: u16,
        columns: Option<u16>,
    },
    Rows(u16),
    Fillers(Fillers),
    ShortEnds(bool),
    /// `turn`: the work is turned from now on, whatever it was.
    Stitch {
        stitch: Stitch,
        turn: bool,
    },
    StitchAsBefore {
        stitch: Stitch,
        width: Option<Width>,
        turned: bool,
        swatch: Option<Swatch>,
    },
    Turned(bool),
    FirstSide(Side),
    Carry(Carry),
    Terms(Terms),
    LeftHanded(bool),
    Width(Option<Width>),
    Swatch(Option<Swatch>),
    Columns(Option<u16>),
    Border(u16),
}

impl Screen {
    pub const ALL: [Screen; 25] = [
        Screen::Home,
        Screen::Blocks,
        Screen::Cut,
        Screen::Days,
        Screen::Strip,
        Screen::Rows,
        Screen::Fillers,
        Screen::ShortEnds,
        Screen::Stitch,
        Screen::Linen,
        Screen::HalfDouble,
        Screen::Double,
        Screen::Garter,
        Screen::Own,
        Screen::OwnWidths(Craft::Crochet),
        Screen::OwnWidths(Craft::Knit),
        Screen::Carry,
        Screen::Names,
        Screen::Width,
        Screen::Swatch(None),
        Screen::Swatch(Some(Basis::TenCentimetres)),
        Screen::Swatch(Some(Basis::FourInches)),
        Screen::Size,
        Screen::Columns,
        Screen::Border,
    ];

    fn code(self) -> &'static str {
        match self {
            Screen::Home => "home",
            Screen::Blocks => "blocks",
            Screen::Cut => "cut",
            Screen::Days => "days",
            Screen::Strip => "strip",
            Screen::Rows => "rows",
            Screen::Fillers => "fillers",
            Screen::ShortEnds => "ends",
            Screen::Stitch => "stitch",
            Screen::Linen => "linen",
            Screen::HalfDouble => "half",
            Screen::Double => "double",
            Screen::Garter => "garter",
            Screen::Own => "own",
            Screen::OwnWidths(Craft::Crochet) => "ownc",
            Screen::OwnWidths(Craft::Knit) => "ownk",
            Screen::Carry => "carry",
            Screen::Names => "names",
            Screen::Width => "width",
            Screen::Swatch(None) => "swatch",
            Screen::Swatch(Some(Basis::TenCentimetres)) => "swatchc",
            Screen::Swatch(Some(Basis::FourInches)) => "swatchi",
            Screen::Size => "size",
            Screen::Columns => "columns",
            Screen::Border => "border",
        }
    }
}

/// The fields after the name of the button.
pub fn fields(act: Act) -> String {
    match act {
        Act::Show(screen) => format!("see|{}", screen.code()),
        Act::Choose(choice) => chosen(choice),
        Act::Change { choice, shown: Shown { rows, sum } } => {
            format!("go|{rows}|{sum}|{}", chosen(choice))
        }
    }
}

fn chosen(choice: Choice) -> String {
    let some = |number: Option<u16>| number.map(|number| number.to_string()).unwrap_or_default();
    match choice {
        Choice::Cut(cut) => format!("cut|{}", cut_code(cut)),
        Choice::CutAsBefore { cut, rows, columns } => {
            format!("cut|{}|{rows}|{}", cut_code(cut), some(columns))
        }
        Choice::Rows(rows) => format!("rows|{rows}"),
        Choice::Fillers(fillers) => format!("fillers|{}", fillers_code(fillers)),
        Choice::ShortEnds(short) => format!("short|{}", u8::from(short)),
        Choice::Stitch { stitch, turn } => {
            format!("stitch|{}|{}", stitch_code(stitch), u8::from(turn))
        }
        Choice::StitchAsBefore { stitch, width, turned, swatch } => format!(
            "stitch|{}|{}|{}|{}",
            stitch_code(stitch),
            some(width.map(|width| width.0)),
            u8::from(turned),
            swatch.map(swatch_code).unwrap_or_default()
        ),
        Choice::Turned(turned) => format!("turned|{}", u8::from(turned)),
        Choice::FirstSide(side) => format!("first|{}", u8::from(side == Side::Wrong)),
        Choice::Carry(carry) => format!("carry|{}", carry.rows()),
        Choice::Terms(terms) => format!("terms|{}", u8::from(terms == Terms::Uk)),
        Choice::LeftHanded(left) => format!("left|{}", u8::from(left)),
        Choice::Width(width) => format!("width|{}", some(width.map(|width| width.0))),
        Choice::Swatch(swatch) => {
            format!("swatch|{}", swatch.map(swatch_code).unwrap_or_default())
        }
        Choice::Columns(columns) => format!("columns|{}", some(columns)),
        Choice::Border(rounds) => format!("border|{rounds}"),
    }
}

pub fn read(fields: &[&str]) -> Option<Act> {
    match fields {
        ["see", code] => {
            Screen::ALL.into_iter().find(|screen| screen.code() == *code).map(Act::Show)
        }
        ["go", rows, sum, choice @ ..] => {
            let shown = Shown { rows: read_number(rows)?, sum: read_number(sum)? };
            Some(Act::Change { choice: read_choice(choice)?, shown })
        }
        choice => read_choice(choice).map(Act::Choose),
    }
}

fn read_choice(fields: &[&str]) -> Option<Choice> {
    let width = |text: &str| read_some(text, read_number).map(|width| width.map(Width));
    Some(match fields {
        ["cut", cut] => Choice::Cut(read_cut(cut)?),
        ["cut", cut, rows, columns] => Choice::CutAsBefore {
            cut: read_cut(cut)?,
            rows: read_number(rows)?,
            columns: read_some(columns, read_number)?,
        },
        ["rows", rows] => Choice::Rows(read_number(rows)?),
        ["fillers", code] => {
            let all = [Fillers::After, Fillers::FirstAndLast, Fillers::Before, Fillers::Balanced];
            Choice::Fillers(all.into_iter().find(|fillers| fillers_code(*fillers) == *code)?)
        }
        ["short", short] => Choice::ShortEnds(read_flag(short)?),
        ["stitch", stitch, turn] => {
            Choice::Stitch { stitch: read_stitch(stitch)?, turn: read_flag(turn)? }
        }
        ["stitch", stitch, across, turned, swatch] => Choice::StitchAsBefore {
            stitch: read_stitch(stitch)?,
            width: width(across)?,
            turned: read_flag(turned)?,
            swatch: read_some(swatch, read_swatch)?,
        },
        ["turned", turned] => Choice::Turned(read_flag(turned)?),
        ["first", wrong] => {
            Choice::FirstSide(if read_flag(wrong)? { Side::Wrong } else { Side::Right })
        }
        ["carry", rows] => {
            let all = [Carry::Never, Carry::Three, Carry::Five];
            let rows: u16 = read_number(rows)?;
            Choice::Carry(all.into_iter().find(|carry| carry.rows() == rows)?)
        }
        ["terms", uk] => Choice::Terms(if read_flag(uk)? { Terms::Uk } else { Terms::Us }),
        ["left", left] => Choice::LeftHanded(read_flag(left)?),
        ["width", across] => Choice::Width(width(across)?),
        ["swatch", swatch] => Choice::Swatch(read_some(swatch, read_swatch)?),
        ["columns", columns] => Choice::Columns(read_some(columns, read_number)?),
        ["border", rounds] => Choice::Border(read_number(rounds)?),
        _ => return None,
    })
}

fn cut_code(cut: Cut) -> String {
    match cut {
        Cut::Months => "m".to_owned(),
        Cut::FromStart => "f".to_owned(),
        Cut::Every(days) => format!("e{days}"),
        Cut::Strip => "s".to_owned(),
    }
}

fn read_cut(text: &str) -> Option<Cut> {
    match text {
        "m" => Some(Cut::Months),
        "f" => Some(Cut::FromStart),
        "s" => Some(Cut::Strip),
        every => read_number(every.strip_prefix('e')?).map(Cut::Every),
    }
}

fn fillers_code(fillers: Fillers) -> &'static str {
    match fillers {
        Fillers::After => "after",
        Fillers::FirstAndLast => "both",
        Fillers::Before => "before",
        Fillers::Balanced => "half",
    }
}

fn stitch_code(stitch: Stitch) -> String {
    let plain = match stitch {
        Stitch::Linen(LinenEdge::ChainTwo) => "lc",
        Stitch::Linen(LinenEdge::Single) => "ls",
        Stitch::Linen(LinenEdge::SingleAtEnd) => "le",
        Stitch::SingleCrochet => "s",
        Stitch::HalfDouble { chain_counts: false } => "h0",
        Stitch::HalfDouble { chain_counts: true } => "h1",
        Stitch::Double { chain_counts: false } => "d0",
        Stitch::Double { chain_counts: true } => "d1",
        Stitch::Garter { day_is_ridge: false } => "g0",
        Stitch::Garter { day_is_ridge: true } => "g1",
        Stitch::Stockinette => "t",
        Stitch::Own { multiple, offset, craft } => {
            let craft = match craft {
                Craft::Crochet => 'c',
                Craft::Knit => 'k',
            };
            return format!("o{craft}{multiple}.{offset}");
        }
    };
    plain.to_owned()
}

fn read_stitch(text: &str) -> Option<Stitch> {
    let plain = match text {
        "lc" => Stitch::Linen(LinenEdge::ChainTwo),
        "ls" => Stitch::Linen(LinenEdge::Single),
        "le" => Stitch::Linen(LinenEdge::SingleAtEnd),
        "s" => Stitch::SingleCrochet,
        "h0" => Stitch::HalfDouble { chain_counts: false },
        "h1" => Stitch::HalfDouble { chain_counts: true },
        "d0" => Stitch::Double { chain_counts: false },
        "d1" => Stitch::Double { chain_counts: true },
        "g0" => Stitch::Garter { day_is_ridge: false },
        "g1" => Stitch::Garter { day_is_ridge: true },
        "t" => Stitch::Stockinette,
        own => {
            let own = own.strip_prefix('o')?;
            let (craft, numbers) = match own.strip_prefix('c') {
                Some(numbers) => (Craft::Crochet, numbers),
                None => (Craft::Knit, own.strip_prefix('k')?),
            };
            let (multiple, offset) = numbers.split_once('.')?;
            let (multiple, offset) = (read_number(multiple)?, read_number(offset)?);
            return Some(Stitch::Own { multiple, offset, craft });
        }
    };
    Some(plain)
}

fn swatch_code(swatch: Swatch) -> String {
    let basis = match swatch.basis {
        Basis::TenCentimetres => 'c',
        Basis::FourInches => 'i',
    };
    let (stitches, rows) = swatch.tenths();
    format!("{basis}{stitches}.{rows}")
}

fn read_swatch(text: &str) -> Option<Swatch> {
    let (basis, numbers) = match text.strip_prefix('c') {
        Some(numbers) => (Basis::TenCentimetres, numbers),
        None => (Basis::FourInches, text.strip_prefix('i')?),
    };
    let (stitches, rows) = numbers.split_once('.')?;
    Swatch::from_tenths(read_number(stitches)?, read_number(rows)?, basis).ok()
}
