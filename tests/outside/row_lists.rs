//! Fifty random books, and the row lists that an independent program wrote for them from the facts
//! of the trade (`row_lists.py`, which has never seen this program's sources). CI runs that program
//! anew and compares; here, the lists this program makes are compared with what it wrote.

use chrono::NaiveDate;
use duskrow::blanket::stitch::{Craft, Foundation, LinenEdge, RowCount, Stitch, Width};
use duskrow::blanket::{
    Block, Book, Carry, Change, Cut, Fabric, Fillers, Handling, Hours, How, Label, Pieces, Plan,
    RowColour, RowLine, RowNumber, Scale, Side, Tier, TierId, Yarn, YarnId, ends,
};
use duskrow::chat::{beginning, day_turns_at_default};
use duskrow::wording::en;
use serde_json::{Value, json};

#[test]
fn fifty_random_books_have_the_rows_an_independent_program_gives_them() {
    let books = include_str!("row_books.jsonl").lines();
    let lists = include_str!("row_lists.jsonl").lines();
    let mut compared = 0;
    for (number, (book, list)) in (1..).zip(books.zip(lists)) {
        let (book, expected): (Value, Value) =
            (serde_json::from_str(book).unwrap(), serde_json::from_str(list).unwrap());
        let ours = lists_of(&book);
        let theirs = expected["blocks"].as_array().unwrap();
        assert_eq!(ours.len(), theirs.len(), "book {number}: {book}");
        for (block, (ours, theirs)) in (1..).zip(ours.iter().zip(theirs)) {
            for (key, value) in theirs.as_object().unwrap() {
                assert_eq!(&ours[key], value, "book {number}, block {block}, {key}");
            }
            compared += theirs["list"].as_array().unwrap().len();
        }
    }
    assert!(compared > 5000, "{compared} rows");
}

fn lists_of(told: &Value) -> Vec<Value> {
    let book = book(told);
    book.plan().blocks().map(|block| list_of(&book, &block, told)).collect()
}

fn list_of(book: &Book, block: &Block, told: &Value) -> Value {
    let faces = book.plan().faces();
    let mut list = Vec::new();
    let mut open_from = None;
    for number in (1..=block.rows).map(RowNumber) {
        let line = RowLine::of(book, block, number).unwrap();
        let (first, last) = faces.worked_rows(number);
        let side = if line.row.side == Side::Right { "RS" } else { "WS" };
        let (day, yarn) = match line.colour {
            RowColour::Open { .. } => {
                open_from = Some(number.0);
                break;
            }
            RowColour::Day { day, yarn: YarnId(yarn), .. } => {
                (Some(day.to_string()), json!(yarn - 1))
            }
            RowColour::Filler { .. } => (None, json!("joining")),
        };
        let step = match line.handling {
            Handling::Start => "start",
            Handling::Keep => "keep",
            Handling::Change => "change",
            Handling::Carry { .. } => "carry",
        };
        list.push(json!([number.0, first, last, side, day, yarn, step]));
    }
    let counted = ends(book, block);
    let (stitch, width) = (book.fabric().stitch, book.fabric().width.unwrap());
    let (foundation, first_in) = match stitch.foundation(width) {
        Foundation::Chain { chains, first_in } => (json!(chains), json!(first_in)),
        Foundation::CastOn(count) => (json!(count), Value::Null),
        Foundation::Own => {
            let more = told["stitch"]["foundation"].as_u64().unwrap();
            (json!(u64::from(width.0) + more), Value::Null)
        }
    };
    json!({
        "first": block.first_day.to_string(),
        "last": block.last_day.to_string(),
        "days": block.days(),
        "units": block.rows,
        "fillers": block.fillers(),
        "worked_rows": block.rows * faces.rows_per_day,
        "runs": counted.runs,
        "carries": counted.carries,
        "ends": counted.ends,
        "open_from": open_from,
        "foundation": foundation,
        "first_stitch_in": first_in,
        "row_1": count(stitch, width, 1),
        "row_2": count(stitch, width, 2),
        "list": list,
    })
}

fn count(stitch: Stitch, width: Width, row: u16) -> Value {
    match (stitch, stitch.count(width, row)) {
        (Stitch::Linen(_), Some(RowCount { stitches, spaces, .. })) => {
            json!({ "sc": stitches, "spaces": spaces })
        }
        (_, Some(RowCount { stitches, and_chain, .. })) => {
            json!({ "stitches": stitches, "chain": and_chain })
        }
        (_, None) => json!({ "stitches": width.0, "chain": false }),
    }
}

fn book(told: &Value) -> Book {
    let day = |key: &str| told[key].as_str().unwrap().parse::<NaiveDate>().unwrap();
    let stitch = stitch(told);
    let fabric = Fabric {
        stitch,
        width: Some(Width(number(&told["width"]))),
        turned: told["turned"].as_bool().unwrap(),
        first_side: if told["row_one"] == "RS" { Side::Right } else { Side::Wrong },
        carry: match told["carry"].as_u64().unwrap() {
            0 => Carry::Never,
            3 => Carry::Three,
            5 => Carry::Five,
            other => panic!("{other}"),
        },
        ..Fabric::DEFAULT
    };
    fabric.check().unwrap();
    let blocks = &told["blocks"];
    let cut = match blocks["kind"].as_str().unwrap() {
        "months" => Cut::Months,
        "from_start" => Cut::FromStart,
        "every" => Cut::Every(number(&blocks["days"])),
        "strip" => Cut::Strip,
        other => panic!("{other}"),
    };
    let fillers = match told["fillers"].as_str().unwrap() {
        "after" => Fillers::After,
        "before" => Fillers::Before,
        "first_and_last" => Fillers::FirstAndLast,
        "balanced" => Fillers::Balanced,
        other => panic!("{other}"),
    };
    // A strip has as many rows as days, whatever is said.
    let rows = if cut == Cut::Strip { 1 } else { number(&told["rows_per_block"]) };
    let pieces = Pieces { cut, rows, fillers, short_ends: told["short_ends"].as_bool().unwrap() };
    let plan = Plan::new(day("first_day"), day("last_day"), pieces, fabric.faces()).unwrap();
    let hours = Hours {
        zone: chrono_tz::UTC,
        ask_at: "21:00:00".parse().unwrap(),
        day_turns_at: day_turns_at_default(),
    };
    let mut begun = beginning(plan, hours, &en::LEXICON).unwrap();
    begun.fabric = fabric;
    let tiers = u8::try_from(number(&told["scale"])).unwrap();
    let label = |name: String| Label::parse(&name).unwrap();
    let tier = |id| Tier { id: TierId(id), label: label(format!("T{id}")), yarn: YarnId(id) };
    let yarn =
        |id| Yarn { id: YarnId(id), name: label(format!("Y{id}")), rgb: [id; 3], after: None };
    begun.scale = Scale::new((1..=tiers).map(tier).collect(), TierId(1)).unwrap();
    (begun.yarns, begun.joining) = ((1..=tiers + 1).map(yarn).collect(), YarnId(tiers + 1));
    let mut book = Book::begin(&begun);
    let answers = told["answers"].as_array().unwrap().iter();
    for (day, tier) in day("first_day").iter_days().zip(answers) {
        let Some(tier) = tier.as_u64() else { continue };
        let tier = TierId(u8::try_from(tier + 1).unwrap());
        let at = chrono::DateTime::UNIX_EPOCH;
        book.apply(&Change::Answered { day, tier, how: How::Answered, at });
    }
    book
}

fn number(value: &Value) -> u16 {
    u16::try_from(value.as_u64().unwrap()).unwrap()
}

fn stitch(told: &Value) -> Stitch {
    let counts = told["turning_chain_counts"].as_bool().unwrap();
    match told["stitch"]["kind"].as_str().unwrap() {
        "linen_chain_edge" => Stitch::Linen(LinenEdge::ChainTwo),
        "linen_sc_edges" => Stitch::Linen(LinenEdge::Single),
        "linen_sc_at_end" => Stitch::Linen(LinenEdge::SingleAtEnd),
        "single" => Stitch::SingleCrochet,
        "half_double" => Stitch::HalfDouble { chain_counts: counts },
        "double" => Stitch::Double { chain_counts: counts },
        "garter_ridge" => Stitch::Garter { day_is_ridge: true },
        "garter_row" => Stitch::Garter { day_is_ridge: false },
        "stockinette" => Stitch::Stockinette,
        "own" => Stitch::Own {
            multiple: number(&told["stitch"]["multiple"]),
            offset: number(&told["stitch"]["offset"]),
            craft: Craft::Crochet,
        },
        other => panic!("{other}"),
    }
}
