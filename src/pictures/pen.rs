//! Puts items on a page: the few moves that every picture is made of.

use super::list::{Area, DisplayList, Item, Line, Rgb, Role, Style, Text};
use super::text::{CAPITALS, fit, width};

/// Colours of what is not yarn.
pub const PAPER: Rgb = [255, 255, 255];
pub const TEXT: Rgb = [0x22, 0x22, 0x26];
pub const MUTED: Rgb = [0x5C, 0x5C, 0x60];
pub const BAND: Rgb = [0xF5, 0xF4, 0xF0];
pub const TRAY: Rgb = [0xF3, 0xEF, 0xE4];
/// Rows to come.
pub const PALE: Rgb = [0xFB, 0xFA, 0xF7];
pub const DASHES: Rgb = [0x6E, 0x6E, 0x72];
/// The outline of a swatch, so that a pale one is seen on paper.
pub const OUTLINE: Rgb = [0x8A, 0x88, 0x84];

/// Where a text stands relative to its x.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Align {
    Left,
    Middle,
    Right,
}

pub struct Pen {
    list: DisplayList,
}

impl Pen {
    pub fn new(title: &str, language: &'static str, width: f32, height: f32) -> Pen {
        let title = title.to_owned();
        let mut pen =
            Pen { list: DisplayList { title, language, width, height, items: Vec::new() } };
        pen.rect(Area::new(0.0, 0.0, width, height), PAPER);
        pen
    }

    pub fn done(self) -> DisplayList {
        self.list
    }

    pub fn rect(&mut self, area: Area, rgb: Rgb) {
        self.list.items.push(Item::Rect(area, rgb));
    }

    pub fn item(&mut self, item: Item) {
        self.list.items.push(item);
    }

    pub fn line(&mut self, from: (f32, f32), to: (f32, f32), width: f32, rgb: Rgb) {
        self.item(Item::Line(Line { from, to, width, rgb, dash: None }));
    }

    pub fn dashes(&mut self, area: Area, width: f32) {
        let (from, to) = ((area.x, area.middle()), (area.right(), area.middle()));
        let dash = Some((4.0 * width, 3.0 * width));
        self.item(Item::Line(Line { from, to, width, rgb: DASHES, dash }));
    }

    /// The four sides of an area, inside it.
    pub fn frame(&mut self, area: Area, width: f32, rgb: Rgb) {
        let Area { x, y, .. } = area;
        self.rect(Area::new(x, y, area.width, width), rgb);
        self.rect(Area::new(x, area.bottom() - width, area.width, width), rgb);
        self.rect(Area::new(x, y, width, area.height), rgb);
        self.rect(Area::new(area.right() - width, y, width, area.height), rgb);
    }

    pub fn swatch(&mut self, area: Area, rgb: Rgb) {
        self.rect(area, rgb);
        let width = (area.height / 16.0).clamp(0.75, 1.0);
        self.frame(area, width, OUTLINE);
    }

    /// A line of text, made smaller or cut off where it would be wider than `width_max`.
    pub fn text(&mut self, at: (f32, f32), align: Align, style: Style, text: &str, width_max: f32) {
        let (text, style) = fit(text, style, width_max);
        if text.is_empty() {
            return;
        }
        let reach = width(&text, style);
        let x = match align {
            Align::Left => at.0,
            Align::Middle => at.0 - reach / 2.0,
            Align::Right => at.0 - reach,
        };
        self.item(Item::Text(Text { x, baseline: at.1, style, text }));
    }

    /// A line of text in the middle of the height of an area.
    pub fn text_in(&mut self, area: Area, align: Align, style: Style, text: &str) {
        let x = match align {
            Align::Left => area.x,
            Align::Middle => area.x + area.width / 2.0,
            Align::Right => area.right(),
        };
        let baseline = area.middle() + style.size * CAPITALS / 2.0;
        self.text((x, baseline), align, style, text, area.width);
    }

    /// What `draw` puts down means `role`.
    pub fn role(&mut self, role: Role, draw: impl FnOnce(&mut Pen)) {
        self.item(Item::Open(role));
        draw(self);
        self.item(Item::Close);
    }
}
