//! Many days at once: how they can be written, what is refused, and that nothing is kept untapped.

use duskrow::blanket::How;

use super::talker::Talker;

/// The five days before Saturday 16 January, each way they can be written.
const FORMS: [&str; 12] = [
    "11 Jan Smooth\n12 Jan Rough\n13 Jan Ordinary",
    "11 Jan: Smooth\n12 Jan: Rough\n13 Jan: Ordinary",
    "Jan 11 smooth\nJan 12 ROUGH\nJan 13  ordinary",
    "2027-01-11 Smooth\n2027-01-12 Rough\n2027-01-13 Ordinary",
    "11.1. Smooth\n12.1. Rough\n13.1. Ordinary",
    "11/1 = Smooth\n12/1 = Rough\n13/1 = Ordinary",
    "Mon 11 Jan - Smooth\nTue 12 Jan – Rough\nWed 13 Jan, Ordinary",
    "Mon Smooth\nTue Rough\nWed Ordinary",
    "Mon 11 Smooth\nTue 12 Rough\nWed 13 Ordinary",
    "13 Jan Ordinary\n\n  11 Jan 6\n12 Jan 2\n",
    "11 Jan Smooth, 12 Jan Rough; 13 Jan Ordinary",
    "11 January 2027 Smooth\r\n12 January 2027 Rough\r\n13 January 2027 Ordinary",
];

#[test]
fn days_are_read_one_a_line_in_every_form_and_shown_back_before_anything_is_kept() {
    for typed in FORMS {
        for command in ["", "/today "] {
            let mut maren = saturday();
            let before = maren.maker.book.clone();
            let said = maren.types(&format!("{command}{typed}"));
            assert_eq!(
                said,
                "I read these days:\nMon 11 Jan: Smooth.\nTue 12 Jan: Rough.\n\
                 Wed 13 Jan: Ordinary.\nNothing is kept yet.",
                "{command}{typed:?}"
            );
            assert_eq!(maren.maker.book, before, "{typed:?}");
            assert_eq!(maren.labels(), ["Keep these 3 days", "Do not keep them"]);
            assert_eq!(maren.taps("Keep these 3 days"), "Kept: 3 days.");
            let kept: Vec<_> = (11..=13).map(|day| maren.kept(&format!("2027-01-{day}"))).collect();
            let labels = ["Smooth", "Rough", "Ordinary"].map(|label| Some(label.to_owned()));
            assert_eq!(kept, labels, "{typed:?}");
            assert_eq!(maren.how("2027-01-11"), Some(How::Answered));
        }
    }
}

#[test]
fn a_run_of_digits_is_one_day_each() {
    for typed in [
        "/today 1 Jan: 4432 3345 56",
        "1 Jan: 4432 3345 56",
        "1 Jan 4432 3345 56",
        "/today 1 Jan 4432334556",
        "2027-01-01: 4432334556",
        "/today 1.1. 44323 34556",
    ] {
        let mut maren = saturday();
        let said = maren.types(typed);
        assert!(said.starts_with("I read these days:\nFri 1 Jan: Ordinary.\nSat 2"), "{said}");
        assert!(said.contains("\nSun 10 Jan: Smooth.\nNothing is kept yet."), "{typed}: {said}");
        maren.taps("Keep these 10 days");
        assert_eq!(maren.book().answers().len(), 10, "{typed}");
        assert_eq!(maren.kept("2027-01-04").as_deref(), Some("Rough"));
    }
}

#[test]
fn one_day_with_its_tier_is_answered_at_once() {
    for typed in ["12 Jan Smooth", "Tue 6", "yesterday: Smooth", "/today 12 Jan Smooth"] {
        let mut maren = saturday();
        let said = maren.types(typed);
        assert!(said.starts_with("Kept: ") && said.contains(", Smooth."), "{typed}: {said}");
        assert_eq!(maren.book().answers().len(), 1);
    }
}

#[test]
fn what_cannot_be_read_is_named_by_its_line_and_nothing_is_kept() {
    let cases = [
        ("11 Jan Smooth\n12 Jan Smoth", "Line 2: I do not know the tier \"Smoth\"."),
        ("11 Jan Smooth\n12 Jan Silky\n13 Jan Rough", "Line 2: I do not know the tier \"Silky\"."),
        ("11 Jan Smooth\n12 Jan", "Line 2: I do not know the day in \"12 Jan\"."),
        ("11 Jan Smooth\nsnow\n13 Jan Rough", "Line 2: I do not know the day in \"snow\"."),
        ("January\n11 Jan Smooth", "Line 1: I do not know the day in \"January\"."),
        ("11 Jan Smooth\n30 Feb Rough", "Line 2: I do not know the day in \"30 Feb Rough\"."),
        ("12 Jan Smoth", "Line 1: I do not know the tier \"Smoth\"."),
        ("12 Jan 9", "Line 1: I do not know the tier \"9\"."),
        ("1 Jan: 4483", "Line 1: I do not know the tier \"8\"."),
        ("1 Jan: 4403", "Line 1: I do not know the tier \"0\"."),
        ("11 Jan Smooth\n11 Jan Rough", "Monday 11 January is there twice."),
        ("11 Jan Smooth\nMon Smooth", "Monday 11 January is there twice."),
        ("15 Jan Smooth\n17 Jan Rough", "Sunday 17 January has not come yet."),
        ("/today 15 Jan: 44444", "Sunday 17 January has not come yet."),
        ("31 Dec 2026 Smooth\n1 Jan Rough", "Thursday 31 December 2026 is not in this blanket."),
        ("2025-01-11 Smooth\n1 Jan Rough", "Saturday 11 January 2025 is not in this blanket."),
        ("/today 1 Jan 2026 Smooth", "Thursday 1 January 2026 is not in this blanket."),
    ];
    for (typed, expected) in cases {
        let mut maren = saturday();
        let before = maren.maker.clone();
        let said = maren.types(typed);
        assert!(said.starts_with(expected), "{typed:?}: {said}");
        assert!(
            said.contains("Nothing was kept") || said.contains("Nothing was changed"),
            "{said}"
        );
        assert_eq!(maren.maker, before, "{typed:?}");
    }
}

#[test]
fn four_hundred_lines_are_too_many_and_a_year_is_not() {
    let mut maren = Talker::with_blanket("2028-01-02 12:00", "2027-01-01").without_nudges();
    let lines = |count: usize| {
        let first = "2027-01-01".parse::<chrono::NaiveDate>().unwrap();
        let days: Vec<String> =
            first.iter_days().take(count).map(|day| format!("{day} 4")).collect();
        days.join("\n")
    };
    let before = maren.maker.clone();
    let said = maren.types(&lines(400));
    assert_eq!(said, "I can take at most 366 days at once. Nothing was kept.\nSend them in parts.");
    assert!(maren.types(&format!("1 Jan: {}", "4".repeat(400))).starts_with("I can take at most"));
    assert_eq!(maren.maker, before);
    maren.types(&lines(365));
    maren.taps("Keep these 365 days");
    assert_eq!(maren.book().answers().len(), 365);
}

#[test]
fn a_note_that_begins_like_a_date_is_a_note() {
    for typed in [
        "Today was rain\nand wind",
        "14 Jan dentist",
        "Monday, dentist at ten",
        "snow\nsnow\nsnow\n14 Jan Smooth",
        "2027 was long",
        "1 Jan: ",
    ] {
        let mut maren = saturday();
        maren.does(&["/today 3 Jan", "[Rough]"]);
        let said = maren.types(typed);
        assert!(said.starts_with("Note kept: "), "{typed:?}: {said}");
        assert_eq!(maren.notes("2027-01-03"), [typed.trim()]);
    }
}

#[test]
fn undo_gives_each_day_what_it_had_before() {
    let mut maren = saturday();
    maren.does(&["/today 11 Jan", "[Rough]", "[For now]"]);
    maren.does(&["/today 12 Jan", "[Skip]", "/today 13 Jan", "[Later]", "[In 3 days]"]);
    maren.does(&["/open", "[Set Fri 1 Jan to Ordinary]"]);
    let before = maren.maker.book.clone();
    let said = maren.types("1 Jan 4\n11 Jan Smooth\n12 Jan 4\n13 Jan 4");
    assert!(
        said.ends_with(
            "1 of them has another tier now. It would be replaced.\nNothing is kept yet."
        ),
        "{said}"
    );
    maren.taps("Keep these 4 days");
    // What the maker says is no assumption any more.
    assert_eq!(maren.how("2027-01-01"), Some(How::Answered));
    let said = maren.taps("Undo");
    assert_eq!(
        said,
        "Taken back: 4 days from Fri 1 Jan to Wed 13 Jan.\nThey are as they were before."
    );
    assert_eq!(maren.maker.book, before);
}

#[test]
fn taps_that_come_twice_say_the_same_and_keep_their_undo() {
    let mut maren = saturday();
    maren.types("11 Jan Smooth\n12 Jan Rough");
    for label in ["Keep these 2 days", "Undo"] {
        let index = maren.messages.len() - 1;
        let keys = maren.messages[index].keys.clone();
        let button = keys.into_iter().find(|(caption, _)| caption == label).unwrap().1;
        let first = maren.taps_button(button.clone(), index);
        let (before, labels) = (maren.maker.clone(), maren.labels().join(" "));
        assert_eq!(maren.taps_button(button, index), first, "{label}");
        assert_eq!((&maren.maker, maren.labels().join(" ")), (&before, labels), "{label}");
    }
}

#[test]
fn days_that_are_not_kept_and_lists_that_are_replaced_do_nothing() {
    let mut maren = saturday();
    let before = maren.maker.book.clone();
    maren.types("11 Jan Smooth\n12 Jan Rough");
    let first = maren.messages.last().unwrap().keys[0].1.clone();
    assert_eq!(maren.taps("Do not keep them"), "These days were not kept.");
    let gone = "That button is from an earlier step. Nothing was changed.";
    assert_eq!(maren.taps_button(first.clone(), 0), gone);
    // A second paste: the buttons of the first do nothing.
    maren.types("11 Jan Smooth\n12 Jan Rough");
    let first = maren.messages.last().unwrap().keys[0].1.clone();
    maren.types("13 Jan Smooth\n14 Jan Rough");
    assert_eq!(maren.taps_button(first, 0), gone);
    assert_eq!(maren.maker.book, before);
}

#[test]
fn a_day_answered_after_it_was_shown_is_shown_once_more() {
    let mut maren = saturday();
    maren.types("11 Jan Smooth\n12 Jan Rough");
    let list = maren.messages.len() - 1;
    let keep = maren.messages[list].keys[0].1.clone();
    maren.passes(1);
    maren.types("12 Jan Very smooth");
    let before = maren.maker.book.clone();
    let said = maren.taps_button(keep, list);
    assert!(said.contains("1 of them has another tier now."), "{said}");
    assert_eq!(maren.maker.book, before);
    maren.taps("Keep these 2 days");
    assert_eq!(maren.kept("2027-01-12").as_deref(), Some("Rough"));
}

/// Saturday 16 January at noon; no day is answered.
fn saturday() -> Talker {
    Talker::with_blanket("2027-01-16 12:00", "2027-01-01").without_nudges()
}
