//! The list of further steps of set-up: every step leads to its screen and back, in any order,
//! after any time, and none has to be taken.

use super::talker::Talker;

const STEPS: [&str; 11] = [
    "Scale",
    "Words for each tier",
    "The question",
    "Colours",
    "Default tier",
    "How common each tier is",
    "Blocks",
    "Stitch",
    "Swatch",
    "Units",
    "US or UK names",
];

#[test]
fn the_list_comes_from_the_end_of_set_up_and_from_the_settings() {
    let mut maren = Talker::joined("2027-01-14 20:14");
    maren.does(&["Lisbon", "[Yes]", "[21:00]", "[Today, Thu 14 Jan]"]);
    let said = maren.taps("Set-up list");
    assert!(
        said.starts_with("Set-up list. All of it can wait.\nAs at the start: Scale, "),
        "{said}"
    );
    assert_eq!(&maren.labels()[..11], STEPS);
    assert_eq!(maren.labels()[11..], ["Later"]);
    let in_settings = open(&mut maker());
    assert_eq!(in_settings, said);
}

#[test]
fn every_step_leads_to_its_screen_and_back_and_changes_nothing_by_itself() {
    for step in STEPS {
        let mut maren = maker();
        let before = maren.book().clone();
        let list = open(&mut maren);
        let screen = maren.taps(step);
        assert_ne!(screen, list, "{step}");
        assert_eq!(maren.taps("Set-up list"), list, "{step}");
        assert_eq!(*maren.book(), before, "{step}");
    }
}

#[test]
fn each_is_marked_once_it_is_set_and_no_more_once_that_is_undone() {
    let cases: [(&str, &[&str], &[&str]); 11] = [
        ("Scale", &["[Smooth]", "[Rename]", "Calm"], &["[Undo]"]),
        ("Words for each tier", &["[Smooth]", "slept well"], &["[Smooth]", "[Delete these words]"]),
        ("The question", &["How was it?"], &["[Undo]"]),
        ("Colours", &["[Ready palettes]", "[Kitchen]"], &["[Undo]"]),
        ("Default tier", &["[Smooth]"], &["[Undo]"]),
        ("How common each tier is", &["[Smooth]", "[Often]"], &["[Smooth]", "[No guess]"]),
        ("Blocks", &["[Rows of a block]", "34"], &["[Undo]"]),
        ("Stitch", &["[Stockinette]"], &["[Undo]"]),
        ("Swatch", &["14 x 18"], &["[Undo]"]),
        ("Units", &["[Ounces and yards]"], &["[Grams and metres]"]),
        ("US or UK names", &["[UK names]"], &["[Undo]"]),
    ];
    for (step, acts, undo) in cases {
        let mut maren = maker();
        open(&mut maren);
        maren.taps(step);
        maren.does(acts);
        let mut later = maren.clone();
        let set = format!("Set by you: {step}.");
        let said = maren.taps("Set-up list");
        assert!(said.contains(&set), "{step}: {said}");
        let label = format!("{step}: set");
        assert!(maren.labels().contains(&label.as_str()), "{step}");
        later.passes(3);
        assert_eq!(later.taps("Set-up list"), said, "{step}");
        let mut maren = maker();
        open(&mut maren);
        maren.taps(step);
        maren.does(acts);
        maren.does(undo);
        let said = maren.taps("Set-up list");
        assert!(!said.contains("Set by you"), "{step}: {said}");
    }
}

#[test]
fn a_refusal_on_the_way_changes_nothing_and_leads_back_too() {
    for (step, typed) in [("The question", "x".repeat(10_240)), ("Swatch", "soft".to_owned())] {
        let mut maren = maker();
        let before = maren.book().clone();
        let list = open(&mut maren);
        maren.taps(step);
        let said = maren.types(&typed);
        assert!(said.contains("Nothing was changed."), "{step}: {said}");
        assert_eq!(maren.taps("Set-up list"), list, "{step}");
        assert_eq!(*maren.book(), before, "{step}");
    }
}

#[test]
fn later_leaves_it_and_no_message_brings_it_up() {
    let mut maren = maker();
    open(&mut maren);
    let said = maren.taps("Later");
    assert_eq!(said, "These steps wait. To see the list, type /settings and tap Set-up list.");
    let seen = maren.messages.len();
    maren.passes(14);
    let later = &maren.messages[seen..];
    assert!(later.len() > 10 && later.iter().all(|message| !message.text.contains("et-up")));
}

#[test]
fn whoever_left_the_list_for_something_else_is_not_led_back() {
    for acts in [&["/today", "[Smooth]"][..], &["/settings", "[Scale]"], &["/rows"], &["/yarn"]] {
        let mut maren = maker();
        open(&mut maren);
        maren.taps("Default tier");
        maren.does(acts);
        assert!(!maren.labels().contains(&"Set-up list"), "{acts:?}: {:?}", maren.labels());
    }
}

fn maker() -> Talker {
    Talker::with_blanket("2027-01-14 12:00", "2027-01-01").without_nudges()
}

fn open(maren: &mut Talker) -> String {
    maren.types("/settings");
    maren.taps("Set-up list")
}
