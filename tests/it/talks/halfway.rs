//! A flow that is left half-way, and come back to after a week.

use super::talker::Talker;

/// To the name of another yarn, and on from there.
macro_rules! another {
    ($($act:literal),*) => {
        [
            "1 Jan A bit rough",
            "/rows 1",
            "[Worked]",
            "/settings",
            "[Colours]",
            "[See or change a colour]",
            "[Kelp]",
            "[Another yarn from now on]",
            $($act),*
        ]
    };
}

/// Every flow, up to the point where the bot waits for something.
pub const FLOWS: [(&str, &[&str]); 63] = [
    ("question", &["/today"]),
    ("not sure", &["/today", "[Not sure?]"]),
    ("which of these", &["/today", "[Not sure?]", "[Lower]"]),
    ("may fit", &["/today", "[Not sure?]", "[Cannot tell]"]),
    (
        "meanings",
        &[
            "/settings",
            "[Words for each tier]",
            "[Smooth]",
            "slept well",
            "/today",
            "[What do these mean?]",
        ],
    ),
    ("later", &["/today", "[Later]"]),
    ("change", &["/today 3 Jan", "[Rough]", "[Change]"]),
    ("note", &["/today 3 Jan", "[Rough]", "[Note]"]),
    ("open", &["/open"]),
    ("many days", &["4 Jan Smooth\n5 Jan Rough"]),
    ("worked up to", &["1 Jan Smooth", "worked up to block 1, row 1"]),
    ("rows", &["1 Jan Smooth", "/rows"]),
    ("ball", &["/yarn", "[Add a ball]", "[Shingle]"]),
    ("weighing", &["/yarn", "[Weigh]", "[Shingle]"]),
    ("one colour", &["/yarn", "[Shingle]"]),
    ("before", &["/yarn", "[Shingle]", "[Before and after rows]"]),
    ("rows of it", &["/yarn", "[Shingle]", "[Before and after rows]", "90"]),
    ("after", &["/yarn", "[Shingle]", "[Before and after rows]", "90", "6"]),
    ("correction", &["/yarn", "[Shingle]", "[Correct it]"]),
    ("label", &["/yarn", "[Yarn settings]", "[What a ball weighs]"]),
    ("guess", &["/yarn", "[What to buy]", "[How common is each tier]", "[Ordinary]"]),
    ("set-up list", &["/settings", "[Set-up list]"]),
    ("step of the list", &["/settings", "[Set-up list]", "[The question]"]),
    ("default of the list", &["/settings", "[Set-up list]", "[Default tier]"]),
    ("people", &["/settings", "[People and numbers]"]),
    ("person", &["/settings", "[People and numbers]", "[Add a line]"]),
    (
        "removed person",
        &["/settings", "[People and numbers]", "[Add a line]", "Ida, 555 0134", "[Remove 1]"],
    ),
    ("hour", &["/settings", "[Hour of the question]"]),
    ("place", &["/settings", "[Place]"]),
    ("zone", &["/settings", "[Place]", "Tokyo"]),
    ("turn of the day", &["/settings", "[When a day ends]"]),
    ("nudge hour", &["/settings", "[Nudges]"]),
    ("recap day", &["/settings", "[Weekly recap]"]),
    ("blankets", &["/blankets"]),
    ("erase", &["/erase"]),
    ("days of a block", &["/stitch", "[Blocks]", "[Where a block ends]", "[Every so many days]"]),
    ("rows of a block", &["/stitch", "[Blocks]", "[Rows of a block]"]),
    ("own stitch", &["/stitch", "[Stitch]", "[Your own stitch]", "[Knitting]"]),
    ("worked rows", &["1 Jan Smooth", "worked 1", "/stitch", "[Stitch]", "[Stockinette]"]),
    (
        "worked rows, typed",
        &["1 Jan Smooth", "worked 1", "/stitch", "[Blocks]", "[Rows of a block]", "40"],
    ),
    ("width", &["/settings", "[Blocks and stitch]", "[Width]"]),
    ("swatch", &["/stitch", "[Swatch]"]),
    ("side by side", &["/stitch", "[Size of the blanket]", "[Blocks side by side]"]),
    ("border", &["/stitch", "[Size of the blanket]", "[Border]"]),
    ("place", &["1 Jan Smooth", "2 Jan Rough", "where am I", "[Tarred Rope]"]),
    ("place found", &["1 Jan Smooth", "where am I", "[Brick]", "[No stripe below]"]),
    ("block", &["1 Jan Smooth", "/block"]),
    ("all blocks", &["/block all"]),
    ("colours", &["/settings", "[Colours]"]),
    ("code of a colour", &["/settings", "[Colours]", "[See or change a colour]", "[Kelp]"]),
    (
        "name of a colour",
        &["/settings", "[Colours]", "[See or change a colour]", "[Kelp]", "[Another name]"],
    ),
    ("another yarn", &another!()),
    ("code of another yarn", &another!("Sea Kelp")),
    ("shown another yarn", &another!("Sea Kelp", "#8FA3B0")),
    ("scale", &["/settings", "[Scale]"]),
    ("tier", &["/settings", "[Scale]", "[Smooth]"]),
    ("label of a tier", &["/settings", "[Scale]", "[Smooth]", "[Rename]"]),
    ("default tier", &["/settings", "[Scale]", "[Default tier]"]),
    ("own question", &["/settings", "[Scale]", "[The question]"]),
    ("removed tier", &["1 Jan Smooth", "/settings", "[Scale]", "[Smooth]", "[Remove]"]),
    ("new label", &["/settings", "[Scale]", "[Add a tier]", "[As the lowest]"]),
    ("new yarn", &["/settings", "[Scale]", "[Add a tier]", "[Above Smooth]", "Calm"]),
    (
        "new colour",
        &["/settings", "[Scale]", "[Add a tier]", "[As the lowest]", "Calm", "Sea Glass"],
    ),
];

#[test]
fn a_week_later_a_typed_tier_answers_what_was_asked_last() {
    for (name, acts) in FLOWS {
        let mut maren = thursday();
        maren.does(acts);
        let kept = maren.book().answers().len();
        maren.turn("2027-01-21 21:30");
        let said = maren.types("Smooth");
        assert!(said.starts_with("Kept: Thursday 21 January, Smooth."), "{name}: {said}");
        assert_eq!(maren.book().answers().len(), kept + 1, "{name}");
        assert!(!maren.erased, "{name}");
    }
}

#[test]
fn a_week_later_other_words_are_a_note_on_the_day_that_was_asked() {
    for typed in ["dentist", "Lisbon", "yes"] {
        for (name, acts) in FLOWS {
            let mut maren = thursday();
            maren.does(acts);
            maren.turn("2027-01-21 21:30");
            let said = maren.types(typed);
            assert!(said.starts_with("Note kept: Thursday 21 January."), "{name} {typed}: {said}");
            assert!(!maren.erased, "{name}");
        }
    }
}

#[test]
fn a_week_later_the_word_that_erases_asks_once_more() {
    for (name, acts) in FLOWS {
        let mut maren = thursday();
        maren.does(acts);
        maren.turn("2027-01-21 21:30");
        let said = maren.types("ERASE");
        assert!(said.starts_with("This deletes all that is kept about you here"), "{name}: {said}");
        assert!(!maren.erased, "{name}");
    }
}

#[test]
fn after_a_week_in_a_pause_the_step_waits_where_it_was() {
    let cases = [
        ("note", "dentist", "Note kept: Sunday 3 January."),
        ("ball", "50", "Shingle: 50 g."),
        ("weighing", "83", "Shingle: 83 g."),
        ("before", "90", "Work some rows with this Shingle."),
        ("rows of it", "6", "Weigh the Shingle that is left after 6 rows."),
        ("after", "83", "Shingle: nothing entered yet.\nKept: 6 rows weighed."),
        ("correction", "70", "Shingle: 70 g.\nSet to that."),
        ("label", "50 g 115 m", "Weights are in grams"),
        ("step of the list", "How was it?", "From now on I ask your question"),
        ("person", "Ida, 555 0134", "Kept: \"Ida, 555 0134\"."),
        ("hour", "20:00", "I ask every day at 20:00."),
        ("place", "Oslo", "In Oslo it is "),
        ("zone", "yes", "I ask every day at 21:00.\nPlace: Tokyo."),
        ("recap day", "Monday", "I ask every day at 21:00."),
        ("change", "Smooth", "Kept: Sunday 3 January, Smooth."),
        ("erase", "no", "Nothing was erased, and that line was not kept."),
        ("days of a block", "10", "Blocks\nEach block is 10 days."),
        ("rows of a block", "34", "Blocks\nEach block is a calendar month."),
        ("worked rows, typed", "41", "Rows of a block: 41 rows\n1 row is worked."),
        ("own stitch", "6 + 1", "Stitch\nNow: your own, knitted."),
        ("width", "36", "Width: 36 stitches."),
        ("swatch", "14 x 18", "Swatch: 14 stitches and 18 rows over 10 cm."),
        ("side by side", "3", "Size of the blanket\n3 blocks side by side, 4 high."),
        ("code of a colour", "#8FA3B0", "Colours\nKelp is #8FA3B0 now.\n"),
        ("name of a colour", "Eelgrass", "Colours\nKelp is called Eelgrass now.\n"),
        ("another yarn", "Sea Kelp", "What colour is Sea Kelp?"),
        ("code of another yarn", "#8FA3B0", "Sea Kelp #8FA3B0\nFrom now on A bit rough is"),
        ("label of a tier", "Calm", "Smooth is called Calm now."),
        ("own question", "How was it?", "From now on I ask your question"),
        ("new label", "Calm", "Which yarn is Calm worked in?"),
        ("new yarn", "Sea Glass", "Sea Glass is a new yarn."),
        ("new colour", "#66CCBB", "Added: Calm, worked in Sea Glass."),
        ("border", "2", "Size of the blanket\nThere is no layout yet for 12 blocks."),
    ];
    for (name, typed, expected) in cases {
        let mut maren = thursday();
        maren.sets(|reminders| reminders.paused = true);
        let (_, acts) = FLOWS.into_iter().find(|(flow, _)| *flow == name).unwrap();
        maren.does(acts);
        assert_eq!(maren.passes(7), "");
        let said = maren.types(typed);
        assert!(said.starts_with(expected), "{name}: {said}");
    }
}

#[test]
fn every_button_of_a_week_ago_is_answered_and_means_what_it_meant() {
    for (name, acts) in FLOWS {
        let mut maren = thursday();
        maren.does(acts);
        let message = maren.messages.len() - 1;
        let keys = maren.messages[message].keys.clone();
        maren.turn("2027-01-21 21:30");
        for (label, button) in keys {
            let mut later = maren.clone();
            let said = later.taps_button(button, message);
            assert!(!said.is_empty(), "{name} {label}");
            // A button of one day changes no other day.
            let day = |day: &str| (later.kept(day), maren.kept(day));
            let (now, before) = day("2027-01-21");
            assert_eq!(now, before, "{name} {label}");
        }
    }
}

#[test]
fn the_buttons_of_a_question_answer_its_day_a_week_later() {
    let mut maren = thursday();
    maren.turn("2027-01-14 21:00");
    maren.does(&["[Not sure?]", "[Lower]"]);
    let question = maren.messages.len() - 1;
    let rough = maren.messages[question].keys[1].1.clone();
    maren.turn("2027-01-21 21:30");
    let said = maren.taps_button(rough, question);
    assert!(said.starts_with("Kept: Thursday 14 January, Rough."), "{said}");
    // Tonight's question still takes the next line.
    assert!(maren.types("Smooth").starts_with("Kept: Thursday 21 January, Smooth."));
}

#[test]
fn set_up_waits_for_as_long_as_it_takes() {
    let steps: [(&[&str], &str, &str); 4] = [
        (&[], "Lisbon", "In Lisbon it is "),
        (&["Lisbon"], "yes", "When should I ask?"),
        (&["Lisbon", "yes"], "21:00", "Tap or type the first day."),
        (&["Lisbon", "yes", "21:00"], "today", "Set up. I ask every day at 21:00."),
    ];
    for (acts, typed, expected) in steps {
        let mut maren = Talker::joined("2027-01-14 20:14");
        maren.does(acts);
        assert_eq!(maren.passes(7), "");
        let said = maren.types(typed);
        assert!(said.starts_with(expected), "{acts:?}: {said}");
    }
    // The first day offered a week ago is a day of the past now, and can still be the first row.
    let mut maren = Talker::joined("2027-01-14 20:14");
    maren.does(&["Lisbon", "yes", "21:00"]);
    maren.passes(7);
    maren.taps("Today, Thu 14 Jan");
    assert_eq!(maren.book().plan().first_day().to_string(), "2027-01-14");
}

#[test]
fn the_question_about_nudges_can_be_answered_a_week_later() {
    let mut maren = Talker::with_blanket("2027-01-14 21:00", "2027-01-14");
    maren.turn("2027-01-14 21:00");
    maren.taps("Smooth");
    maren.turn("2027-01-21 21:30");
    assert!(maren.taps("Yes").starts_with("I send one quiet message at 10:00"));
    // Tonight's question still takes the next line.
    assert!(maren.types("Smooth").starts_with("Kept: Thursday 21 January, Smooth."));
}

/// Thursday 14 January at noon.
pub fn thursday() -> Talker {
    Talker::with_blanket("2027-01-14 12:00", "2027-01-01").without_nudges()
}
