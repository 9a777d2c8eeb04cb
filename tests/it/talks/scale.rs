//! The maker's own scale: every flow, and what *Undo* gives back.

use duskrow::blanket::{BlockNumber, How, TierId};
use duskrow::chat::button::Button;
use duskrow::chat::talk::Step;

use super::talker::Talker;

/// Thursday at noon, two weeks after the blanket began.
pub fn maren() -> Talker {
    Talker::with_blanket("2027-01-14 12:00", "2027-01-01").without_nudges()
}

/// At the list of her tiers.
pub fn at_scale() -> Talker {
    let mut maren = maren();
    maren.does(&["/settings", "[Scale]"]);
    maren
}

/// The labels of the scale, lowest first.
pub fn scale(maren: &Talker) -> Vec<&str> {
    maren.book().scale().tiers().iter().map(|tier| tier.label.as_str()).collect()
}

/// Each of the acts changes something, and *Undo*, tapped twice, leads back to the book as it was.
pub fn undone(maren: &mut Talker, acts: &[&str]) -> String {
    let before = maren.book().clone();
    let said = maren.does(acts);
    assert_ne!(*maren.book(), before, "{acts:?}: {said}");
    let mut other = maren.clone();
    let (message, undo) = other.undo();
    let first = other.taps_button(undo.clone(), message);
    let back = other.book();
    assert_eq!(back.answers(), before.answers(), "{acts:?}");
    assert_eq!(back.scale().tiers(), before.scale().tiers(), "{acts:?}");
    assert_eq!(back.scale().default_tier(), before.scale().default_tier(), "{acts:?}");
    assert_eq!(back.question(), before.question(), "{acts:?}");
    let back = other.maker.clone();
    assert_eq!(other.taps_button(undo, message), first, "{acts:?}");
    assert_eq!(other.maker, back, "{acts:?}");
    said
}

impl Talker {
    /// The newest button with that label, and the message it is under.
    pub fn button(&self, label: &str) -> (usize, Button) {
        let found = self.messages.iter().enumerate().rev().find_map(|(index, message)| {
            let (_, button) = message.keys.iter().find(|(caption, _)| caption == label)?;
            Some((index, button.clone()))
        });
        found.unwrap()
    }

    fn undo(&self) -> (usize, Button) {
        self.button("Undo")
    }
}

#[test]
fn the_scale_is_listed_lowest_first_with_its_yarns_and_the_default_tier() {
    let mut maren = maren();
    maren.types("/settings");
    assert_eq!(
        maren.taps("Scale"),
        "Your scale, lowest tier first\n1. Very rough: Mussel\n2. Rough: Tarred Rope\n\
         3. A bit rough: Kelp\n4. Ordinary: Shingle (default tier)\n5. A bit smooth: Net Float\n\
         6. Smooth: Brick\n7. Very smooth: Rosehip\nThe question: Which fits the day?"
    );
    let mut labels = scale(&maren);
    labels.extend(["Add a tier", "Default tier", "The question", "Back"]);
    assert_eq!(maren.labels(), labels);
    assert!(maren.taps("Back").starts_with("I ask every day at 21:00."));
}

#[test]
fn a_renamed_tier_keeps_its_days_and_says_so_before() {
    let mut maren = maren();
    maren.does(&["13 Jan Smooth", "/settings", "[Scale]"]);
    assert_eq!(
        maren.taps("Smooth"),
        "Smooth\nTier 6 of 7. Yarn: Brick.\n1 day has it.\n\
         A tier that is renamed or moved keeps its days."
    );
    assert_eq!(
        maren.taps("Rename"),
        "What is Smooth called from now on?\n\
         Type a label of at most 24 characters. Its 1 day keeps it."
    );
    let said = undone(&mut maren, &["Calm sea"]);
    assert!(said.starts_with("Smooth is called Calm sea now.\nCalm sea\nTier 6 of 7."), "{said}");
    assert_eq!(maren.kept("2027-01-13").as_deref(), Some("Calm sea"));
    assert_eq!(maren.step(), &Step::Idle);
    // The new label is typed and tapped, the old one is a note.
    assert!(maren.types("calm sea").starts_with("Kept: Thursday 14 January, Calm sea."));
    assert!(maren.types("/today").contains("Calm sea"));
    // Capitals alone make another label of the same tier.
    maren.does(&["/settings", "[Scale]", "[Calm sea]", "[Rename]"]);
    assert!(maren.types("CALM SEA").starts_with("Calm sea is called CALM SEA now."));
}

#[test]
fn a_moved_tier_keeps_its_days_and_a_second_tap_does_not_move_it_further() {
    let mut maren = maren();
    maren.does(&["13 Jan Smooth", "/settings", "[Scale]", "[Smooth]"]);
    let (message, lower) = maren.button("Move lower");
    let said = undone(&mut maren, &["[Move lower]"]);
    assert!(said.starts_with("Smooth is tier 5 now, counted from the lowest.\nSmooth\n"), "{said}");
    assert_eq!(scale(&maren)[4..], ["Smooth", "A bit smooth", "Very smooth"]);
    let book = maren.book().clone();
    assert_eq!(maren.taps_button(lower, message), said);
    assert_eq!(*maren.book(), book);
    assert_eq!(maren.kept("2027-01-13").as_deref(), Some("Smooth"));
    assert!(maren.types("5").starts_with("Kept: Thursday 14 January, Smooth."));
    maren.does(&["/settings", "[Scale]", "[Very smooth]"]);
    assert_eq!(maren.labels(), ["Rename", "Move lower", "Remove", "Back"]);
    maren.does(&["[Back]", "[Very rough]"]);
    assert_eq!(maren.labels(), ["Rename", "Move higher", "Remove", "Back"]);
    undone(&mut maren, &["[Move higher]"]);
    undone(&mut maren, &["[Move higher]"]);
    assert_eq!(scale(&maren)[..3], ["Rough", "A bit rough", "Very rough"]);
}

#[test]
fn the_default_tier_is_chosen_and_days_set_before_keep_theirs() {
    let mut maren = maren();
    maren.does(&["/open", "[Set all 13 to Ordinary]", "/settings", "[Scale]"]);
    assert_eq!(
        maren.taps("Default tier"),
        "Which tier is the default tier? Now: Ordinary.\n\
         An open day is set to it when you say so. Days that have a tier keep it."
    );
    let said = undone(&mut maren, &["[A bit rough]"]);
    assert!(said.starts_with("A bit rough is the default tier now.\n"), "{said}");
    assert!(said.contains("3. A bit rough: Kelp (default tier)\n4. Ordinary: Shingle\n"), "{said}");
    assert_eq!(maren.kept("2027-01-13").as_deref(), Some("Ordinary"));
    assert!(maren.does(&["/today", "[Not sure?]"]).contains("Compared with A bit rough"));
}

#[test]
fn the_question_is_the_makers_own_and_the_date_stays() {
    let mut maren = at_scale();
    maren.taps("The question");
    assert_eq!(maren.labels(), ["Back"]);
    let said = undone(&mut maren, &["  How was  the sea? <b>"]);
    assert!(said.starts_with("From now on I ask your question, below the date.\n"), "{said}");
    assert!(said.ends_with("The question: How was the sea? <b>"), "{said}");
    assert_eq!(maren.turn("2027-01-14 21:00"), "Thursday 14 January\nHow was the sea? <b>");
    maren.types("Smooth");
    assert_eq!(
        maren.taps("Change"),
        "Thursday 14 January\nHow was the sea? <b>\nKept now: Smooth."
    );
    maren.does(&["/settings", "[Scale]", "[The question]"]);
    let said = undone(&mut maren, &["[Which fits the day?]"]);
    assert!(said.starts_with("From now on I ask the usual question.\n"), "{said}");
    assert_eq!(maren.book().question(), None);
}

#[test]
fn a_nudge_asks_the_makers_own_question_too() {
    let mut maren = maren().with_nudges().without_recap();
    maren.does(&["/settings", "[Scale]", "[The question]", "How was it?"]);
    maren.turn("2027-01-16 11:00");
    let nudge = maren.unasked.iter().find(|came| came.text.contains("is open.")).unwrap();
    assert_eq!(nudge.text.lines().nth(1), Some("How was it?"));
}

#[test]
fn a_tier_is_added_above_another_in_a_yarn_that_is_there() {
    let mut maren = at_scale();
    assert_eq!(maren.taps("Add a tier"), "Where does the new tier stand?");
    assert_eq!(maren.labels()[..2], ["As the lowest", "Above Very rough"]);
    assert_eq!(
        maren.taps("Above Ordinary"),
        "What is the new tier called? It stands above Ordinary.\n\
         Type a label of at most 24 characters."
    );
    assert_eq!(
        maren.types("Calm"),
        "Which yarn is Calm worked in?\nTap a yarn, or type the name of a new one."
    );
    let (message, kelp) = maren.button("Kelp");
    let said = undone(&mut maren, &["[Kelp]"]);
    assert!(said.starts_with("Added: Calm, worked in Kelp.\nYour scale"), "{said}");
    assert!(said.contains("\n5. Calm: Kelp\n6. A bit smooth"), "{said}");
    // A second tap says the same.
    let book = maren.book().clone();
    assert_eq!(maren.taps_button(kelp, message), said);
    assert_eq!(*maren.book(), book);
    assert!(maren.types("5").starts_with("Kept: Thursday 14 January, Calm."));
    // With a day, it is not taken back without a word about the day.
    maren.does(&["/settings"]);
    let (message, undo) = maren.undo();
    let before = maren.book().clone();
    assert_eq!(
        maren.taps_button(undo, message),
        "1 day has Calm now. Nothing was changed.\n\
         It can be removed on its own screen, which asks what they get."
    );
    assert_eq!(*maren.book(), before);
}

#[test]
fn a_tier_is_added_in_a_new_yarn_whose_colour_is_typed() {
    let mut maren = at_scale();
    maren.does(&["[Add a tier]", "[As the lowest]", "Wreck"]);
    assert_eq!(
        maren.types("Sea Glass"),
        "Sea Glass is a new yarn. What colour is it?\n\
         Type its colour code, like #4F7FB0. A drawing program shows it."
    );
    let before = maren.maker.clone();
    for typed in ["", "#12345", "#GGGGGG", "bluish", "#1234567", "＃４Ｆ７ＦＢ０", "é12345"]
    {
        let said = maren.types(typed);
        assert!(said.starts_with("I do not know the colour "), "{typed}: {said}");
        assert!(said.contains("Nothing was changed.\nType # and six"), "{typed}: {said}");
        assert_eq!(maren.maker, before, "{typed}");
    }
    let said = undone(&mut maren, &["66ccbb"]);
    assert!(said.starts_with("Added: Wreck, worked in Sea Glass.\n"), "{said}");
    let yarn = maren.book().yarns().last().unwrap();
    assert_eq!((yarn.id.0, yarn.rgb), (9, [0x66, 0xCC, 0xBB]));
    assert_eq!(scale(&maren)[0], "Wreck");
    // Taken back, the yarn stays, and the ids are not given to others.
    let said = maren.taps("Undo");
    assert!(
        said.starts_with("Removed: Wreck.\nThe yarn Sea Glass stays in your list.\n"),
        "{said}"
    );
    maren.does(&["[Add a tier]", "[As the lowest]", "Wreck", "sea glass"]);
    assert_eq!(maren.book().scale().tiers()[0].id, TierId(9));
    assert_eq!(maren.book().yarns().len(), 9);
}

#[test]
fn a_colour_of_the_first_scale_that_no_yarn_has_can_be_tapped() {
    let mut maren = Talker::with_scale("2027-01-14 12:00", 2, 1);
    maren.does(&["/settings", "[Scale]", "[Add a tier]", "[Above T2]", "T3", "Sea Glass"]);
    assert_eq!(maren.labels().len(), 9);
    let said = maren.taps("Kelp");
    assert!(said.starts_with("Added: T3, worked in Sea Glass.\n"), "{said}");
    assert_eq!(maren.book().yarns().last().unwrap().rgb, [0xAC, 0x94, 0x4B]);
}

#[test]
fn a_tier_without_days_is_removed_at_once() {
    let mut maren = at_scale();
    maren.taps("Very smooth");
    let (message, remove) = maren.button("Remove");
    let said = undone(&mut maren, &["[Remove]"]);
    assert!(said.starts_with("Removed: Very smooth.\nYour scale, lowest tier first\n"), "{said}");
    assert_eq!(maren.taps_button(remove, message), said);
    // A number and a label that are gone answer nothing.
    assert!(maren.types("7").contains("Nothing was changed."));
    assert_eq!(maren.kept("2027-01-14"), None);
}

/// Smooth on the 1st, 3rd and 5th, the first three rows worked.
fn with_days() -> Talker {
    let mut maren = maren();
    maren.does(&["1 Jan Smooth", "2 Jan Rough", "3 Jan Smooth", "4 Jan Rough", "5 Jan Smooth"]);
    maren.does(&["[For now]", "/rows 3", "[Worked]", "/settings", "[Scale]", "[Smooth]"]);
    maren
}

#[test]
fn days_of_a_removed_tier_get_the_one_the_maker_names_and_nothing_is_unworked() {
    let mut maren = with_days();
    assert_eq!(
        maren.taps("Remove"),
        "3 days have Smooth. Which tier do they get?\n\
         2 of their rows are worked. They stay worked. If the new tier has another yarn, \
         they differ from their days.\n\
         Then Smooth is removed."
    );
    assert!(!maren.labels().contains(&"Smooth"));
    let worked = maren.book().worked(BlockNumber(1)).to_vec();
    let (message, heir) = maren.button("Ordinary");
    let said = undone(&mut maren, &["[Ordinary]"]);
    assert!(
        said.starts_with(
            "Removed: Smooth.\nIts 3 days have Ordinary now.\n\
             2 worked rows differ from their days now.\nYour scale"
        ),
        "{said}"
    );
    assert_eq!(maren.book().worked(BlockNumber(1)), worked);
    let book = maren.book().clone();
    assert_eq!(maren.taps_button(heir, message), said);
    assert_eq!(*maren.book(), book);
    for (day, how) in [("2027-01-03", How::Answered), ("2027-01-05", How::ForNow)] {
        assert_eq!(maren.kept(day).as_deref(), Some("Ordinary"));
        assert_eq!(maren.how(day), Some(how));
    }
    // Other text is a note on the day answered last, as before.
    assert!(maren.types("dentist").starts_with("Note kept: Tuesday 5 January."));
    let said = maren.types("/today 1 Jan");
    assert!(said.contains("Row 1 is worked in Brick. Ordinary is Shingle."), "{said}");
}

#[test]
fn undoing_a_removal_leaves_what_was_changed_meanwhile() {
    let mut maren = with_days();
    maren.does(&["[Remove]", "[Ordinary]"]);
    let (message, undo) = maren.undo();
    maren.types("3 Jan Very smooth");
    let said = maren.taps_button(undo.clone(), message);
    assert!(
        said.starts_with(
            "Smooth is in your scale, and its 2 days have it.\n\
             1 day was changed meanwhile. It stays as it is.\nYour scale"
        ),
        "{said}"
    );
    let kept = ["2027-01-01", "2027-01-03", "2027-01-05"].map(|day| maren.kept(day).unwrap());
    assert_eq!(kept, ["Smooth", "Very smooth", "Smooth"]);
    let book = maren.book().clone();
    assert_eq!(maren.taps_button(undo, message), said);
    assert_eq!(*maren.book(), book);
}

#[test]
fn only_the_last_change_is_taken_back() {
    let mut maren = at_scale();
    maren.does(&["[Very smooth]", "[Remove]"]);
    let (message, undo) = maren.undo();
    maren.does(&["[Smooth]", "[Move lower]"]);
    let book = maren.book().clone();
    let said = maren.taps_button(undo, message);
    assert_eq!(said, "That button is from an earlier step. Nothing was changed.");
    assert_eq!(*maren.book(), book);
    assert_eq!(maren.labels(), ["Scale"]);
}

#[test]
fn pasted_days_and_days_set_in_one_go_never_bring_a_removed_tier_back() {
    let mut maren = maren();
    maren.does(&["4 Jan Smooth\n5 Jan Rough", "[Keep these 2 days]"]);
    let (set, undo) = maren.undo();
    maren.does(&["4 Jan Ordinary", "5 Jan Ordinary", "6 Jan Smooth\n7 Jan Rough"]);
    let (shown, keep) = maren.button("Keep these 2 days");
    maren.does(&["/settings", "[Scale]", "[Smooth]", "[Remove]"]);
    let book = maren.book().clone();
    for (message, button) in [(set, undo), (shown, keep)] {
        let said = maren.taps_button(button, message);
        assert_eq!(said, "That button is from an earlier step. Nothing was changed.");
        assert_eq!(*maren.book(), book);
    }
}
