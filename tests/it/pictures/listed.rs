//! A display list as text, an item a line, for snapshots.

use duskrow::pictures::DisplayList;
use duskrow::pictures::list::{Item, Role, Weight};

pub fn listed(list: &DisplayList) -> String {
    let mut out = format!("{} ({}) {} x {}\n", list.title, list.language, list.width, list.height);
    let mut deep = 0;
    for item in &list.items {
        deep -= usize::from(matches!(item, Item::Close));
        if let Some(line) = line(item) {
            out.push_str(&format!("{:1$}{line}\n", "", 2 * deep));
        }
        deep += usize::from(matches!(item, Item::Open(_)));
    }
    out
}

fn line(item: &Item) -> Option<String> {
    let hex = |rgb: [u8; 3]| rgb.map(|byte| format!("{byte:02X}")).concat();
    Some(match item {
        Item::Rect(at, rgb) => {
            format!("rect {:.1} {:.1} {:.1} {:.1} {}", at.x, at.y, at.width, at.height, hex(*rgb))
        }
        Item::Line(line) => {
            let ((x1, y1), (x2, y2)) = (line.from, line.to);
            let dashed = if line.dash.is_some() { " dashed" } else { "" };
            format!("line {x1:.1} {y1:.1} to {x2:.1} {y2:.1} {}{dashed}", hex(line.rgb))
        }
        Item::Text(text) => {
            let bold = if text.style.weight == Weight::Bold { " bold" } else { "" };
            let (x, y, size) = (text.x, text.baseline, text.style.size);
            format!("text {x:.1} {y:.1} {size}{bold} {:?}", text.text)
        }
        Item::Stitches(row) => {
            let at = row.area;
            format!("stitches {:.1} {:.1} {:.1} {}", at.x, at.y, at.height, hex(row.rgb))
        }
        Item::Open(Role::Figure(alt)) => format!("figure {alt:?}"),
        Item::Open(role) => format!("{role:?}").to_lowercase(),
        Item::Close => return None,
    })
}
