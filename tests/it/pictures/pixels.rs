//! Pictures as pixels, read back with another decoder: small goldens, probes, greys.
//!
//! On a difference the actual picture and the differing pixels are written into `target/pictures`;
//! `DUSKROW_REWRITE=1` makes the goldens anew.

use std::fs;
use std::path::Path;

use duskrow::blanket::BlockNumber;
use duskrow::pictures::facts::{self, State};
use duskrow::pictures::list::{Area, Item, Rgb, Role};
use duskrow::pictures::{DisplayList, FirstRow, Look, Paper, Picture, draw, png, sheet};
use duskrow::wording::en::LABELS;
use zune_png::PngDecoder;
use zune_png::zune_core::bytestream::ZCursor;
use zune_png::zune_core::options::DecoderOptions;

use super::books::{day, leap_year, part, part_today};

struct Pixels {
    width: usize,
    height: usize,
    rgb: Vec<u8>,
}

impl Pixels {
    fn read(bytes: &[u8]) -> Pixels {
        let options = DecoderOptions::default().png_set_strip_to_8bit(true);
        let mut decoder = PngDecoder::new_with_options(ZCursor::new(bytes), options);
        let rgb = decoder.decode_raw().unwrap();
        let (width, height) = decoder.dimensions().unwrap();
        assert_eq!(rgb.len(), 3 * width * height, "not three bytes a pixel");
        Pixels { width, height, rgb }
    }

    fn at(&self, x: f32, y: f32) -> Rgb {
        let from = 3 * (y as usize * self.width + x as usize);
        [self.rgb[from], self.rgb[from + 1], self.rgb[from + 2]]
    }

    /// Lightness of each pixel of an area, by the luma of ITU-R BT.601.
    fn greys(&self, area: Area) -> Vec<u32> {
        let mut greys = Vec::new();
        for y in area.y as usize..area.bottom() as usize {
            for x in area.x as usize..area.right() as usize {
                let [red, green, blue] = self.at(x as f32, y as f32).map(u32::from);
                greys.push((299 * red + 587 * green + 114 * blue) / 1000);
            }
        }
        greys
    }
}

#[test]
fn the_middle_of_a_worked_row_is_its_colour_at_each_scale() {
    let book = leap_year();
    let year = facts::blanket(&book, day("2028-12-31"));
    let list = draw(&Picture::Blanket(&year, Look::Flat), &LABELS);
    for scale in [1_u32, 2] {
        let pixels = Pixels::read(&png(&list, scale).unwrap());
        assert_eq!(pixels.width, list.width as usize * scale as usize);
        for (piece, area) in year.blocks.iter().zip(blocks(&list)) {
            let row = area.height / piece.rows.len() as f32;
            for (index, state) in piece.rows.iter().enumerate() {
                let y = area.bottom() - (index as f32 + 0.5) * row;
                let (x, y) = (scale as f32 * (area.x + area.width / 2.0), scale as f32 * y);
                let ink = year.inks.get(state.ink().unwrap());
                assert_eq!(pixels.at(x, y), ink.rgb, "row {} at {x} {y}", index + 1);
            }
        }
    }
}

#[test]
fn states_differ_in_grey_whatever_the_colour() {
    let book = part();
    let facts = facts::block(&book, &book.plan().block(BlockNumber(3)).unwrap(), part_today());
    let pixels =
        Pixels::read(&png(&draw(&Picture::Block(&facts, Look::Flat), &LABELS), 1).unwrap());
    // Of one row: whether it changes down its middle, between the lines to its neighbours, and
    // whether it changes along it.
    let height = 30.0;
    let look = |index: usize| {
        let y = 92.0 + (31.0 - index as f32) * height;
        let down = pixels.greys(Area::new(600.0, y + 2.0, 1.0, height - 4.0));
        let along = pixels.greys(Area::new(440.0, y + height / 2.0, 200.0, 1.0));
        let changes = |greys: &[u32]| greys.windows(2).filter(|two| two[0] != two[1]).count();
        (changes(&down) > 0, changes(&along) > 8)
    };
    for (index, row) in facts.rows.iter().enumerate() {
        let expected = match row.state {
            // One grey all over; a thread across; dashes along; nothing.
            State::Worked(_) => (false, false),
            State::Waiting(_) => (true, false),
            State::Open => (look(index).0, true),
            State::ToCome => (false, false),
        };
        assert_eq!(look(index), expected, "row {} {:?}", row.number, row.state);
    }
    // Two worked rows of one colour are told apart by the line between them.
    let across = |index: usize| {
        pixels.greys(Area::new(600.0, 92.0 + (31.0 - index as f32) * height - 4.0, 1.0, 8.0))
    };
    assert_eq!(facts.rows[3].state, facts.rows[4].state);
    assert!(across(3).iter().any(|grey| *grey > across(3)[0] + 80), "{:?}", across(3));
    // Worked and to come are both even; the one is in its colour, the other pale.
    let grey = |index: usize| {
        let y = 92.0 + (31.0 - index as f32) * height + 15.0;
        pixels.greys(Area::new(600.0, y, 1.0, 1.0))[0]
    };
    assert!(matches!(facts.rows[30].state, State::ToCome));
    assert!(grey(0) < 230 && grey(30) > 245, "{} {}", grey(0), grey(30));
}

#[test]
fn a_picture_is_the_same_bytes_every_time() {
    let year = facts::blanket(&part(), part_today());
    for look in [Look::Flat, Look::Cloth] {
        let bytes = || png(&draw(&Picture::Blanket(&year, look), &LABELS), 1).unwrap();
        assert_eq!(bytes(), bytes());
    }
}

#[test]
fn pictures_look_as_they_did() {
    let book = part();
    let year = facts::blanket(&book, part_today());
    let march = facts::block(&book, &book.plan().block(BlockNumber(3)).unwrap(), part_today());
    let week = facts::week(&book, day("2027-03-08"), part_today());
    golden("blanket_flat", &draw(&Picture::Blanket(&year, Look::Flat), &LABELS));
    golden("block_cloth", &draw(&Picture::Block(&march, Look::Cloth), &LABELS));
    golden("week", &draw(&Picture::Week(&year.inks, &week), &LABELS));
    golden("sheet", &sheet(&march, Paper::A5, FirstRow::Bottom, &LABELS)[0]);
}

/// Compares with `goldens/NAME.png`; a step of the edge of a letter may differ from machine to
/// machine, a pixel in a thousand.
fn golden(name: &str, list: &DisplayList) {
    let bytes = png(list, 1).unwrap();
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let path = root.join(format!("tests/it/pictures/goldens/{name}.png"));
    if std::env::var_os("DUSKROW_REWRITE").is_some() {
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(&path, &bytes).unwrap();
    }
    let (actual, expected) = (Pixels::read(&bytes), Pixels::read(&fs::read(&path).unwrap()));
    assert_eq!((actual.width, actual.height), (expected.width, expected.height), "{name}");
    let pixels = actual.rgb.chunks_exact(3).zip(expected.rgb.chunks_exact(3));
    let apart: Vec<usize> =
        pixels.enumerate().filter(|(_, (a, b))| a != b).map(|(index, _)| index).collect();
    if apart.len() * 1000 > actual.width * actual.height {
        let out = root.join("target/pictures");
        fs::create_dir_all(&out).unwrap();
        fs::write(out.join(format!("{name}.png")), &bytes).unwrap();
        let difference: Vec<Item> = (apart.iter())
            .map(|index| (index % actual.width, index / actual.width))
            .map(|(x, y)| Item::Rect(Area::new(x as f32, y as f32, 1.0, 1.0), [255, 0, 0]))
            .collect();
        let drawn = DisplayList { items: difference, ..list.clone() };
        fs::write(out.join(format!("{name}-difference.png")), png(&drawn, 1).unwrap()).unwrap();
        panic!("{name}: {} pixels differ; see target/pictures", apart.len());
    }
}

/// The grounds of the blocks, in order.
fn blocks(list: &DisplayList) -> impl Iterator<Item = Area> {
    list.items.windows(2).filter_map(|two| match two {
        [Item::Open(Role::Figure(_)), Item::Rect(area, _)] => Some(*area),
        _ => None,
    })
}
