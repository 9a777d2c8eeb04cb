//! What is on the page, item by item, for a few fixed books.

use duskrow::blanket::forecast::Common;
use duskrow::blanket::{BlockNumber, Book, Change, OnPaper, TierId, YarnSettings};
use duskrow::pictures::facts::State;
use duskrow::pictures::list::Item;
use duskrow::pictures::{
    Caption, DisplayList, FirstRow, Look, Paper, Picture, caption, draw, facts, sheet,
};
use duskrow::wording::en::{LABELS, picture_caption};

use super::books::{day, empty, leap_year, named, part, part_today};
use super::listed::listed;

#[test]
fn an_empty_blanket_is_blocks_to_come_and_a_key() {
    let year = facts::blanket(&empty(), day("2026-12-31"));
    insta::assert_snapshot!(listed(&draw(&Picture::Blanket(&year, Look::Flat), &LABELS)));
}

#[test]
fn a_blanket_in_work_shows_each_row_as_it_stands() {
    let year = facts::blanket(&part(), part_today());
    insta::assert_snapshot!(listed(&draw(&Picture::Blanket(&year, Look::Cloth), &LABELS)));
}

#[test]
fn a_block_of_hard_names_keeps_them_or_their_letters() {
    let names = ["Морская волна над скалами", "Zażółć gęślą jaźń", "Θάλασσα μπλε", "海の青"];
    let names: Vec<String> =
        names.iter().map(|name| name.chars().take(24).collect::<String>()).collect();
    let more = ["Mussel", "Kelp", "Brick"].map(str::to_owned);
    let all: Vec<&str> = names.iter().chain(&more).map(String::as_str).collect();
    let book = named(&all);
    let block = book.plan().block(BlockNumber(1)).unwrap();
    let block = facts::block(&book, &block, day("2027-02-10"));
    insta::assert_snapshot!(listed(&draw(&Picture::Block(&block, Look::Flat), &LABELS)));
}

#[test]
fn a_sheet_of_the_month_in_work_has_its_rows_in_working_order() {
    let book = part();
    let block = book.plan().block(BlockNumber(3)).unwrap();
    let block = facts::block(&book, &block, part_today());
    let pages = sheet(&block, Paper::A5, FirstRow::Bottom, &LABELS);
    assert_eq!(pages.len(), 1);
    insta::assert_snapshot!(listed(&pages[0]));
}

#[test]
fn what_a_picture_shows_is_said_in_a_sentence_or_two() {
    let said = |picture: &Picture<'_>| picture_caption(&caption(picture));
    let (book, today) = (part(), part_today());
    let year = facts::blanket(&book, today);
    assert_eq!(
        said(&Picture::Blanket(&year, Look::Flat)),
        "The blanket so far, in 12 blocks: 37 rows worked · 42 logged, not worked · 3 open."
    );
    let block = facts::block(&book, &book.plan().block(BlockNumber(3)).unwrap(), today);
    assert_eq!(
        said(&Picture::Block(&block, Look::Flat)),
        "March, block 3 of 12: 5 of 32 rows worked. 3 days are open."
    );
    let week = facts::week(&book, day("2027-03-08"), today);
    let words = said(&Picture::Week(&year.inks, &week));
    assert!(words.contains("Sun 7 open") && words.starts_with("Tue 2 "), "{words}");
    assert_eq!(
        said(&Picture::Imagined(&facts::imagined(&book, today), Look::Flat)),
        "An imagined year: its days are invented. You made no guess of how common each tier is: \
         the middle ones come most."
    );
    let months = facts::months(&book, today);
    let Caption::Months { tiers, without } = caption(&Picture::Months(&year.inks, &months)) else {
        panic!("another caption");
    };
    let days: u32 = tiers.iter().map(|(_, days)| days).sum();
    assert_eq!((tiers.len(), days, without), (7, 78, 3));
    let words = said(&Picture::Months(&year.inks, &months));
    assert!(words.contains(&format!("Smooth {}, ", tiers[5].1)), "{words}");
    assert!(words.ends_with("; open 3."), "{words}");
}

#[test]
fn a_leap_year_has_its_29th_of_february_and_33_rows_a_block() {
    let book = leap_year();
    let year = facts::blanket(&book, day("2028-12-31"));
    assert!(year.blocks.iter().all(|piece| piece.rows.len() == 33));
    assert_eq!(year.tally, facts::Tally { worked: 396, waiting: 0, open: 0 });
    let february =
        facts::block(&book, &book.plan().block(BlockNumber(2)).unwrap(), day("2028-12-31"));
    assert_eq!(february.rows[28].day, Some(day("2028-02-29")));
    assert_eq!(february.rows.iter().filter(|row| row.day.is_none()).count(), 4);
}

#[test]
fn an_imagined_year_is_the_same_every_time_and_says_that_it_is_imagined() {
    let imagined = facts::imagined(&empty(), day("2026-12-31"));
    let year = &imagined.year;
    let one = draw(&Picture::Imagined(&imagined, Look::Flat), &LABELS);
    // Whatever was answered and worked meanwhile.
    let later = facts::imagined(&part(), part_today());
    assert_eq!(one, draw(&Picture::Imagined(&later, Look::Flat), &LABELS));
    let words = listed(&one);
    assert!(words.contains("An imagined year") && words.contains("Invented days."));
    // Every tier is in it.
    for ink in &year.inks.all {
        let hex = ink.rgb.map(|byte| format!("{byte:02X}")).concat();
        assert!(words.matches(&hex).count() > 2, "{}", ink.name);
    }
}

#[test]
fn in_an_imagined_year_each_tier_is_as_common_as_was_guessed() {
    let mut book = empty();
    let tiers: Vec<TierId> = book.scale().tiers().iter().map(|tier| tier.id).collect();
    let days = |book: &Book| -> Vec<usize> {
        let imagined = facts::imagined(book, day("2027-01-01"));
        let rows: Vec<State> =
            imagined.year.blocks.iter().flat_map(|piece| piece.rows.clone()).collect();
        let of =
            |key: &facts::Key| rows.iter().filter(|row| **row == State::Worked(key.ink)).count();
        imagined.year.inks.keys.iter().filter(|key| key.tier.is_some()).map(of).collect()
    };
    let usual = days(&book);
    assert_eq!(usual.iter().sum::<usize>(), 365);
    // Without a guess the middle of the scale comes most, and the ends come.
    assert!(usual[3] > usual[0] && usual[3] > usual[6] && usual[0] > 10 && usual[6] > 10);
    let guess = [(tiers[0], Common::MostDays), (tiers[3], Common::HardlyEver)];
    let guess = YarnSettings { guess: guess.into(), ..YarnSettings::default() };
    book.apply(&Change::YarnSet(Box::new(guess)));
    let guessed = days(&book);
    assert_eq!(guessed.iter().sum::<usize>(), 365);
    // 20 and 1 of 41 parts, and 4 for each of which nothing was said.
    assert_eq!(guessed, [178, 36, 36, 9, 36, 35, 35]);
    let said = picture_caption(&caption(&Picture::Imagined(
        &facts::imagined(&book, day("2027-01-01")),
        Look::Flat,
    )));
    assert!(said.ends_with("Each tier is as common as you guessed."), "{said}");
}

#[test]
fn row_1_of_a_block_is_drawn_where_the_maker_wants_it() {
    let mut book = part();
    let drawn = |book: &Book| {
        let block = facts::block(book, &book.plan().block(BlockNumber(3)).unwrap(), part_today());
        draw(&Picture::Block(&block, Look::Flat), &LABELS)
    };
    let number = |list: &DisplayList, number: &str| {
        let is = |item: &Item| match item {
            Item::Text(text) if text.text == number => Some(text.baseline),
            _ => None,
        };
        list.items.iter().find_map(is).unwrap()
    };
    let below = drawn(&book);
    assert!(number(&below, "1") > number(&below, "2"));
    assert!(listed(&below).contains("Row 1 is at the bottom."));
    let on_paper = OnPaper { first_row: FirstRow::Top, ..OnPaper::default() };
    book.apply(&Change::PaperSet(on_paper));
    let above = drawn(&book);
    assert!(number(&above, "1") < number(&above, "2"));
    assert_eq!(number(&above, "1"), number(&below, "32"));
    assert!(listed(&above).contains("Row 1 is at the top."));
}
