//! The maker's own scale: bad input gets one clear sentence and changes nothing, and what is left
//! half-way leaves nothing behind.

use duskrow::blanket::{Change, Tier, TierId, YARNS_MAX};
use duskrow::chat::talk::Step;

use super::scale::{at_scale, scale, undone};
use super::talker::Talker;

#[test]
fn a_question_that_cannot_be_asked_is_refused_and_the_step_waits() {
    let long = "x".repeat(61);
    let huge = "x".repeat(10_240);
    let cases = [
        ("", "I see no text in this question. Nothing was changed."),
        (" \n ", "I see no text in this question. Nothing was changed."),
        (&long, "A question has at most 60 characters. Nothing was changed."),
        (&huge, "A question has at most 60 characters. Nothing was changed."),
        (
            "a\u{202E}b",
            "This question has characters that are not shown. Nothing was changed.\n\
             Type it with letters, like: How was the sea?",
        ),
    ];
    for (typed, expected) in cases {
        let mut maren = at_scale();
        maren.taps("The question");
        let before = maren.maker.clone();
        assert_eq!(maren.types(typed), expected, "{typed:?}");
        assert_eq!(maren.maker, before, "{typed:?}");
        assert_eq!(maren.labels(), ["Back"]);
    }
}

#[test]
fn the_default_tier_is_removed_once_another_is_the_default() {
    let mut maren = at_scale();
    let before = maren.book().clone();
    assert_eq!(
        maren.does(&["[Ordinary]", "[Remove]"]),
        "Ordinary is the default tier. Nothing was changed.\n\
         Make another one the default tier first."
    );
    assert_eq!(*maren.book(), before);
    maren.does(&["[Default tier]", "[Smooth]", "[Ordinary]"]);
    let said = undone(&mut maren, &["[Remove]"]);
    assert!(said.starts_with("Removed: Ordinary.\n"), "{said}");
}

#[test]
fn a_scale_has_at_least_two_and_at_most_twelve_tiers() {
    let mut maren = Talker::with_scale("2027-01-14 12:00", 2, 1);
    maren.does(&["/settings", "[Scale]", "[T2]"]);
    let before = maren.book().clone();
    assert_eq!(maren.taps("Remove"), "A scale has at least 2 tiers. Nothing was changed.");
    assert_eq!(*maren.book(), before);
    let mut maren = Talker::with_scale("2027-01-14 12:00", 11, 1);
    maren.does(&["/settings", "[Scale]", "[Add a tier]", "[Above T11]"]);
    // Two messages ask for a label; a twelfth tier comes meanwhile.
    let (message, above) = maren.button("Back");
    maren.does(&["T12", "[Y1]"]);
    let before = maren.book().clone();
    let full = "A scale has at most 12 tiers. Nothing was changed.";
    assert_eq!(maren.does(&["/settings", "[Scale]", "[Add a tier]"]), full);
    assert_eq!(maren.taps_button(above, message), full);
    assert_eq!(*maren.book(), before);
}

#[test]
fn a_blanket_has_at_most_24_yarns() {
    let mut maren = Talker::with_scale("2027-01-14 12:00", 2, 1);
    for yarn in maren.book().yarns().len()..YARNS_MAX {
        maren.does(&["/settings", "[Scale]", "[Add a tier]", "[As the lowest]", "Wreck"]);
        maren.does(&[&format!("Sea {yarn} Glass"), &format!("#{yarn:06}"), "[Undo]"]);
    }
    assert_eq!(maren.book().yarns().len(), YARNS_MAX);
    maren.does(&["/settings", "[Scale]", "[Add a tier]", "[As the lowest]", "Wreck"]);
    let before = maren.maker.clone();
    let said = maren.types("One more");
    assert_eq!(
        said,
        "A blanket has at most 24 yarns. Nothing was changed.\nTap a yarn that is there."
    );
    assert_eq!(maren.maker, before);
    maren.types("Y1");
    assert_eq!(scale(&maren), ["Wreck", "T1", "T2"]);
}

#[test]
fn a_label_that_cannot_be_one_is_refused_with_an_example_that_works() {
    let long = "x".repeat(25);
    let huge = "x".repeat(10_240);
    let number = "because a number you type is the place of a tier. Nothing was changed.";
    let meant = "because it means something else when you type it. Nothing was changed.";
    let mut cases = vec![
        ("", "I see no text in this label. Nothing was changed."),
        (" \n ", "I see no text in this label. Nothing was changed."),
        (&long, "A label has at most 24 characters. Nothing was changed."),
        (&huge, "A label has at most 24 characters. Nothing was changed."),
        ("a\u{202E}b", "This label has characters that are not shown. Nothing was changed."),
        ("Rou\u{200B}gh", "This label has characters that are not shown. Nothing was changed."),
        (" very  ROUGH. ", "Another tier has the label \"Very rough\". Nothing was changed."),
    ];
    cases.extend(["7", "13", "3.", "-1", "٣"].map(|typed| (typed, number)));
    cases.extend(
        [
            "yesterday",
            "Yes",
            "no",
            "TODAY.",
            "Mon",
            "May",
            "14 Jan",
            "where am I",
            "worked 17",
            "Kelp 83",
            "erase",
            "all",
            "today Smooth",
        ]
        .map(|typed| (typed, meant)),
    );
    let ways: [&[&str]; 2] = [&["[Smooth]", "[Rename]"], &["[Add a tier]", "[As the lowest]"]];
    for way in ways {
        for (typed, expected) in &cases {
            let mut maren = at_scale();
            maren.does(way);
            let before = maren.maker.clone();
            let said = maren.types(typed);
            assert!(said.contains(expected), "{way:?} {typed:?}: {said}");
            assert!(said.ends_with("\nType another, like Calm sea."), "{said}");
            assert_eq!(said.lines().count(), 2, "{said}");
            assert_eq!(maren.maker, before, "{way:?} {typed:?}");
            assert_eq!(maren.labels(), ["Back"]);
            maren.types("Calm sea");
            assert_ne!(maren.maker, before, "{way:?}");
        }
    }
}

#[test]
fn emoji_and_markup_are_letters_like_others() {
    for label in ["🧶", "🧑\u{200D}🌾", "<b>bold</b>", "*so* _so_", "&amp;", "שלום", "3 of 4"]
    {
        let mut maren = at_scale();
        maren.does(&["[Smooth]", "[Rename]", label]);
        assert_eq!(scale(&maren)[5], label);
        assert!(maren.types(label).starts_with("Kept: Thursday 14 January, "), "{label}");
        assert_eq!(maren.kept("2027-01-14").as_deref(), Some(label));
    }
}

#[test]
fn a_yarns_name_is_held_to_the_same_rules() {
    let mut maren = at_scale();
    maren.does(&["[Add a tier]", "[As the lowest]", "Calm"]);
    let before = maren.maker.clone();
    for typed in ["12", "yes", "a\u{202E}b", "", "Kelp 83"] {
        let said = maren.types(typed);
        assert!(said.ends_with("Nothing was changed.\nType another, like Sea Glass."), "{said}");
        assert_eq!(maren.maker, before, "{typed:?}");
    }
}

#[test]
fn a_command_back_and_cancel_leave_every_step() {
    let ways: [&[&str]; 5] = [
        &["[Smooth]", "[Rename]"],
        &["[The question]"],
        &["[Add a tier]", "[As the lowest]"],
        &["[Add a tier]", "[As the lowest]", "Calm"],
        &["[Add a tier]", "[As the lowest]", "Calm", "Sea Glass"],
    ];
    for way in ways {
        for way_out in ["[Back]", "/cancel", "/rows", "/settings"] {
            let mut maren = at_scale();
            let before = maren.book().clone();
            maren.does(way);
            assert_ne!(maren.step(), &Step::Idle, "{way:?}");
            maren.does(&[way_out]);
            if maren.step() != &Step::Idle {
                maren.types("/cancel");
            }
            assert_eq!(maren.book(), &before, "{way:?} {way_out}");
            maren.types("Smooth");
            assert_eq!(maren.kept("2027-01-14").as_deref(), Some("Smooth"), "{way:?} {way_out}");
        }
    }
}

#[test]
fn buttons_of_tiers_and_drafts_that_are_gone_change_nothing() {
    let mut maren = at_scale();
    maren.does(&["[Add a tier]", "[Above Smooth]", "Calm"]);
    let (yarns, kelp) = maren.button("Kelp");
    maren.does(&["/cancel", "/settings", "[Scale]", "[Smooth]"]);
    let screen = maren.messages.len() - 1;
    let keys = maren.messages[screen].keys.clone();
    maren.does(&["[Remove]"]);
    let book = maren.book().clone();
    assert_eq!(
        maren.taps_button(kelp, yarns),
        "That button is from an earlier step. Nothing was changed."
    );
    for (label, button) in keys {
        let said = maren.clone().taps_button(button.clone(), screen);
        assert!(!said.is_empty(), "{label}");
        maren.taps_button(button, screen);
        assert_eq!(*maren.book(), book, "{label}");
    }
    for token in
        ["1|scale|tier|200", "1|scale|name|200", "1|scale|move|200|3", "1|scale|drop|200|1"]
    {
        maren.taps_token(token);
        assert_eq!(*maren.book(), book, "{token}");
    }
}

#[test]
fn after_set_up_one_button_leads_to_the_scale_and_set_up_stays() {
    let mut maren = Talker::joined("2027-01-14 20:14");
    maren.does(&["Lisbon", "[Yes]", "[21:00]", "[Today, Thu 14 Jan]"]);
    assert_eq!(maren.labels(), ["Answer today now", "My own scale", "Set-up list"]);
    let said = maren.taps("My own scale");
    assert!(said.starts_with("Your scale, lowest tier first\n"), "{said}");
    // The button to answer today is in the message above.
    assert_eq!(maren.taps("Answer today now"), "Thursday 14 January\nWhich fits the day?");
    let mut maren = Talker::joined("2027-01-14 20:14");
    let said = maren.taps_token("1|scale|drop|1");
    assert!(said.contains("Nothing was changed."), "{said}");
    assert!(maren.maker.book.is_none());
}

#[test]
fn a_question_asked_before_a_change_answers_by_what_its_buttons_mean() {
    let mut maren = at_scale();
    maren.turn("2027-01-14 21:00");
    let (question, smooth) = maren.button("Smooth");
    let (_, rough) = maren.button("Rough");
    maren.does(&["/settings", "[Scale]", "[Rough]", "[Rename]", "Stormy"]);
    maren.does(&["[Back]", "[Smooth]", "[Remove]"]);
    // The removed tier answers nothing: the question comes with the tiers there are.
    let said = maren.taps_button(smooth, question);
    assert_eq!(said, "Thursday 14 January\nWhich fits the day?");
    assert_eq!(maren.kept("2027-01-14"), None);
    assert!(!maren.messages[question].keys.iter().any(|(caption, _)| caption == "Smooth"));
    assert!(maren.taps_button(rough, question).starts_with("Kept: Thursday 14 January, Stormy."));
}

#[test]
fn after_255_tiers_no_other_is_added() {
    let mut maren = Talker::with_scale("2027-01-14 12:00", 2, 1);
    let scale = maren.book().scale().clone();
    let one = scale.tiers()[1].clone();
    let gone = (3..=u8::MAX).map(|id| Tier { id: TierId(id), ..one.clone() }).collect();
    let full = Change::Scaled(Box::new(scale.with_retired(gone).unwrap()));
    maren.maker.book.as_mut().unwrap().apply(&full);
    let before = maren.book().clone();
    let said = maren.does(&["/settings", "[Scale]", "[Add a tier]"]);
    assert_eq!(
        said,
        "This blanket has had 255 tiers, which is all I can tell apart. Nothing was changed."
    );
    maren.taps_token("1|scale|add|1");
    assert_eq!((maren.step(), maren.book()), (&Step::Idle, &before));
}
