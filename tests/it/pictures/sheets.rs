//! The printed sheet: tagged, the same bytes twice, in working order, with boxes that say what
//! they are.

use duskrow::blanket::{BlockNumber, Cut};
use duskrow::pictures::list::{Item, Role};
use duskrow::pictures::{DisplayList, FirstRow, Paper, facts, pdf, sheet};
use duskrow::wording::en::LABELS;

use super::books::{day, named, part, part_today, worked};
use crate::world::hostile::labels;

fn march(paper: Paper, first_row: FirstRow) -> Vec<DisplayList> {
    let book = part();
    let block = book.plan().block(BlockNumber(3)).unwrap();
    sheet(&facts::block(&book, &block, part_today()), paper, first_row, &LABELS)
}

#[test]
fn a_sheet_is_a_tagged_pdf_and_the_same_bytes_twice() {
    for paper in Paper::ALL {
        let bytes = pdf(&march(paper, FirstRow::Bottom)).unwrap();
        assert_eq!(bytes, pdf(&march(paper, FirstRow::Bottom)).unwrap());
        assert!(bytes.starts_with(b"%PDF-1."));
        let has = |part: &str| bytes.windows(part.len()).any(|bytes| bytes == part.as_bytes());
        for part in ["/StructTreeRoot", "/MarkInfo", "pdfuaid:part"] {
            assert!(has(part), "{paper:?} {part}");
        }
        assert!(!has("CreationDate"));
    }
}

#[test]
fn ticked_rows_are_those_worked_and_each_box_says_so() {
    let pages = march(Paper::A4, FirstRow::Bottom);
    let alts: Vec<&str> = figures(&pages[0]).filter(|alt| alt.starts_with("Row ")).collect();
    assert_eq!(alts.len(), 32);
    for (place, alt) in alts.iter().enumerate() {
        let number = 32 - place;
        let worked = if number <= 5 { "worked" } else { "not worked" };
        assert_eq!(*alt, format!("Row {number}: {worked}"));
    }
    let empty = figures(&pages[0]).filter(|alt| *alt == "Empty box for a colour").count();
    // The 7th is open, the 21st and 22nd as well, and nine days are to come.
    assert_eq!(empty, 12);
}

#[test]
fn row_1_is_at_the_end_that_was_asked_for() {
    let first = |first_row| {
        let pages = march(Paper::Letter, first_row);
        let alt = figures(&pages[0]).find(|alt| alt.starts_with("Row ")).map(str::to_owned);
        alt.unwrap()
    };
    assert_eq!(first(FirstRow::Top), "Row 1: worked");
    assert_eq!(first(FirstRow::Bottom), "Row 32: not worked");
}

#[test]
fn neighbours_are_named_where_they_differ() {
    let pages = march(Paper::A4, FirstRow::Top);
    let texts = pages[0].items.iter().filter_map(|item| match item {
        Item::Text(text) => Some(text.text.as_str()),
        _ => None,
    });
    let beside: Vec<&str> = texts.filter(|text| text.ends_with(" above")).collect();
    assert!(beside.iter().any(|text| text.contains(" below, ")), "{beside:?}");
}

#[test]
fn a_strip_of_a_leap_year_is_as_many_pages_as_it_needs_in_working_order() {
    let book = worked("2028-01-01", Cut::Strip, 1, None);
    let strip = book.plan().block(BlockNumber(1)).unwrap();
    let strip = facts::block(&book, &strip, day("2028-12-31"));
    for paper in Paper::ALL {
        let pages = sheet(&strip, paper, FirstRow::Bottom, &LABELS);
        let boxes: Vec<usize> = (pages.iter())
            .map(|page| figures(page).filter(|alt| alt.starts_with("Row ")).count())
            .collect();
        assert_eq!(boxes.iter().sum::<usize>(), 366, "{paper:?}");
        assert!(figures(&pages[0]).any(|alt| alt == "Row 1: worked"), "{paper:?}");
        assert!(pdf(&pages).is_ok());
    }
}

/// Where a folder is named, the documents are written there for another program to read.
#[test]
fn every_document_is_there_to_be_read() {
    let wide = named(&["WWWWWWWWWWWWWWWWWWWWWWWW", "MMMMMMMMMMMMMMMMMMMMMMMM"]);
    let greek = named(&["Μέρα", "День", "<b>&amp;</b>"]);
    let labels: Vec<String> = labels().into_iter().map(|(_, label)| label.to_string()).collect();
    let hostile = labels.chunks(7).filter_map(|names| <&[String; 7]>::try_from(names).ok());
    let hostile: Vec<_> =
        hostile.map(|names| named(&names.each_ref().map(String::as_str))).collect();
    let part = part();
    let mut documents: Vec<(String, Vec<u8>)> = Vec::new();
    for (name, book, number, today) in [
        ("part", &part, 3, part_today()),
        ("wide", &wide, 2, day("2027-02-10")),
        ("greek", &greek, 1, day("2027-02-10")),
    ] {
        let block = book.plan().block(BlockNumber(number)).unwrap();
        let facts = facts::block(book, &block, today);
        for paper in Paper::ALL {
            for (first, order) in [(FirstRow::Bottom, "bottom"), (FirstRow::Top, "top")] {
                let bytes = pdf(&sheet(&facts, paper, first, &LABELS)).unwrap();
                let paper = format!("{paper:?}").to_lowercase();
                documents.push((format!("{name}-{paper}-{order}.pdf"), bytes));
            }
        }
    }
    for (number, book) in (1..).zip(&hostile) {
        let block = book.plan().block(BlockNumber(1)).unwrap();
        let facts = facts::block(book, &block, day("2027-02-10"));
        let bytes = pdf(&sheet(&facts, Paper::A4, FirstRow::Top, &LABELS)).unwrap();
        documents.push((format!("hostile{number}-a4-top.pdf"), bytes));
    }
    let strip = worked("2028-01-01", Cut::Strip, 1, None);
    let block = strip.plan().block(BlockNumber(1)).unwrap();
    let facts = facts::block(&strip, &block, day("2028-12-31"));
    let pages = sheet(&facts, Paper::A5, FirstRow::Top, &LABELS);
    documents.push(("strip-a5-top.pdf".to_owned(), pdf(&pages).unwrap()));
    assert_eq!(documents.len(), 19 + hostile.len());
    assert!(hostile.len() > 3);
    let Some(folder) = std::env::var_os("DUSKROW_DOCUMENTS") else { return };
    let folder = std::path::Path::new(&folder);
    std::fs::create_dir_all(folder).unwrap();
    for (name, bytes) in &documents {
        std::fs::write(folder.join(name), bytes).unwrap();
    }
}

#[test]
fn no_page_is_no_document() {
    assert!(pdf(&[]).unwrap_err().to_string().contains("no page"));
}

fn figures(list: &DisplayList) -> impl Iterator<Item = &str> {
    list.items.iter().filter_map(|item| match item {
        Item::Open(Role::Figure(alt)) => Some(alt.as_str()),
        _ => None,
    })
}
