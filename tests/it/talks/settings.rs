//! `/settings` and `/privacy`: every setting, tapped and typed, and what is no setting.

use chrono::Weekday;
use duskrow::blanket::Nudges;
use duskrow::chat::talk::Step;

use super::talker::Talker;

#[test]
fn every_setting_is_shown_with_its_button() {
    let mut maren = maren();
    assert_eq!(
        maren.types("/settings"),
        "I ask every day at 21:00.\n\
         Place: Lisbon.\n\
         A day ends at 04:00. Before that hour, I count it as the day before.\n\
         Nudges: none.\n\
         Weekly recap: Sunday at 18:00. One line comes, and a button that shows the rest."
    );
    assert_eq!(
        maren.labels(),
        [
            "Hour of the question",
            "Place",
            "When a day ends",
            "Nudges",
            "Weekly recap",
            "Words for each tier",
            "Blocks and stitch",
            "Paper",
            "Scale",
            "Colours",
            "People and numbers",
            "Set-up list",
            "Blankets"
        ]
    );
}

#[test]
fn each_can_be_tapped_and_typed_and_the_list_says_what_it_is_now() {
    let cases: [(&[&str], &str); 21] = [
        (&["[Hour of the question]", "[20:00]"], "I ask every day at 20:00."),
        (&["[Hour of the question]", "9.15 pm"], "I ask every day at 21:15."),
        (&["[Hour of the question]", "0:30"], "I ask every day at 00:30."),
        (&["[Place]", "Tokyo", "[Tokyo, 21:00 now]"], "Place: Tokyo."),
        (&["[Place]", "Tokyo", "yes"], "Place: Tokyo."),
        (&["[Place]", "Tokyo", "no", "Oslo", "yes"], "Place: Oslo."),
        (&["[Place]", "Tokyo", "Oslo", "yes"], "Place: Oslo."),
        (&["[Place]", "Lisbn", "yes"], "Place: Lisbon."),
        (&["[Place]", "Portugal", "[Azores, 11:00 now]"], "Place: Azores."),
        (&["[When a day ends]", "[02:00]"], "A day ends at 02:00."),
        (&["[When a day ends]", "[00:00]"], "A day ends at midnight."),
        (&["[When a day ends]", "3:30"], "A day ends at 03:30."),
        (&["[Nudges]", "[12:00]"], "Nudges: one quiet message at 12:00 when a day is open."),
        (&["[Nudges]", "8 am"], "Nudges: one quiet message at 08:00 when a day is open."),
        (&["[Nudges]", "[09:00]", "[Nudges]", "[No nudges]"], "Nudges: none."),
        (&["[Nudges]", "[09:00]", "[Nudges]", "no"], "Nudges: none."),
        (&["[Weekly recap]", "[Wednesday]"], "Weekly recap: Wednesday at 18:00. One line comes"),
        (&["[Weekly recap]", "thu"], "Weekly recap: Thursday at 18:00. One line comes"),
        (
            &["[Weekly recap]", "[Send all of it at once]"],
            "Weekly recap: Sunday at 18:00. All of it comes at once.",
        ),
        (&["[Weekly recap]", "[No weekly recap]"], "Weekly recap: none."),
        (&["[Weekly recap]", "no"], "Weekly recap: none."),
    ];
    for (acts, expected) in cases {
        let mut maren = maren();
        maren.types("/settings");
        let said = maren.does(acts);
        assert!(said.contains(expected), "{acts:?}: {said}");
        assert_eq!(maren.step(), &Step::Idle, "{acts:?}");
        assert_eq!(maren.types("/settings"), said, "{acts:?}");
    }
}

#[test]
fn nonsense_is_refused_with_an_example_and_changes_nothing() {
    let nonsense = ["", "🧶", "half past never", "25:00", "-1", "\u{202E}", "Smooth", "x1000"];
    for button in ["Hour of the question", "Place", "When a day ends", "Nudges", "Weekly recap"] {
        for typed in nonsense.map(|typed| typed.replace("x1000", &"x".repeat(1000))) {
            let mut maren = maren();
            maren.types("/settings");
            maren.taps(button);
            let before = maren.maker.clone();
            let said = maren.types(&typed);
            assert!(said.starts_with("I do not know the "), "{button} {typed}: {said}");
            assert!(said.contains("Nothing was changed.") && said.contains("like"), "{said}");
            assert!(said.chars().count() < 300, "{said}");
            // The step waits for another try, and the book is as it was.
            assert_eq!(maren.maker, before, "{button} {typed}");
        }
    }
    let mut maren = maren();
    maren.does(&["/settings", "[When a day ends]"]);
    for typed in ["12:00", "13:00", "9 pm"] {
        let said = maren.types(typed);
        assert!(said.starts_with("A day cannot end at "), "{said}");
        assert!(said.contains("Nothing was changed.") && said.contains("like 04:00"), "{said}");
    }
    assert!(maren.types("4:30").contains("A day ends at 04:30."));
}

#[test]
fn a_bare_number_that_can_be_two_hours_is_asked_about() {
    for (button, after) in [
        ("Hour of the question", "I ask every day at 21:00."),
        ("Nudges", "Nudges: one quiet message at 21:00 when a day is open."),
    ] {
        let mut maren = maren();
        maren.does(&["/settings", &format!("[{button}]")]);
        let before = maren.maker.clone();
        let asked = maren.types("9");
        assert!(asked.starts_with("9 can be 09:00 or 21:00. Nothing was changed.\n"), "{asked}");
        assert_eq!(maren.maker, before);
        assert_eq!(maren.labels(), ["09:00", "21:00", "Back"]);
        let said = maren.taps("21:00");
        assert!(said.contains(after), "{said}");
    }
    // A day can end in the morning alone, so there is nothing to ask.
    let mut maren = maren();
    assert!(maren.does(&["/settings", "[When a day ends]", "4"]).contains("A day ends at 04:00."));
}

#[test]
fn back_leads_back_and_ends_the_step() {
    for button in ["Hour of the question", "Place", "When a day ends", "Nudges", "Weekly recap"] {
        let mut maren = maren();
        let list = maren.types("/settings");
        maren.taps(button);
        assert_eq!(maren.taps("Back"), list, "{button}");
        assert_eq!(maren.step(), &Step::Idle, "{button}");
        // Now a tier is a tier.
        assert!(maren.types("Smooth").starts_with("Kept: Thursday 14 January, Smooth."));
    }
}

#[test]
fn a_new_place_asks_by_its_own_clock() {
    // It is noon in Lisbon, seven in the morning in New York, nine in the evening in Tokyo.
    for (place, asks) in [("New York", 2), ("Tokyo", 2), ("Lisbon", 2)] {
        let mut maren = maren();
        maren.does(&["/settings", "[Place]", place, "yes"]);
        maren.turn_to(maren.now + chrono::TimeDelta::hours(38));
        let hours = maren.book().hours();
        let asked = maren.asked.iter().map(|(_, at)| hours.local(*at).format("%H:%M").to_string());
        assert_eq!(asked.collect::<Vec<_>>(), vec!["21:00"; asks], "{place}");
    }
}

#[test]
fn the_same_choice_twice_changes_nothing() {
    for token in ["1|setat|2100", "1|setturn|0400", "1|setzone|Europe/Lisbon", "1|setrecap|6|0"] {
        let mut maren = maren();
        let before = maren.maker.clone();
        assert!(maren.taps_token(token).starts_with("I ask every day at 21:00."), "{token}");
        assert_eq!(maren.maker, before, "{token}");
    }
}

#[test]
fn without_a_recap_there_is_no_choice_of_its_length() {
    let mut maren = maren();
    maren.does(&["/settings", "[Weekly recap]", "[No weekly recap]", "[Weekly recap]"]);
    let labels = maren.labels();
    assert_eq!(labels.len(), 8, "{labels:?}");
    assert!(!labels.iter().any(|label| label.starts_with("Send")), "{labels:?}");
    maren.taps("Monday");
    assert_eq!(maren.book().reminders().recap_on, Some(Weekday::Mon));
}

#[test]
fn off_keeps_the_hour_for_the_next_time() {
    let mut maren = maren();
    maren.does(&["/settings", "[Nudges]", "[12:00]", "[Nudges]", "[No nudges]"]);
    let reminders = maren.book().reminders();
    assert_eq!(
        (reminders.nudges, reminders.nudge_at.to_string()),
        (Nudges::Off, "12:00:00".into())
    );
}

#[test]
fn before_there_is_a_blanket_set_up_comes_first() {
    for command in ["/settings", "/pause", "/resume", "/open", "/yarn", "/recap"] {
        let mut maren = Talker::joined("2027-01-14 20:14");
        let said = maren.types(command);
        assert!(said.starts_with("There is no blanket yet."), "{command}: {said}");
    }
}

#[test]
fn privacy_says_what_is_kept_who_reads_it_and_how_it_is_erased() {
    for start in [Talker::joined("2027-01-14 20:14"), maren()] {
        let mut maker = start;
        let before = maker.maker.clone();
        let said = maker.types("/privacy");
        for part in [
            "account number",
            "answers",
            "notes",
            "rows",
            "yarn",
            "settings",
            "runs the server",
            "not end-to-end encrypted",
            "does not delete",
            "/erase",
            "Nobody watches this chat.",
            "local emergency number",
        ] {
            assert!(said.contains(part), "{part:?} is not in {said:?}");
        }
        assert_eq!(maker.maker, before);
    }
}

/// Thursday at noon.
fn maren() -> Talker {
    Talker::with_blanket("2027-01-14 12:00", "2027-01-01").without_nudges()
}

#[test]
fn paper_says_how_it_is_and_each_tap_can_be_taken_back() {
    let mut maren = Talker::with_blanket("2027-01-14 12:00", "2027-01-01");
    let before = maren.book().clone();
    let said = maren.does(&["/settings", "[Paper]"]);
    let a4 = "Paper: A4.\n\
         Row 1 is at the bottom, as in the hand.\n\
         The arrows are for right-handed work.\n\
         The sheet and the picture of a block are drawn like this. /block brings them.";
    assert_eq!(said, a4);
    assert_eq!(maren.labels(), ["A5", "Letter", "Row 1 at the top", "Left-handed", "Back"]);
    let said = maren.does(&["[Letter]", "[Row 1 at the top]", "[Left-handed]"]);
    assert!(
        said.starts_with(
            "Paper: Letter.\nRow 1 is at the top.\nThe arrows are for left-handed work."
        )
    );
    assert_eq!(maren.labels(), ["A4", "A5", "Row 1 at the bottom", "Right-handed", "Back"]);
    // A repeated tap changes nothing, and says how it is.
    let now = maren.book().clone();
    assert_eq!(maren.taps_token("1|paper|size|letter"), said);
    assert_eq!(maren.book(), &now);
    // The hand is the one of the stitch settings.
    assert!(maren.book().fabric().left_handed);
    assert_eq!(maren.does(&["[A4]", "[Row 1 at the bottom]", "[Right-handed]"]), a4);
    assert_eq!(maren.book(), &before);
}
