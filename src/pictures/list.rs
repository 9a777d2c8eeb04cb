//! What is drawn, before anybody has drawn it: a page of rectangles, lines, texts and rows of
//! stitches, in reading order, with their meaning around them.
//!
//! Every output draws the same list. Knows no file format, no book and no word.

/// A colour as its sRGB bytes.
pub type Rgb = [u8; 3];

/// One page. Lengths are in units: pixels of a picture at scale 1, points (1/72 inch) of a sheet.
#[derive(Clone, PartialEq, Debug)]
pub struct DisplayList {
    pub title: String,
    /// BCP 47, such as "en".
    pub language: &'static str,
    pub width: f32,
    pub height: f32,
    /// Later items cover earlier ones.
    pub items: Vec<Item>,
}

#[derive(Clone, PartialEq, Debug)]
pub enum Item {
    Rect(Area, Rgb),
    Line(Line),
    Text(Text),
    Stitches(Stitches),
    /// What follows up to the matching `Close` means this. What is inside no role is decoration.
    Open(Role),
    Close,
}

/// A rectangle: left, top, width and height.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Area {
    pub x: f32,
    pub y: f32,
    pub width: f32,
    pub height: f32,
}

#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Line {
    pub from: (f32, f32),
    pub to: (f32, f32),
    pub width: f32,
    pub rgb: Rgb,
    /// Lengths of a dash and of the gap after it.
    pub dash: Option<(f32, f32)>,
}

/// One line of text, from its left end on its baseline. Every character is in the fonts.
#[derive(Clone, PartialEq, Debug)]
pub struct Text {
    pub x: f32,
    pub baseline: f32,
    pub style: Style,
    pub text: String,
}

#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Style {
    pub size: f32,
    pub weight: Weight,
    pub rgb: Rgb,
}

#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Weight {
    Regular,
    Bold,
}

/// A row of stitches as cloth shows it. Each stitch reaches into the row below, inside `clip`.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Stitches {
    pub area: Area,
    pub rgb: Rgb,
    pub clip: Area,
    /// How far its stitches begin to the right of a stitch's width: 0 or a half.
    pub half_over: bool,
    /// Seeds the small differences between stitches.
    pub seed: u32,
}

#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Role {
    Title,
    Paragraph,
    Table,
    /// The row of a table that names its columns.
    HeadRow,
    Row,
    HeadCell,
    Cell,
    /// A drawing, with what it shows in words.
    Figure(String),
}

impl Area {
    pub const fn new(x: f32, y: f32, width: f32, height: f32) -> Area {
        Area { x, y, width, height }
    }

    pub fn right(self) -> f32 {
        self.x + self.width
    }

    pub fn bottom(self) -> f32 {
        self.y + self.height
    }

    pub fn middle(self) -> f32 {
        self.y + self.height / 2.0
    }

    pub fn has(self, other: Area) -> bool {
        const SLACK: f32 = 0.01;
        self.x <= other.x + SLACK
            && self.y <= other.y + SLACK
            && other.right() <= self.right() + SLACK
            && other.bottom() <= self.bottom() + SLACK
    }
}

impl Style {
    pub const fn regular(size: f32, rgb: Rgb) -> Style {
        Style { size, weight: Weight::Regular, rgb }
    }

    pub const fn bold(size: f32, rgb: Rgb) -> Style {
        Style { size, weight: Weight::Bold, rgb }
    }
}
