//! Names that makers type, by mistake or not, through every picture.

use duskrow::pictures::list::Item;
use duskrow::pictures::{pdf, png, svg};

use super::books::named;
use super::geometry::all;

/// Labels as the bot keeps them: 24 characters at most, nothing that turns the text around it.
const NAMES: [&str; 7] = [
    "<script>alert(1)</script",
    "\"><img src=x onerror=a>",
    "&amp;'--><!--",
    "海の青い毛布",
    "🧶🧶🧶",
    "שלום עולם",
    "a\u{200C}b\u{200D}c",
];

#[test]
fn what_fonts_cannot_show_becomes_its_letter_and_markup_stays_text() {
    let book = named(&NAMES);
    for list in all(&book, "2027-02-10") {
        for item in &list.items {
            let Item::Text(text) = item else { continue };
            let odd = |c: char| matches!(c, '\u{590}'..='\u{8FF}' | '\u{200B}'..='\u{200F}' | '\u{3000}'..);
            assert!(!text.text.chars().any(odd), "{:?}", text.text);
        }
        let markup = svg(&list);
        for tag in ["<script", "<img", "<!--"] {
            assert!(!markup.contains(tag), "{tag} in {}", list.title);
        }
        let opened = markup.matches("<g ").count();
        assert_eq!(opened, markup.matches("</g>").count(), "{}", list.title);
        assert!(png(&list, 1).is_ok(), "{}", list.title);
        assert!(pdf(&[list]).is_ok());
    }
}
