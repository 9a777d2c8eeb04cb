//! *Not sure?*: two closed questions reach every tier, and nothing is kept without a tap on one.

use std::collections::BTreeSet;

use duskrow::blanket::How;
use duskrow::chat::button::Button;

use super::talker::Talker;

#[test]
fn every_tier_of_every_scale_is_reached_in_two_questions_of_four_choices() {
    for tiers in 2..=12 {
        for default in 1..=tiers {
            let mut reached = BTreeSet::new();
            for choice in choices(&asked(tiers, default)) {
                let mut maker = asked(tiers, default);
                maker.taps(&choice);
                let offered = choices(&maker);
                assert!((1..=4).contains(&offered.len()), "{tiers} {default}: {offered:?}");
                for tier in offered {
                    let mut maker = maker_at(tiers, default, &choice);
                    let said = maker.taps(&tier);
                    let label = tier.trim_start_matches("Keep ");
                    let kept = format!("Kept: Thursday 14 January, {label}.");
                    assert!(said.starts_with(&kept), "{tiers} {default} {choice} {tier}: {said}");
                    assert_eq!(maker.how("2027-01-14"), Some(How::Answered));
                    reached.insert(label.to_owned());
                }
            }
            let all: BTreeSet<String> = (1..=tiers).map(|id| format!("T{id}")).collect();
            assert_eq!(reached, all, "{tiers} tiers, default {default}");
        }
    }
}

#[test]
fn the_first_question_has_at_most_four_choices_and_never_names_a_side_that_is_not_there() {
    for tiers in 2..=12 {
        for default in 1..=tiers {
            let offered = choices(&asked(tiers, default));
            assert!((2..=4).contains(&offered.len()), "{tiers} {default}: {offered:?}");
            let unique: BTreeSet<&String> = offered.iter().collect();
            assert_eq!(unique.len(), offered.len(), "{tiers} {default}: {offered:?}");
            assert_eq!(offered.last().map(String::as_str), Some("Cannot tell"));
            assert!(offered.contains(&"About the same".to_owned()));
            // Tiers behind "Lower" are lower than those behind "About the same", and so on.
            let lowest = |choice: &String| {
                let maker = maker_at(tiers, default, choice);
                let first = choices(&maker).first().cloned().unwrap();
                first.trim_start_matches("Keep ")[1..].parse::<u8>().unwrap()
            };
            let firsts: Vec<u8> = offered[..offered.len() - 1].iter().map(lowest).collect();
            assert!(firsts.windows(2).all(|pair| pair[0] < pair[1]), "{offered:?}: {firsts:?}");
        }
    }
}

#[test]
fn the_demo_scale_asks_with_the_words_of_the_maker() {
    let mut maren = evening();
    let said = maren.taps("Not sure?");
    assert_eq!(
        said,
        "Thursday 14 January\nCompared with Ordinary, where is this day on your scale?"
    );
    assert_eq!(maren.labels(), ["Lower", "About the same", "Higher", "Cannot tell"]);
    assert_eq!(maren.taps("Lower"), "Thursday 14 January\nWhich of these fits the day?");
    assert_eq!(maren.labels(), ["Very rough", "Rough", "A bit rough", "Back", "Later"]);
    assert!(maren.taps("Rough").starts_with("Kept: Thursday 14 January, Rough."));
}

#[test]
fn the_same_and_cannot_tell_offer_the_default_tier_and_keep_nothing() {
    for choice in ["About the same", "Cannot tell"] {
        let mut maren = evening();
        maren.taps("Not sure?");
        let said = maren.taps(choice);
        assert!(said.contains("Then Ordinary may fit"), "{said}");
        assert!(said.ends_with("Nothing is kept yet."), "{said}");
        assert_eq!(maren.labels(), ["Keep Ordinary", "Back", "Later"]);
        assert!(maren.book().answers().is_empty());
        maren.taps("Keep Ordinary");
        // It is an answer, not an assumption.
        assert_eq!(maren.how("2027-01-14"), Some(How::Answered));
    }
}

#[test]
fn nothing_is_kept_on_the_way_and_back_leads_back() {
    let mut maren = evening();
    for label in ["Not sure?", "Higher", "Back", "Lower", "Back", "Cannot tell", "Back"] {
        maren.taps(label);
        assert!(maren.book().answers().is_empty(), "{label}");
    }
    assert_eq!(maren.labels(), ["Lower", "About the same", "Higher", "Cannot tell"]);
    // It all happens in the message of the question.
    assert_eq!(maren.messages.len(), 1);
    // A typed label answers at any point.
    assert!(maren.types("Smooth").starts_with("Kept: Thursday 14 January, Smooth."));
}

#[test]
fn a_doubt_about_a_day_that_has_a_tier_meanwhile_can_change_it() {
    let mut maren = evening();
    let question = maren.messages.len() - 1;
    let keys = maren.messages[question].keys.clone();
    let (_, unsure) = keys.into_iter().find(|(label, _)| label == "Not sure?").unwrap();
    maren.taps("Smooth");
    maren.taps_button(unsure, question);
    assert_eq!(maren.kept("2027-01-14").as_deref(), Some("Smooth"));
    maren.taps("Higher");
    assert_eq!(maren.kept("2027-01-14").as_deref(), Some("Smooth"));
    maren.taps("Very smooth");
    assert_eq!(maren.kept("2027-01-14").as_deref(), Some("Very smooth"));
}

#[test]
fn a_part_this_scale_is_not_cut_into_asks_once_more() {
    let mut maren = evening();
    let said = maren.taps_token("1|compare|20270114|9");
    assert!(said.contains("where is this day on your scale?"), "{said}");
    for token in ["1|unsure|20270115", "1|compare|20270115|0", "1|compare|20280114|x"] {
        let mut maren = evening();
        let said = maren.taps_token(token);
        assert!(said.contains("not come yet") || said.contains("not in this blanket"), "{said}");
    }
}

/// The choices that lead to a tier: not *Back*, not *Later*.
fn choices(maker: &Talker) -> Vec<String> {
    let message = maker.messages.last().unwrap();
    let leads = |button: &Button| matches!(button, Button::Compare { .. } | Button::Answer { .. });
    let keys = message.keys.iter().filter(|(_, button)| leads(button));
    keys.map(|(label, _)| label.clone()).collect()
}

fn asked(tiers: u8, default: u8) -> Talker {
    let mut maker = Talker::with_scale("2027-01-14 12:00", tiers, default);
    maker.turn("2027-01-14 21:00");
    maker.taps("Not sure?");
    maker
}

fn maker_at(tiers: u8, default: u8, choice: &str) -> Talker {
    let mut maker = asked(tiers, default);
    maker.taps(choice);
    maker
}

fn evening() -> Talker {
    let mut maren = Talker::with_blanket("2027-01-14 12:00", "2027-01-01").without_nudges();
    maren.turn("2027-01-14 21:00");
    maren
}
