//! What the platform takes as a photo, at every layout.

use duskrow::blanket::{BlockNumber, Cut};
use duskrow::pictures::limits::{PHOTO_BYTES_MAX, fits_photo, scale_for};
use duskrow::pictures::{Look, Picture, draw, facts, png};
use duskrow::wording::en::LABELS;

use super::books::{day, worked};

#[test]
fn every_layout_is_a_photo_the_platform_takes() {
    let layouts = [
        ("2027-01-01", Cut::Months, 33, Some(1)),
        ("2027-01-01", Cut::Months, 33, Some(12)),
        ("2027-01-15", Cut::Months, 33, None),
        ("2027-01-01", Cut::Months, 120, Some(1)),
        ("2028-01-01", Cut::Strip, 1, None),
        ("2027-01-01", Cut::Every(1), 1, Some(1)),
        ("2027-01-01", Cut::Every(1), 120, Some(1)),
        ("2027-01-01", Cut::Every(7), 8, Some(40)),
    ];
    for (first, cut, rows, columns) in layouts {
        let book = worked(first, cut, rows, columns);
        let today = day("2029-01-01");
        let year = facts::blanket(&book, today);
        let list = draw(&Picture::Blanket(&year, Look::Flat), &LABELS);
        assert!(fits_photo(list.width, list.height), "{cut:?} {} {}", list.width, list.height);
        let block = facts::block(&book, &book.plan().block(BlockNumber(1)).unwrap(), today);
        let list = draw(&Picture::Block(&block, Look::Flat), &LABELS);
        assert!(fits_photo(list.width, list.height), "{cut:?} {} {}", list.width, list.height);
    }
}

#[test]
fn a_strip_of_366_rows_and_a_big_year_of_cloth_are_small_enough_to_send() {
    for (cut, rows) in [(Cut::Strip, 1), (Cut::Months, 33)] {
        let book = worked("2028-01-01", cut, rows, None);
        let year = facts::blanket(&book, day("2028-12-31"));
        let list = draw(&Picture::Blanket(&year, Look::Cloth), &LABELS);
        let scale = scale_for(list.width, list.height, 2);
        let bytes = png(&list, scale).unwrap();
        assert!(bytes.len() < PHOTO_BYTES_MAX, "{cut:?} {}", bytes.len());
    }
}

#[test]
fn a_picture_that_would_not_fit_into_memory_is_refused() {
    let book = worked("2028-01-01", Cut::Months, 33, None);
    let year = facts::blanket(&book, day("2028-12-31"));
    let list = draw(&Picture::Blanket(&year, Look::Flat), &LABELS);
    let fault = png(&list, 100).unwrap_err().to_string();
    assert!(fault.contains("more than a picture may have"), "{fault}");
}
