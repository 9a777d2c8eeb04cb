//! Where things are: every row has its place, texts stay inside and off one another.

use duskrow::blanket::{BlockNumber, Book, Cut, colours};
use duskrow::pictures::facts::{self, State};
use duskrow::pictures::list::{Area, Item, Role};
use duskrow::pictures::{Bar, DisplayList, FirstRow, Look, Paper, Picture, draw, sheet};
use duskrow::wording::en::LABELS;

use super::books::{day, empty, leap_year, named, part, part_today, worked};

const WIDE: &str = "WWWWWWWWWWWWWWWWWWWWWWWW";
const SEVEN: [&str; 7] = [WIDE, "Щщщщщщщщщщщщщщщщщщщщщщщщ", "Rough", "b", "c", "d", "e"];

/// Every picture of a book.
pub fn all(book: &Book, today: &str) -> Vec<DisplayList> {
    let today = day(today);
    let year = facts::blanket(book, today);
    let week = facts::week(book, today, today);
    let months = facts::months(book, today);
    let bars: Vec<Bar> = (year.inks.all.iter().cloned())
        .map(|ink| Bar { ink, rows_worked: 9, rows_waiting: 4, rows_on_hand: Some(2) })
        .collect();
    let block = facts::block(book, &book.plan().block(BlockNumber(1)).unwrap(), today);
    let mut lists: Vec<DisplayList> = [
        Picture::Blanket(&year, Look::Flat),
        Picture::Blanket(&year, Look::Cloth),
        Picture::Block(&block, Look::Cloth),
        Picture::Palette(&year.inks, colours::seen),
        Picture::Yarn(&bars),
        Picture::Week(&year.inks, &week),
        Picture::Months(&year.inks, &months),
        Picture::Imagined(&facts::imagined(book, today), Look::Flat),
    ]
    .iter()
    .map(|picture| draw(picture, &LABELS))
    .collect();
    // Pages after the first are like it; a strip has many.
    let papers = if block.rows.len() > 60 { &Paper::ALL[..1] } else { &Paper::ALL };
    for &paper in papers {
        lists.extend(sheet(&block, paper, FirstRow::Top, &LABELS).into_iter().take(2));
    }
    lists
}

#[test]
fn everything_is_inside_the_page_and_no_text_stands_on_another() {
    let strip = worked("2027-01-01", Cut::Strip, 1, None);
    let weeks = worked("2027-01-31", Cut::Every(7), 8, None);
    let books = [
        (empty(), "2027-01-01"),
        (part(), "2027-03-22"),
        (leap_year(), "2028-12-31"),
        (named(&SEVEN), "2027-02-10"),
        (strip, "2027-12-31"),
        (weeks, "2028-01-30"),
    ];
    for (book, today) in &books {
        for list in all(book, today) {
            let page = Area::new(0.0, 0.0, list.width, list.height);
            let mut texts: Vec<(Area, &str)> = Vec::new();
            for item in &list.items {
                if let Some(area) = area(item) {
                    assert!(page.has(area), "{}: {item:?} leaves {page:?}", list.title);
                }
                if let Item::Text(text) = item {
                    texts.push((area(item).unwrap(), &text.text));
                }
            }
            for (index, (one, text)) in texts.iter().enumerate() {
                for (other, and) in &texts[index + 1..] {
                    assert!(!overlap(*one, *other), "{}: {text:?} on {and:?}", list.title);
                }
            }
            let opened = list.items.iter().filter(|item| matches!(item, Item::Open(_))).count();
            let closed = list.items.iter().filter(|item| matches!(item, Item::Close)).count();
            assert_eq!(opened, closed, "{}", list.title);
        }
    }
}

#[test]
fn every_block_of_a_picture_has_its_rows_edge_to_edge_from_the_bottom_up() {
    let book = leap_year();
    let year = facts::blanket(&book, day("2028-12-31"));
    let list = draw(&Picture::Blanket(&year, Look::Flat), &LABELS);
    let mut blocks = 0;
    for (at, item) in list.items.iter().enumerate() {
        let Item::Open(Role::Figure(name)) = item else { continue };
        let Some(piece) = year.blocks.get(blocks) else { break };
        let rects: Vec<(Area, [u8; 3])> = list.items[at + 1..]
            .iter()
            .map_while(|item| match item {
                Item::Rect(area, rgb) => Some((*area, *rgb)),
                _ => None,
            })
            .collect();
        let (ground, rows) = rects.split_first().unwrap();
        assert_eq!(rows.len(), 33, "{name}");
        let mut y = ground.0.bottom();
        for ((area, rgb), state) in rows.iter().zip(&piece.rows) {
            assert_eq!((area.bottom(), area.x, area.width), (y, ground.0.x, ground.0.width));
            assert_eq!(state.ink().map(|ink| year.inks.get(ink).rgb), Some(*rgb), "{name}");
            y = area.y;
        }
        assert_eq!(y, ground.0.y, "{name}");
        blocks += 1;
    }
    assert_eq!(blocks, 12);
}

#[test]
fn nothing_above_an_open_row_is_worked() {
    let book = part();
    for block in book.plan().blocks() {
        let rows = facts::block(&book, &block, part_today()).rows;
        let open = rows.iter().position(|row| matches!(row.state, State::Open | State::ToCome));
        for row in &rows[open.unwrap_or(rows.len())..] {
            assert!(!matches!(row.state, State::Worked(_)), "row {}", row.number);
            assert_eq!(row.handling, None, "row {}", row.number);
        }
    }
}

#[test]
fn seen_from_the_right_side_a_right_side_row_runs_to_the_left_and_mirrored_left_handed() {
    use duskrow::blanket::Side;
    use duskrow::pictures::facts::Runs;
    let table = [
        (Side::Right, false, Runs::ToLeft),
        (Side::Wrong, false, Runs::ToRight),
        (Side::Right, true, Runs::ToRight),
        (Side::Wrong, true, Runs::ToLeft),
    ];
    for (side, left_handed, runs) in table {
        assert_eq!(Runs::of(side, left_handed), runs);
    }
}

fn overlap(one: Area, other: Area) -> bool {
    let less = 0.6;
    one.x + less < other.right()
        && other.x + less < one.right()
        && one.y + less < other.bottom()
        && other.y + less < one.bottom()
}

/// Where an item puts colour. Of a text the height of its small letters, as lines may stand close.
fn area(item: &Item) -> Option<Area> {
    Some(match item {
        Item::Rect(area, _) => *area,
        Item::Stitches(row) => row.area,
        Item::Line(line) => {
            let (left, top) = (line.from.0.min(line.to.0), line.from.1.min(line.to.1));
            let (right, bottom) = (line.from.0.max(line.to.0), line.from.1.max(line.to.1));
            Area::new(left, top, right - left, bottom - top)
        }
        Item::Text(text) => {
            let size = text.style.size;
            let width = duskrow::pictures::text_width(&text.text, text.style);
            Area::new(text.x, text.baseline - size * 0.72, width, size * 0.72)
        }
        Item::Open(_) | Item::Close => return None,
    })
}
