//! How long does `/yarn` take? From the typed command to what is sent, for twelve colours at
//! several days of a year: the list of all of them, one of them whole, what to buy. Prints medians
//! and the slowest of each; asserts nothing.
#![allow(clippy::print_stdout, clippy::unwrap_used, reason = "a measurement")]
#![allow(clippy::disallowed_methods, reason = "it measures time")]

use std::hint::black_box;
use std::time::Instant;

use chrono::{DateTime, Days, NaiveDate, Utc};
use duskrow::blanket::size::{Basis, Swatch};
use duskrow::blanket::stitch::Width;
use duskrow::blanket::stock::{Ball, Decimetres, Entry, EntryKind, Tenths};
use duskrow::blanket::{
    Beginning, Book, Change, Fabric, Hours, How, Label, Plan, RowNumber, Scale, Tier, TierId, Yarn,
    YarnId, workable,
};
use duskrow::chat::button::{Button, YarnButton};
use duskrow::chat::event::{Event, MessageId};
use duskrow::chat::talk::Talk;
use duskrow::chat::{Maker, day_turns_at_default, respond};
use duskrow::wording::en;

const RUNS: usize = 51;
const COLOURS: u8 = 12;

fn main() {
    println!("| day | grams a colour | what | median ms | slowest ms |\n|---|---|---|---|---|");
    for days in [1, 30, 90, 180, 364] {
        for grams in [20, 60, 200] {
            let (book, others) = (Some(book(days, grams)), Vec::new());
            let maker = Maker { owner: true, book, others, talk: Talk::default() };
            let typed = |text: &str| Event::Typed {
                text: text.to_owned(),
                message: MessageId(1),
                reply_to: None,
            };
            let tapped = |button: YarnButton| Event::Tapped {
                button: Ok(Button::OfYarn(button)),
                message: MessageId(1),
            };
            let events = [
                ("/yarn", typed("/yarn")),
                ("one colour", tapped(YarnButton::Detail { yarn: YarnId(6) })),
                ("what to buy", tapped(YarnButton::ToBuy)),
                ("a weighing", typed("C6 19")),
            ];
            for (what, event) in events {
                measure(&format!("{days} | {grams} | {what}"), &maker, &event);
            }
        }
    }
}

fn measure(what: &str, maker: &Maker, event: &Event) {
    let said = || {
        let outcome = respond(maker, DateTime::UNIX_EPOCH, event, &en::LEXICON);
        let words = outcome.replies.iter().map(|reply| en::say(&reply.say).plain().len());
        words.sum::<usize>()
    };
    let mut times: Vec<f64> = (0..RUNS)
        .map(|_| {
            let begun = Instant::now();
            black_box(said());
            begun.elapsed().as_secs_f64() * 1e3
        })
        .collect();
    times.sort_by(f64::total_cmp);
    println!("| {what} | {:.2} | {:.2} |", times[RUNS / 2], times[RUNS - 1]);
}

/// A year in twelve colours with so many days answered and worked, and each colour bought, weighed
/// and weighed once more.
fn book(days: u64, grams: u32) -> Book {
    let at = DateTime::<Utc>::UNIX_EPOCH;
    let mut book = Book::begin(&beginning());
    let first = book.plan().first_day();
    let stocked = |yarn, kind, rows| Change::Stocked { yarn, entry: Entry { kind, rows, at } };
    for yarn in (1..=COLOURS).map(YarnId) {
        let ball = Ball { length_each: Some(Decimetres(850)), ..Ball::of(Tenths(500)) };
        book.apply(&stocked(yarn, EntryKind::Ball(ball), 0));
        book.apply(&stocked(yarn, EntryKind::Weighing(Tenths(10 * grams + 100)), 0));
    }
    for index in 0..days {
        // A fixed walk over the tiers.
        let tier = (index * index + index / 3) % u64::from(COLOURS);
        let tier = TierId(u8::try_from(tier).unwrap() + 1);
        let day = first + Days::new(index);
        book.apply(&Change::Answered { day, tier, how: How::Answered, at });
    }
    let blocks: Vec<_> = book.plan().blocks().collect();
    for block in blocks {
        let up_to = |rows| workable(&book, block.number, RowNumber(rows));
        let Some(yarns) = (1..=block.rows).rev().find_map(up_to) else { break };
        book.apply(&Change::Worked { block: block.number, yarns, at });
    }
    for yarn in (1..=COLOURS).map(YarnId) {
        let rows = book.rows_in(yarn);
        book.apply(&stocked(yarn, EntryKind::Weighing(Tenths(10 * grams)), rows));
    }
    book
}

fn beginning() -> Beginning {
    let label = |name: String| Label::parse(&name).unwrap();
    let tier = |id| Tier { id: TierId(id), label: label(format!("T{id}")), yarn: YarnId(id) };
    let yarn =
        |id| Yarn { id: YarnId(id), name: label(format!("C{id}")), rgb: [id; 3], after: None };
    Beginning {
        plan: Plan::year_from(NaiveDate::from_ymd_opt(2027, 1, 1).unwrap()),
        fabric: Fabric {
            width: Some(Width(36)),
            swatch: Swatch::new(14.0, 16.0, Basis::TenCentimetres).ok(),
            ..Fabric::DEFAULT
        },
        scale: Scale::new((1..=COLOURS).map(tier).collect(), TierId(6)).unwrap(),
        yarns: (1..=COLOURS + 1).map(yarn).collect(),
        joining: YarnId(COLOURS + 1),
        hours: Hours {
            zone: chrono_tz::UTC,
            ask_at: "21:00:00".parse().unwrap(),
            day_turns_at: day_turns_at_default(),
        },
    }
}
