//! Names that makers type, by mistake or not, through every picture and every form of it.

use duskrow::pictures::list::{DisplayList, Item, Role};
use duskrow::pictures::{pdf, png, svg};

use super::books::named;
use super::geometry::all;
use super::xml;
use crate::world::hostile::{is_hidden, labels};

/// Labels of the corpus, as many at a time as a scale of the demo has tiers.
fn books() -> Vec<Vec<String>> {
    let labels: Vec<String> = labels().into_iter().map(|(_, label)| label.to_string()).collect();
    labels.chunks(7).map(<[String]>::to_vec).collect()
}

fn lists(names: &[String]) -> Vec<DisplayList> {
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    // Seven tiers have seven names.
    let seven: Vec<&str> =
        names.iter().chain(&["1", "2", "3", "4", "5", "6"]).take(7).copied().collect();
    all(&named(&seven), "2027-02-10")
}

/// The texts of a list, and what its figures show in words.
fn texts(list: &DisplayList) -> (Vec<&str>, Vec<&str>) {
    let shown = list.items.iter().filter_map(|item| match item {
        Item::Text(text) => Some(text.text.as_str()),
        Item::Rect(..) | Item::Line(_) | Item::Stitches(_) | Item::Open(_) | Item::Close => None,
    });
    let told = list.items.iter().filter_map(|item| match item {
        Item::Open(Role::Figure(alt)) => Some(alt.as_str()),
        Item::Open(_)
        | Item::Rect(..)
        | Item::Line(_)
        | Item::Text(_)
        | Item::Stitches(_)
        | Item::Close => None,
    });
    (shown.collect(), told.collect())
}

#[test]
fn what_fonts_cannot_show_becomes_its_letter_and_the_rest_stays_as_typed() {
    let (mut whole, mut letters) = (0, 0);
    for names in books() {
        let lists = lists(&names);
        for list in &lists {
            let (shown, told) = texts(list);
            for text in shown.into_iter().chain(told) {
                let odd = |c: char| {
                    is_hidden(c)
                        || matches!(c, '\u{590}'..='\u{8FF}' | '\u{200B}'..='\u{200F}'
                            | '\u{2E80}'..)
                };
                assert!(!text.chars().any(odd), "{text:?} in {}", list.title);
            }
        }
        // The key names each tier, by its label where the fonts have it, else by its letter.
        let (shown, _) = texts(&lists[0]);
        for (name, letter) in names.iter().zip('A'..) {
            match shown.contains(&name.as_str()) {
                true => whole += 1,
                false => {
                    let short = |text: &&&str| name.starts_with(text.trim_end_matches('…'));
                    let cut = shown.iter().filter(short).any(|text| text.ends_with('…'));
                    assert!(cut || shown.contains(&letter.to_string().as_str()), "{name:?}");
                    letters += 1;
                }
            }
        }
    }
    assert!(whole > 5 && letters > 5, "{whole} {letters}");
}

/// XML 1.0: well formed, and what a reader of it gets is what the list says.
#[test]
fn an_svg_is_well_formed_and_holds_every_text_as_it_is() {
    for names in books() {
        for list in lists(&names) {
            let read = xml::read(&svg(&list)).unwrap_or_else(|why| panic!("{}: {why}", list.title));
            let (shown, told) = texts(&list);
            let of = |name: &str| -> Vec<&str> {
                let named = read.iter().filter(|element| element.name == name);
                named.map(|element| element.text.as_str()).collect()
            };
            assert_eq!(of("text"), shown);
            assert_eq!(of("title"), [list.title.as_str()]);
            let figures = read.iter().filter(|element| element.has("role", "img"));
            let alts: Vec<&str> = figures.filter_map(|figure| figure.get("aria-label")).collect();
            assert_eq!(alts, told);
            let known =
                ["svg", "title", "g", "rect", "line", "text", "defs", "path", "use", "clipPath"];
            for element in &read {
                assert!(known.contains(&element.name.as_str()), "{}", element.name);
                let active = |name: &str| name.starts_with("on") || name == "style";
                assert!(!element.attributes.iter().any(|(name, _)| active(name)));
                let link = element.get("href").unwrap_or("#");
                assert!(link.starts_with('#'), "{link}");
            }
        }
    }
}

#[test]
fn every_picture_of_hostile_names_is_drawn_in_every_form() {
    for names in books() {
        for list in lists(&names) {
            assert!(png(&list, 1).is_ok(), "{names:?}: {}", list.title);
            let title = list.title.clone();
            assert!(pdf(&[list]).is_ok(), "{names:?}: {title}");
        }
    }
}
