//! What a file may say of a book, and what it may not: names, numbers, dates and instants that no
//! chat can make.

use std::collections::BTreeMap;

use duskrow::blanket::forecast::Common;
use duskrow::blanket::size::{Basis, Swatch};
use duskrow::blanket::stitch::{Craft, Stitch};
use duskrow::blanket::stock::{
    BALLS_MAX, Ball, Decimetres, Entry, EntryKind, Tenths, WEIGHINGS_MAX,
};
use duskrow::blanket::yarn::{BallLabel, YarnSettings};
use duskrow::blanket::{
    BlockNumber, Book, Change, Cut, Earlier, Fabric, Finish, How, NOTE_CHARS_MAX,
    NOTES_PER_DAY_MAX, Note, NoteId, NoteText, OwnQuestion, PersonId, PersonLine, Pieces, Plan,
    Tier, TierId, TierLine, Yarn, YarnId, begin_next, next_plan,
};
use duskrow::export::{BYTES_MAX, EARLIER_MAX, ImportFault, book_file, read_book};
use serde_json::{Value, json};

use super::whole::{pointers, read};
use super::{answered, beginning, day, label, noon, note};

/// A book with something of everything that is in a file.
pub fn full() -> Book {
    let mut book = Book::begin(&beginning());
    let (yarn, at, date) = (YarnId(1), noon(), day("2027-01-10"));
    let own = Stitch::Own { multiple: 6, offset: 1, craft: Craft::Crochet };
    let swatch = Swatch::new(14.0, 18.0, Basis::TenCentimetres).ok();
    let fabric =
        Fabric { stitch: own, swatch, columns: Some(3), border_rounds: 2, ..Fabric::DEFAULT };
    let third = Tier { id: TierId(3), label: label("Calm"), yarn };
    let more = book.scale().with(third, 2).unwrap();
    let settings = YarnSettings {
        ball: Some(BallLabel { each: Tenths(500), length_each: Some(Decimetres(1250)) }),
        guess: BTreeMap::from([(TierId(1), Common::Often), (TierId(3), Common::Sometimes)]),
        ..YarnSettings::default()
    };
    let ball = Ball { length_each: Some(Decimetres(1250)), ..Ball::of(Tenths(500)) };
    let ball = Ball { lot: Some(label("4471")), weighed: Some(Tenths(507)), ..ball };
    let (before, after) = (Tenths(483), Tenths(471));
    let kinds = [
        EntryKind::Ball(ball),
        EntryKind::Weighing(before),
        EntryKind::Correction(after),
        EntryKind::Tried { before, after, rows: 2 },
    ];
    let rgb = [0x10, 0x20, 0x30];
    let line = Some(TierLine::parse("slept badly").unwrap());
    let changes = [
        Change::Shaped { pieces: Pieces::DEFAULT, fabric: Box::new(fabric) },
        Change::Scaled(Box::new(more.without(TierId(3)).unwrap())),
        Change::Described { tier: TierId(1), line, at },
        Change::YarnAdded(Yarn { id: YarnId(12), name: label("Reed"), rgb, after: Some(yarn) }),
        Change::QuestionSet(OwnQuestion::parse("How was it?").ok()),
        Change::YarnSet(Box::new(settings)),
        answered("2027-01-01", 1),
        answered("2027-01-02", 2),
        Change::PutOff { day: date, until: Some(day("2027-01-16")) },
        Change::Asked { day: day("2027-01-13"), at: at - chrono::TimeDelta::hours(15) },
        Change::Noted { day: date, note: note(41, "rain") },
        Change::PersonKept { id: PersonId(1), line: PersonLine::parse("Ida").unwrap() },
        Change::Worked { block: BlockNumber(1), yarns: vec![yarn, YarnId(2)], at },
        Change::Finished { block: BlockNumber(1), finish: Finish::Woven, done: true },
        Change::Nudged { on: day("2027-01-12") },
        Change::Recapped { on: day("2027-01-10") },
    ];
    changes.iter().for_each(|change| book.apply(change));
    for kind in kinds {
        book.apply(&Change::Stocked { yarn, entry: Entry { kind, rows: 1, at } });
    }
    book
}

/// Its file, with a day that had something before.
pub fn file() -> Value {
    let kept = Some((TierId(3), How::Answered));
    let before = Earlier { day: day("2027-01-02"), kept, at: noon() };
    serde_json::from_str(&book_file(&full(), &[before])).unwrap()
}

fn with(mut file: Value, place: &str, value: Value) -> Value {
    let old = file.pointer_mut(place).unwrap_or_else(|| panic!("no {place}"));
    assert_ne!(*old, value, "{place}");
    *old = value;
    file
}

/// A blanket of the end of time would be looked through day by day, for ever; one from before the
/// year 0 could be kept and never be read again.
#[test]
fn a_file_of_years_nobody_lives_in_is_refused() {
    let file = book_file(&Book::begin(&beginning()), &[]);
    let of = |first: &str, last: &str| {
        let file = file.replacen("2027-01-01", first, 1);
        read(&file.replacen("2027-12-31", last, 1)).map(|book| book.plan().first_day())
    };
    for (first, last) in [
        ("+262142-12-30", "+262142-12-31"),
        ("+10000-01-01", "+10000-12-31"),
        ("9999-12-30", "9999-12-31"),
        ("2199-12-31", "2200-01-01"),
        ("1969-12-31", "1970-01-01"),
        ("0000-01-01", "0000-12-31"),
        ("-0001-01-01", "-0001-12-31"),
        ("-262143-01-01", "-262143-01-02"),
    ] {
        assert_eq!(of(first, last), Err(ImportFault::Impossible), "{first}");
    }
    for (first, last) in [("1970-01-01", "1970-12-31"), ("2199-01-01", "2199-12-31")] {
        assert_eq!(of(first, last), Ok(day(first)));
    }
}

#[test]
fn a_file_with_what_no_chat_can_make_is_refused() {
    let file = file();
    assert!(read(&file.to_string()).is_ok());
    let own = |multiple, offset| json!({ "own": { "multiple": multiple, "offset": offset, "craft": "crochet" } });
    let early = "1969-12-31T23:59:59.999Z";
    let late = "2200-01-01T00:00:00Z";
    for (place, value) in [
        ("/day_turns_at", json!("12:00:00")),
        ("/day_turns_at", json!("04:00:01")),
        ("/ask_at", json!("21:00:30")),
        ("/ask_at", json!("23:59:60")),
        ("/reminders/nudge_at", json!("10:00:00.5")),
        ("/reminders/recap_at", json!("18:00:01")),
        ("/asked/date", json!("2028-01-01")),
        ("/asked/at", json!(late)),
        ("/nudged", json!("+12345-01-01")),
        ("/recapped", json!("2200-01-01")),
        ("/put_off/0/until", json!("9999-12-31")),
        ("/days/0/at", json!(early)),
        ("/earlier/0/at", json!(late)),
        ("/worked/0/at", json!(early)),
        ("/stock/0/at", json!(late)),
        ("/people/0/id", json!(i64::MAX)),
        ("/people/0/id", json!(7_258_118_400_000_i64)),
        ("/people/0/id", json!(0)),
        ("/fabric/columns", json!(0)),
        ("/fabric/columns", json!(41)),
        ("/fabric/border_rounds", json!(31)),
        ("/fabric/swatch/stitch_tenths", json!(0)),
        ("/fabric/swatch/row_tenths", json!(0)),
        ("/fabric/swatch/row_tenths", json!(60_000)),
        ("/fabric/stitch", own(0, 1)),
        ("/fabric/stitch", own(101, 1)),
        ("/fabric/stitch", own(6, 101)),
        ("/yarn_settings/ball/each", json!(0)),
        ("/yarn_settings/ball/length_each", json!(50_001)),
    ] {
        let changed = with(file.clone(), place, value.clone());
        let refused = read(&changed.to_string()).err();
        assert_eq!(refused, Some(ImportFault::Impossible), "{place} {value}");
    }
}

/// A block of 2027 has 33 rows; block 13 was cut away once.
#[test]
fn no_block_of_a_file_has_more_worked_rows_than_rows() {
    let worked = |rows: &[(u16, usize)]| {
        let row = |block| json!({ "block": block, "yarn": 1, "at": "2027-01-14T12:00:00Z" });
        let rows = rows.iter().flat_map(|(block, count)| vec![row(block); *count]);
        let file = with(file(), "/worked", rows.collect());
        read(&file.to_string())
            .map(|book| book.all_worked().map(|(_, rows)| rows.len()).sum::<usize>())
    };
    let refused = Err(ImportFault::Impossible);
    assert_eq!(worked(&[(1, 33), (2, 33), (13, 732)]), Ok(798));
    assert_eq!(worked(&[(1, 34)]), refused);
    assert_eq!(worked(&[(13, 733)]), refused);
    assert_eq!(worked(&[(13, 732), (14, 732)]), Ok(1464));
    assert_eq!(worked(&[(13, 732), (14, 732), (15, 1)]), refused);
    assert_eq!(worked(&[(0, 1)]), refused);
}

/// Nothing that is in a file is left out silently.
#[test]
fn an_unknown_name_at_any_depth_makes_a_file_unreadable() {
    let file = file();
    let mut places = Vec::new();
    pointers(&file, String::new(), &mut places);
    let objects: Vec<&String> =
        places.iter().filter(|place| file.pointer(place).unwrap().is_object()).collect();
    for inner in ["", "/pieces", "/fabric/swatch", "/fabric/stitch/own", "/yarn_settings/ball"] {
        assert!(objects.iter().any(|place| *place == inner), "{inner}: {objects:?}");
    }
    for place in objects {
        let mut changed = file.clone();
        let object = changed.pointer_mut(place).unwrap().as_object_mut().unwrap();
        object.insert("another_name".to_owned(), json!(1));
        let refused = read(&changed.to_string()).err();
        assert_eq!(refused, Some(ImportFault::Unreadable), "{place}");
    }
}

/// Removed tiers stay with the blanket before, and so does what was said of them.
#[test]
fn the_book_of_a_next_blanket_can_be_brought_back() {
    let book = full();
    assert!(book.yarn_settings().guess.contains_key(&TierId(3)));
    let plan = next_plan(&book, &[], day("2028-01-01"), day("2027-12-25")).unwrap();
    let mut next = None;
    for change in begin_next(&book, plan, noon()) {
        let Change::Of { change, .. } = change else { panic!("{change:?}") };
        duskrow::blanket::apply(&mut next, &change);
    }
    let mut next = next.unwrap();
    assert_eq!(next.yarn_settings().guess, BTreeMap::from([(TierId(1), Common::Often)]));
    assert_eq!(read(&book_file(&next, &[])), Ok(next.clone()));
    assert_eq!(next.fresh_tier_id(), Some(TierId(3)));

    // One that was begun when guesses still came along.
    let sound = next.clone();
    next.apply(&Change::YarnSet(Box::new(book.yarn_settings().clone())));
    assert_eq!(next.fresh_tier_id(), Some(TierId(4)), "no new tier gets the word of another");
    assert_eq!(read(&book_file(&next, &[])), Ok(sound));
}

#[test]
fn no_file_has_a_history_beyond_all_reason() {
    let (kept, at) = (Some((TierId(2), How::Answered)), noon());
    let history = vec![Earlier { day: day("2027-01-05"), kept, at }; EARLIER_MAX + 1];
    let of_before = |file: &str| {
        let changes = read_book(file.as_bytes())?;
        Ok(changes.iter().filter(|change| matches!(change, Change::Earlier(_))).count())
    };
    let mut file = book_file(&full(), &history);
    assert_eq!(of_before(&file), Ok(EARLIER_MAX));
    let first = file.find("\"earlier\": [").unwrap() + "\"earlier\": [".len();
    let line = r#"{"date":"2027-01-05","kept":null,"at":"2027-01-14T12:00:00Z"},"#;
    file.insert_str(first, line);
    assert_eq!(of_before(&file), Err(ImportFault::Impossible));
}

/// An instant is kept to the millisecond, whatever a file says.
#[test]
fn an_instant_of_a_file_is_read_to_the_millisecond() {
    let file = with(file(), "/days/0/at", json!("2027-01-01T21:00:00.123456789Z"));
    let changes = read_book(file.to_string().as_bytes()).unwrap();
    let at = changes.iter().find_map(|change| match change {
        Change::Answered { at, .. } => Some(*at),
        _ => None,
    });
    assert_eq!(at, Some("2027-01-01T21:00:00.123Z".parse().unwrap()));
}

/// A year of 366 days with all that the caps let in, in letters of four bytes: the notes, every
/// block of a day with as many rows as a block can have, all of them worked, and the history of
/// makers who change each answer a few times.
#[test]
fn the_largest_book_of_the_caps_fits_into_a_file() {
    let wide = |count: usize| "\u{1F9F6}".repeat(count);
    let mut begins = beginning();
    let pieces = Pieces { cut: Cut::Every(1), rows: Plan::ROWS_MAX, ..Pieces::DEFAULT };
    begins.plan = Plan::year_from(day("2027-03-01")).in_pieces(pieces).unwrap();
    let (first, last) = (begins.plan.first_day(), begins.plan.last_day());
    let dates: Vec<_> = first.iter_days().take_while(|day| *day <= last).collect();
    assert_eq!(dates.len(), 366);
    let mut book = Book::begin(&begins);
    let (yarn, at, how) = (YarnId(1), noon(), How::ForNow);
    let mut does = |change: Change| book.apply(&change);
    let text = NoteText::parse(&wide(NOTE_CHARS_MAX)).unwrap();
    let mut earlier = Vec::new();
    for (index, date) in (0_i64..).zip(&dates) {
        let day = *date;
        for note in 0..NOTES_PER_DAY_MAX as i64 {
            let id = NoteId(1000 * index + note);
            does(Change::Noted { day, note: Note { id, text: text.clone() } });
        }
        does(Change::Answered { day, tier: TierId(1), how, at });
        earlier.extend([Earlier { day, kept: Some((TierId(2), how)), at }; 5]);
        let block = BlockNumber(u16::try_from(index + 1).unwrap());
        let yarns = vec![yarn; usize::from(Plan::ROWS_MAX)];
        does(Change::Worked { block, yarns, at });
    }
    for id in 13..34 {
        let name = label(&format!("{}{id}", wide(22)));
        does(Change::YarnAdded(Yarn { id: YarnId(id), name, rgb: [1, 2, 3], after: Some(yarn) }));
    }
    for _ in 0..BALLS_MAX {
        let ball = Ball { lot: Some(label(&wide(24))), ..Ball::of(Tenths(500)) };
        does(Change::Stocked { yarn, entry: Entry { kind: EntryKind::Ball(ball), rows: 9, at } });
    }
    for _ in 0..WEIGHINGS_MAX {
        let kind = EntryKind::Tried { before: Tenths(900), after: Tenths(800), rows: 9 };
        does(Change::Stocked { yarn, entry: Entry { kind, rows: 9, at } });
    }
    let file = book_file(&book, &earlier);
    assert!(file.len() < BYTES_MAX, "{} bytes", file.len());
    let changes = read_book(file.as_bytes()).unwrap();
    let count = |is: fn(&Change) -> bool| changes.iter().filter(|change| is(change)).count();
    assert_eq!(count(|change| matches!(change, Change::Noted { .. })), 20 * 366);
    assert_eq!(count(|change| matches!(change, Change::Worked { .. })), 120 * 366);
    assert_eq!(count(|change| matches!(change, Change::Earlier(_))), 5 * 366);
    assert_eq!(count(|change| matches!(change, Change::Stocked { .. })), 700);

    // Of a history beyond all reason, what fits goes along.
    let beyond = vec![earlier[0]; 20_000];
    let file = book_file(&book, &beyond);
    assert!(file.len() <= BYTES_MAX, "{} bytes", file.len());
    let changes = read_book(file.as_bytes()).unwrap();
    let of_before = changes.iter().filter(|change| matches!(change, Change::Earlier(_))).count();
    assert!((5_000..20_000).contains(&of_before), "{of_before}");
}
