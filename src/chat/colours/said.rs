//! What is said of the colours of the yarns.

use crate::blanket::colours::{Rgb, View};
use crate::blanket::{Label, LabelFault};

#[derive(Clone, PartialEq, Debug)]
pub enum ColoursSaid {
    Check(Box<Check>),
    All,
    One(ColourSaid),
    AskName { yarn: Label },
    AskAnother { yarn: Label },
    AskAnotherCode { yarn: Label },
    Another(AnotherSaid),
    Palettes(PalettesSaid),
    Orders(OrdersSaid),
}

/// What cannot be so. Nothing was changed.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum ColoursRefusal {
    Code {
        typed: String,
    },
    Name(LabelFault),
    /// Another yarn has this name.
    /// Of a yarn that came since, where another would get the name back.
    NameTaken {
        name: Label,
    },
    SameName {
        name: Label,
    },
    /// A name of numbers or signs.
    NoLetters,
    /// There are so many yarns.
    Full {
        most: usize,
    },
    /// The yarn that was added is worked in, or on hand.
    Used {
        name: Label,
    },
}

/// Every pair of colours as each sight has it.
#[derive(Clone, PartialEq, Debug)]
pub struct Check {
    pub done: Option<Done>,
    pub sights: Vec<SightSaid>,
    /// Two tiers with one yarn.
    pub shared: Vec<(Label, Label, Label)>,
    /// The colours it is enough to change.
    pub change: Vec<Label>,
    /// What they can be changed to, all of them together.
    pub together: Vec<(Label, Rgb)>,
}

/// Who or what looks.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Sight {
    Eye(View),
    GreyPhoto,
    DimLight,
}

/// Pairs that one sight has close or the same, the closest first.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct SightSaid {
    pub sight: Sight,
    pub same: Vec<(Label, Label)>,
    pub close: Vec<(Label, Label)>,
    /// Pairs that are not named.
    pub more: usize,
}

/// What was changed last.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Done {
    Recoloured {
        to: Vec<(Label, Rgb)>,
        /// Rows worked in them.
        rows: u32,
    },
    Named {
        before: Label,
        now: Label,
        rows: u32,
    },
    /// Another yarn is worked where one was.
    Another {
        before: Label,
        now: Label,
        /// Rows that stay in the one before.
        rows: u32,
    },
    Palette {
        name: String,
        rows: u32,
    },
    Ordered {
        /// Worked rows that are in another yarn than they call for now.
        differing: usize,
    },
    Undone,
}

/// Another yarn, as it would be worked from now on.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct AnotherSaid {
    pub before: Label,
    pub now: Label,
    pub rgb: Rgb,
    /// Tiers that are worked in it, lowest first.
    pub tiers: Vec<Label>,
    /// Whether it is the joining colour.
    pub joining: bool,
    /// Rows that stay in the one before.
    pub worked: u32,
    /// Rows that are known and not worked.
    pub known: u32,
    /// Colours that are close to it for some eyes.
    pub near: Vec<Label>,
}

/// One colour.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct ColourSaid {
    pub name: Label,
    pub rgb: Rgb,
    pub rows: u32,
    /// Colours that are close to it for some eyes.
    pub near: Vec<Label>,
    /// Whether a darker or a lighter shade is offered.
    pub shade: bool,
    /// Whether another yarn can come after it.
    pub another: bool,
}

#[derive(Clone, PartialEq, Eq, Debug)]
pub struct PalettesSaid {
    /// Each with its yarns, lowest tier first, and its joining colour.
    pub palettes: Vec<(String, Vec<String>, String)>,
}

/// The yarns of the tiers in two other orders, lowest tier first; none for an order they have.
#[derive(Clone, PartialEq, Debug)]
pub struct OrdersSaid {
    pub by_lightness: Option<OrderSaid>,
    /// The smallest difference in lightness between neighbours in that order.
    pub smallest_step: f64,
    pub smooth: Option<OrderSaid>,
}

#[derive(Clone, PartialEq, Eq, Debug)]
pub struct OrderSaid {
    pub yarns: Vec<Label>,
    /// Worked rows that would be in another yarn than they call for.
    pub differing: usize,
}

/// What is written on a button about colours.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum ColourCaption {
    Check,
    All,
    Together(usize),
    Darker(Rgb),
    Lighter(Rgb),
    Name,
    Another,
    UseAnother,
    Palettes,
    Orders,
    ByLightness,
    Smooth,
    Card,
    ImaginedYear,
}
