//! Notes: on which day, what may be in them, changed by editing, deleted by a tap.

use super::talker::Talker;

#[test]
fn free_text_is_a_note_on_the_day_that_is_asked_about() {
    let mut maren = asked();
    let said = maren.types("dentist, and rain");
    let expected = "Note kept: Thursday 14 January.\n\
         The day has no tier yet. To give it one, type /today 14 Jan.\n";
    assert!(said.starts_with(expected), "{said}");
    assert_eq!(maren.labels(), ["Delete note"]);
    assert_eq!(maren.notes("2027-01-14"), ["dentist, and rain"]);
    // The question still takes its answer.
    assert!(maren.types("Smooth").starts_with("Kept: Thursday 14 January, Smooth."));
}

#[test]
fn after_an_answer_it_is_on_the_day_last_kept() {
    let mut maren = asked();
    maren.types("Smooth");
    assert!(maren.types("dentist").starts_with("Note kept: Thursday 14 January."));
    maren.now += chrono::TimeDelta::seconds(1);
    maren.does(&["/today 3 Jan", "[Rough]"]);
    assert_eq!(maren.types("snow"), "Note kept: Sunday 3 January.");
    assert_eq!(maren.notes("2027-01-03"), ["snow"]);
    // The day last kept is the one answered last, not the latest.
    assert_eq!(maren.notes("2027-01-14"), ["dentist"]);
}

#[test]
fn a_reply_to_a_question_is_a_note_for_its_day_and_a_tier_in_it_is_an_answer() {
    let mut maren = asked();
    maren.types("Smooth");
    assert!(maren.replies("2027-01-12", "dentist").starts_with("Note kept: Tuesday 12 January."));
    assert_eq!(maren.notes("2027-01-12"), ["dentist"]);
    assert!(maren.replies("2027-01-12", "tough").starts_with("Note kept: Tuesday 12 January."));
    let said = maren.replies("2027-01-12", "rough");
    assert!(said.starts_with("Kept: Tuesday 12 January, Rough."), "{said}");
    assert_eq!(maren.kept("2027-01-14").as_deref(), Some("Smooth"));
}

#[test]
fn before_anything_was_asked_or_kept_there_is_no_day_for_a_note() {
    let mut maren = Talker::with_blanket("2027-01-14 12:00", "2027-01-01");
    let before = maren.maker.clone();
    assert!(maren.types("dentist").starts_with("I did not understand \"dentist\"."));
    assert_eq!(maren.maker, before);
}

#[test]
fn the_note_button_asks_for_one_and_takes_any_line() {
    for typed in ["dentist", "Smooth", "6", "14 Jan Smooth", "Shingle 83"] {
        let mut maren = answered();
        assert_eq!(
            maren.taps("Note"),
            "Type your note for Thursday 14 January.\nTo leave it, type /cancel."
        );
        let said = maren.types(typed);
        assert!(said.starts_with("Note kept: Thursday 14 January."), "{typed}: {said}");
        assert_eq!(maren.notes("2027-01-14"), [typed]);
        assert_eq!(maren.kept("2027-01-14").as_deref(), Some("Smooth"));
    }
    let mut maren = answered();
    maren.does(&["[Note]", "/cancel"]);
    assert_eq!(maren.notes("2027-01-14"), [""; 0]);
}

#[test]
fn a_note_is_kept_as_it_was_typed() {
    for typed in ["two\nlines", "<b>bold</b> & \"quoted\"", "שלום", "=1+1", "🧶", "  spaced  "]
    {
        let mut maren = answered();
        maren.types(typed);
        assert_eq!(maren.notes("2027-01-14"), [typed.trim()]);
    }
    // What turns the text around it, and what nobody sees, is left out.
    let mut maren = answered();
    maren.types("a\u{202E}b\u{7}c");
    assert_eq!(maren.notes("2027-01-14"), ["abc"]);
}

#[test]
fn an_edited_message_changes_its_note_and_no_other() {
    let mut maren = answered();
    maren.types("snow");
    maren.types("dentist");
    assert_eq!(maren.edits("dentist at ten"), "Note changed: Thursday 14 January.");
    assert_eq!(maren.notes("2027-01-14"), ["snow", "dentist at ten"]);
    // The same words once more are no change.
    let before = maren.maker.clone();
    assert_eq!(maren.edits("dentist at ten"), "");
    assert_eq!(maren.maker, before);
    // A tier in an edited note stays a note.
    maren.edits("Rough");
    assert_eq!(maren.notes("2027-01-14"), ["snow", "Rough"]);
    assert_eq!(maren.kept("2027-01-14").as_deref(), Some("Smooth"));
}

#[test]
fn an_edit_that_cannot_be_a_note_leaves_the_note_as_it_was() {
    for (edited, said) in [
        ("\u{202E}\u{7}".to_owned(), "I see no text in this note. Nothing was changed."),
        ("x".repeat(501), "A note has at most 500 characters. Nothing was changed."),
        ("x".repeat(10_240), "A note has at most 500 characters. Nothing was changed."),
    ] {
        let mut maren = answered();
        maren.types("dentist");
        assert!(maren.edits(&edited).starts_with(said));
        assert_eq!(maren.notes("2027-01-14"), ["dentist"]);
    }
}

#[test]
fn an_edit_of_a_message_that_is_no_note_says_nothing() {
    let mut maren = asked();
    maren.types("Smooth");
    let before = maren.maker.clone();
    assert_eq!(maren.edits("Rough"), "");
    assert_eq!(maren.maker, before);
}

#[test]
fn a_note_is_deleted_by_one_tap_and_the_message_says_what_stays() {
    let mut maren = answered();
    maren.types("dentist");
    let message = maren.messages.len() - 1;
    let delete = maren.messages[message].keys[0].1.clone();
    let said = "The note is deleted here. Your message stays in this chat.";
    assert_eq!(maren.taps_button(delete.clone(), message), said);
    assert_eq!(maren.notes("2027-01-14"), [""; 0]);
    // Once more, and an edit afterwards: nothing comes back.
    let before = maren.maker.clone();
    assert_eq!(maren.taps_button(delete, message), said);
    assert_eq!(maren.edits("dentist at ten"), "");
    assert_eq!(maren.maker, before);
}

#[test]
fn ten_kilobytes_and_one_note_too_many_are_refused_without_being_repeated() {
    let mut maren = answered();
    for typed in ["x".repeat(501), "word ".repeat(2_048), "🧶".repeat(501)] {
        let said = maren.types(&typed);
        assert!(said.starts_with("A note has at most 500 characters."), "{said}");
    }
    assert!(maren.types(&"🧶".repeat(500)).starts_with("Note kept:"));
    for number in 1..20 {
        assert!(maren.types(&format!("note number {number}")).starts_with("Note kept:"));
    }
    let said = maren.types("one more");
    assert!(said.starts_with("Thursday 14 January has 20 notes, which is all I keep."), "{said}");
    assert_eq!(maren.notes("2027-01-14").len(), 20);
    // Deleting one makes room.
    maren.taps("Delete note");
    assert!(maren.types("one more").starts_with("Note kept:"));
}

#[test]
fn an_almost_tier_and_a_bare_number_are_not_taken_for_notes() {
    for typed in ["Smoth", "smooht", "8", "99", "ordinery"] {
        let mut maren = answered();
        let said = maren.types(typed);
        assert!(said.starts_with(&format!("I do not know the tier \"{typed}\".")), "{said}");
        assert_eq!(maren.notes("2027-01-14"), [""; 0], "{typed}");
    }
}

#[test]
fn notes_are_in_nothing_that_comes_of_itself() {
    let mut maren = asked();
    maren.types("zebra");
    maren.passes(30);
    assert!(maren.unasked.len() > 30);
    assert!(maren.unasked.iter().all(|came| !came.text.contains("zebra")));
}

fn asked() -> Talker {
    let mut maren = Talker::with_blanket("2027-01-14 12:00", "2027-01-01").without_nudges();
    maren.turn("2027-01-14 21:00");
    maren
}

fn answered() -> Talker {
    let mut maren = asked();
    maren.taps("Smooth");
    maren
}

#[test]
fn the_caution_comes_with_the_first_note_of_all_and_with_no_other() {
    for (tier, text) in [("Very rough", "all is lost"), ("Very smooth", "sun")] {
        let mut maren = asked();
        maren.types(tier);
        assert_eq!(
            maren.types(text),
            "Note kept: Thursday 14 January.\n\
             Bot chats are not end-to-end encrypted.\n\
             This is a program, not care. Nobody watches this chat.\n\
             If life or safety is at risk, call your local emergency number: 112 in the EU.\n\
             Otherwise, ask a doctor or another licensed professional."
        );
        assert_eq!(maren.types("all is lost"), "Note kept: Thursday 14 January.");
    }
}
