//! What is said of yarn, and what is written on its buttons, as meanings. `wording` turns each
//! into words.

use chrono::NaiveDate;

use crate::blanket::forecast::Common;
use crate::blanket::yarn::{
    BallLabel, Edging, Join, Lacking, PerRow, ScaleStep, Target, TwoLots, Units,
};
use crate::blanket::{Label, RowNumber, Terms};
use crate::chat::say::BlockSaid;

#[derive(Clone, PartialEq, Debug)]
pub enum YarnSaid {
    /// Every colour in brief, what may run out first on top.
    List {
        lines: Vec<YarnLine>,
        example: Label,
    },
    Detail(Box<YarnDetail>),
    Entered {
        line: YarnLine,
        entered: Entered,
    },
    WhichColour,
    AskGrams {
        yarn: Label,
        ask: AskGrams,
    },
    AskBall {
        yarn: Label,
    },
    AskRows {
        yarn: Label,
    },
    AskLabel {
        now: Option<BallLabel>,
    },
    ToBuy(ToBuy),
    Settings(YarnSettingsSaid),
    AskJoin {
        now: Option<Join>,
        terms: Terms,
    },
    Guess {
        tiers: Vec<(Label, Option<Common>)>,
    },
    AskCommon {
        tier: Label,
    },
}

/// What is to be put on the scale.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum AskGrams {
    /// All of the colour.
    All,
    /// The yarn that is about to be worked, and what is left of it.
    Before,
    After {
        rows: u16,
    },
    /// Nothing: the maker knows how much there is.
    Correction,
}

/// Nothing was changed.
#[derive(Clone, PartialEq, Debug)]
pub enum YarnRefusal {
    Colour {
        typed: String,
        names: Vec<Label>,
        nearest: Option<Label>,
    },
    Weight {
        typed: String,
    },
    Ball {
        typed: String,
    },
    Rows {
        typed: String,
        max: u16,
    },
    Lot {
        typed: String,
    },
    TwoLots {
        typed: String,
    },
    BallTooHeavy {
        max: f64,
    },
    /// Grams before, and more now.
    Heavier {
        yarn: Label,
        now: f64,
        before: f64,
    },
    /// Of yarn weighed before and after rows: not less was left.
    NothingUsed {
        before: f64,
        after: f64,
    },
    TooManyBalls {
        max: u32,
    },
    TooManyWeighings {
        max: u32,
    },
}

/// One colour in brief.
#[derive(Clone, PartialEq, Debug)]
pub struct YarnLine {
    pub yarn: Label,
    pub on_hand_grams: Option<f64>,
    pub rows_possible: Option<u32>,
    pub waiting_rows: u32,
    pub runs_short: bool,
    pub lasts: Option<LastsSaid>,
}

/// The chance that a colour lasts, and what that rests on.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct LastsSaid {
    pub chance: f64,
    /// `None` for the joining colour, whose rows are known.
    pub basis: Option<Basis>,
}

/// What a row takes, and how that is known.
#[derive(Clone, PartialEq, Debug)]
pub enum RowSaid {
    Known {
        per_row: PerRow,
        advice: Option<u32>,
    },
    /// Not even a guess: these would settle it.
    Lacking(Vec<Lacking>),
}

/// One colour, all of it.
#[derive(Clone, PartialEq, Debug)]
pub struct YarnDetail {
    pub line: YarnLine,
    /// Balls that came, and the lots among them.
    pub balls: u32,
    pub lots: Vec<(Label, u32)>,
    pub two_lots: Option<TwoLotsSaid>,
    pub row: RowSaid,
    pub fillers_to_come: u32,
    pub edging: Edging,
    /// Rows to come, as expected; `None` for the joining colour, whose rows are known.
    pub expected_rows: Option<f64>,
    pub early: Option<WhenSaid>,
    pub likely: Option<WhenSaid>,
    pub buy: BuySaid,
    pub target: TargetSaid,
}

/// Two lots of one colour: which blocks from which?
#[derive(Clone, PartialEq, Debug)]
pub struct TwoLotsSaid {
    pub lots: TwoLots,
    pub until: Option<BlockSaid>,
}

/// What yarn may not be enough for.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum WhenSaid {
    Row { block: BlockSaid, row: RowNumber },
    Day(NaiveDate),
    Edging,
}

/// What to buy of a colour.
#[derive(Clone, PartialEq, Debug)]
pub struct BuySaid {
    pub yarn: Label,
    pub what: Buy,
    /// The lot of the newest ball.
    pub lot: Option<Label>,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Buy {
    Nothing,
    Balls { balls: u32, ball: BallLabel },
    TooMany,
    BallUnknown,
    RowUnknown,
}

/// How sure a purchase is to be.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct TargetSaid {
    pub target: Target,
    pub whole_blanket: bool,
}

/// What to buy of every colour.
#[derive(Clone, PartialEq, Debug)]
pub struct ToBuy {
    pub target: TargetSaid,
    pub basis: Basis,
    /// What may run out first on top.
    pub colours: Vec<BuySaid>,
    /// The colour to begin with, where there are two or more to buy.
    pub first: Option<First>,
    /// What would settle what a row takes, where that is not known.
    pub lacking: Vec<Lacking>,
    /// Of what use the joining colour is: its joins and its border.
    pub edging: (Label, Edging),
}

/// Which colour to buy first, and why.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum First {
    /// It may run out first.
    RunsOut(Label),
    /// Nothing of it is there, and the most rows are expected in it.
    MostRows(Label),
}

/// What the expectation rests on.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Basis {
    Days,
    /// No day has an answer: the maker's guess.
    Guess,
    /// Nor is there a guess.
    Nothing,
}

/// What was entered.
#[derive(Clone, PartialEq, Debug)]
pub enum Entered {
    Balls {
        balls: u16,
        lot: Option<(Label, u32)>,
        weighed: bool,
    },
    /// `rows`: worked in the colour since the weighing before; none before the first.
    Weighed {
        rows: Option<u32>,
        per_row: Option<PerRow>,
        advice: Option<u32>,
    },
    Corrected,
    Tried {
        rows: u16,
        per_row: Option<PerRow>,
    },
}

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct YarnSettingsSaid {
    pub units: Units,
    pub scale: ScaleStep,
    pub target: TargetSaid,
    pub join: Option<Join>,
    /// In which single crochet is called that, or double crochet.
    pub terms: Terms,
    pub ball: Option<BallLabel>,
}

/// What is written on a button.
#[derive(Clone, PartialEq, Debug)]
pub enum YarnCaption {
    AddBall,
    Weigh,
    BeforeAndAfter,
    Correct,
    /// So many grams are there now, whatever was before.
    Corrected {
        grams: f64,
        units: Units,
    },
    All,
    ToBuy,
    Settings,
    Units(Units),
    Scale(ScaleStep),
    Target(Target),
    WholeBlanket(bool),
    AskJoin,
    Join(Join, Terms),
    Label,
    Guess,
    Common(Common),
    NoGuess,
}
