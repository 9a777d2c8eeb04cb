//! SVG: the list as markup that any browser draws, with its meaning for those who hear it.
//!
//! Whatever a maker typed is escaped; nothing in it can become markup or a script.

use std::fmt::Write as _;

use super::super::list::{Area, DisplayList, Item, Line, Rgb, Role, Stitches, Text, Weight};
use super::super::text::width;
use super::stitches::{HEIGHT, WIDTH, tones};

/// A list as an SVG document.
pub fn svg(list: &DisplayList) -> String {
    let mut svg = Svg { out: String::new(), clips: Vec::new(), row: None };
    let title = escaped(&list.title);
    let (width, height) = (number(list.width), number(list.height));
    svg.put(format_args!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}\" height=\"{height}\" \
         viewBox=\"0 0 {width} {height}\" lang=\"{}\" role=\"group\" aria-label=\"{title}\" \
         font-family=\"'Noto Sans',sans-serif\">\n<title>{title}</title>\n",
        list.language
    ));
    for item in &list.items {
        match item {
            Item::Rect(area, rgb) => svg.rect(*area, *rgb),
            Item::Line(line) => svg.line(line),
            Item::Text(text) => svg.text(text),
            Item::Stitches(row) => svg.stitches(row),
            Item::Open(role) => svg.open(role),
            Item::Close => svg.out.push_str("</g>\n"),
        }
    }
    svg.out.push_str("</svg>\n");
    svg.out
}

struct Svg {
    out: String,
    clips: Vec<Area>,
    /// The width and the row height that the legs of row `r` were last written for.
    row: Option<(f32, f32)>,
}

impl Svg {
    fn put(&mut self, text: std::fmt::Arguments<'_>) {
        // Writing to a string does not fail.
        let _ = self.out.write_fmt(text);
    }

    fn rect(&mut self, area: Area, rgb: Rgb) {
        let Area { x, y, width, height } = area;
        let [x, y, width, height] = [x, y, width, height].map(number);
        self.put(format_args!(
            "<rect x=\"{x}\" y=\"{y}\" width=\"{width}\" height=\"{height}\" fill=\"{}\"/>\n",
            hex(rgb)
        ));
    }

    fn line(&mut self, line: &Line) {
        let [x1, y1, x2, y2] = [line.from.0, line.from.1, line.to.0, line.to.1].map(number);
        let dash = line
            .dash
            .map(|(dash, gap)| format!(" stroke-dasharray=\"{} {}\"", number(dash), number(gap)));
        self.put(format_args!(
            "<line x1=\"{x1}\" y1=\"{y1}\" x2=\"{x2}\" y2=\"{y2}\" stroke=\"{}\" \
             stroke-width=\"{}\"{}/>\n",
            hex(line.rgb),
            number(line.width),
            dash.unwrap_or_default()
        ));
    }

    fn text(&mut self, text: &Text) {
        let weight = match text.style.weight {
            Weight::Regular => "",
            Weight::Bold => " font-weight=\"700\"",
        };
        let [x, y, size] = [text.x, text.baseline, text.style.size].map(number);
        // Where the reader has another font, the text keeps the room it was given.
        let length = number(width(&text.text, text.style));
        self.put(format_args!(
            "<text x=\"{x}\" y=\"{y}\" font-size=\"{size}\"{weight} fill=\"{}\" \
             textLength=\"{length}\" lengthAdjust=\"spacingAndGlyphs\">{}</text>\n",
            hex(text.style.rgb),
            escaped(&text.text)
        ));
    }

    /// The ground, and on it the legs of a row, which are written once for each size.
    fn stitches(&mut self, row: &Stitches) {
        let tones = tones(row.rgb);
        self.rect(row.area, tones[3]);
        let size = (row.area.width, row.area.height);
        if self.row != Some(size) {
            self.row = Some(size);
            let legs = legs(size.0, size.1);
            let id = size_id(size);
            self.put(format_args!("<defs><path id=\"{id}\" d=\"{legs}\"/></defs>\n"));
        }
        let clip = self.clip(row.clip);
        let over = if row.half_over { row.area.height * WIDTH / 2.0 } else { 0.0 };
        let [x, y] = [row.area.x + over, row.area.y].map(number);
        self.put(format_args!(
            "<g clip-path=\"url(#c{clip})\"><use href=\"#{}\" x=\"{x}\" y=\"{y}\" fill=\"{}\" \
             stroke=\"{}\" stroke-width=\"{}\"/></g>\n",
            size_id(size),
            hex(row.rgb),
            hex(tones[2]),
            number(row.area.height * 0.04)
        ));
    }

    fn clip(&mut self, clip: Area) -> usize {
        if let Some(known) = self.clips.iter().position(|known| *known == clip) {
            return known;
        }
        let id = self.clips.len();
        self.clips.push(clip);
        self.put(format_args!("<defs><clipPath id=\"c{id}\">"));
        self.rect(clip, [0; 3]);
        self.out.push_str("</clipPath></defs>\n");
        id
    }

    fn open(&mut self, role: &Role) {
        match role {
            Role::Figure(alt) => {
                let alt = escaped(alt);
                self.put(format_args!("<g role=\"img\" aria-label=\"{alt}\">\n"));
            }
            Role::Title => self.out.push_str("<g role=\"heading\" aria-level=\"1\">\n"),
            Role::Table => self.out.push_str("<g role=\"table\">\n"),
            Role::HeadRow | Role::Row => self.out.push_str("<g role=\"row\">\n"),
            Role::HeadCell => self.out.push_str("<g role=\"columnheader\">\n"),
            Role::Cell => self.out.push_str("<g role=\"cell\">\n"),
            Role::Paragraph => self.out.push_str("<g role=\"paragraph\">\n"),
        }
    }
}

fn size_id((width, height): (f32, f32)) -> String {
    format!("r{}x{}", number(width), number(height)).replace('.', "_")
}

/// The legs of one row from 0 to `width`, and of a stitch more on its left.
fn legs(width: f32, row_height: f32) -> String {
    let (stitch, tall) = (row_height * WIDTH, row_height * HEIGHT);
    let mut path = String::new();
    let count = (width / stitch).ceil() as u32 + 1;
    for index in 0..count {
        let middle = (index as f32 - 0.5) * stitch;
        for side in [-1.0, 1.0] {
            let at = |across: f32| number(middle + side * across * stitch);
            let [top, bend, low] = [0.0, tall * 0.12, tall * 0.93].map(number);
            let _ = write!(
                path,
                "M{} {top}C{} {top} {} {bend} {} {low}C{} {low} {} {bend} {} {top}Z",
                at(0.26),
                at(0.64),
                at(0.52),
                at(0.16),
                at(0.0),
                at(-0.06),
                at(0.26)
            );
        }
    }
    path
}

fn hex([red, green, blue]: Rgb) -> String {
    format!("#{red:02x}{green:02x}{blue:02x}")
}

/// At most two digits after the point, and none that say nothing.
fn number(value: f32) -> String {
    let text = format!("{value:.2}");
    let short = text.trim_end_matches('0').trim_end_matches('.');
    if short == "-0" { "0".to_owned() } else { short.to_owned() }
}

fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            // XML 1.0 allows no other control characters and none of these two.
            '\u{FFFE}' | '\u{FFFF}' => {}
            letter if letter.is_control() => {}
            letter => out.push(letter),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn markup_is_escaped_and_numbers_are_short() {
        assert_eq!(escaped("<script>&\"'\u{0}"), "&lt;script&gt;&amp;&quot;&#39;");
        for (value, expected) in [(1.0, "1"), (0.5, "0.5"), (-0.001, "0"), (10.0, "10")] {
            assert_eq!(number(value), expected);
        }
    }
}
