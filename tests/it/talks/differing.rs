//! An answer that was changed after its row was worked: shown, left, or pulled back.

use duskrow::blanket::{BlockNumber, Change, Fabric, Finish};

use super::talker::Talker;

#[test]
fn a_changed_answer_shows_what_the_row_is_and_changes_no_row() {
    let maren = changed();
    assert_eq!(
        maren.messages.last().unwrap().text,
        "Kept: Thursday 14 January, Smooth.\nRow 14 is worked in Shingle. Smooth is Brick."
    );
    assert_eq!(
        maren.labels(),
        ["Change", "Note", "For now", "Leave row 14 as it is", "Pull back 9 rows: 14 to 22"]
    );
    assert_eq!(worked(&maren), 22);
    // The list goes on above it.
    assert!(maren.clone().types("/rows").contains("Next: row 23 of 33."));
}

#[test]
fn left_as_it_is_nothing_changes() {
    let mut maren = changed();
    let before = maren.maker.book.clone();
    let said = maren.taps("Leave row 14 as it is");
    assert_eq!(
        said,
        "Row 14 stays as it is worked, in Shingle.\nThursday 14 January stays Smooth."
    );
    assert_eq!(maren.maker.book, before);
    assert_eq!(maren.labels(), ["Change"]);
    // It is there whenever the day is looked at.
    assert!(
        maren.types("/today 14 Jan").ends_with("Row 14 is worked in Shingle. Smooth is Brick.")
    );
}

#[test]
fn pulled_back_the_rows_are_to_be_worked_and_their_yarn_is_on_hand() {
    let mut maren = changed();
    // 22 rows of Shingle: two weighings tell 1 g a row.
    maren.does(&["Shingle 100", "worked 30", "Shingle 92", "/today 14 Jan"]);
    let before = maren.types("/yarn");
    assert!(before.contains("Shingle: 92 g,"), "{before}");
    let label = "Pull back 17 rows: 14 to 30";
    let said = maren.does(&["/today 14 Jan", &format!("[{label}]")]);
    assert_eq!(
        said,
        "Rows 14 to 30 of January are pulled back: 17 rows.\n\
         Rows 1 to 13 of January are worked.\n\
         The yarn of what was pulled back counts as on hand."
    );
    assert_eq!(worked(&maren), 13);
    assert!(maren.types("/yarn").contains("Shingle: 109 g,"));
    let said = maren.types("/rows 2");
    assert!(said.contains("\n14 WS Thu 14 Brick, change\n15 RS Fri 15 Shingle, change\n"));
}

#[test]
fn a_repeated_or_an_old_tap_pulls_nothing_off() {
    let mut maren = changed();
    let message = maren.messages.len() - 1;
    let keys = maren.messages[message].keys.clone();
    let pull = keys.into_iter().find(|(label, _)| label.starts_with("Pull")).unwrap().1;
    // The day has its old tier once more: the row does not differ.
    let mut settled = maren.clone();
    settled.does(&["/today 14 Jan", "[Change]", "[Ordinary]"]);
    let before = settled.maker.clone();
    let said = settled.taps_button(pull.clone(), message);
    assert!(said.contains("Nothing was changed."), "{said}");
    assert_eq!(settled.maker, before);
    // More rows were worked since.
    let mut later = maren.clone();
    later.types("worked 23");
    let before = later.maker.clone();
    assert!(later.taps_button(pull.clone(), message).contains("Nothing was changed."));
    assert_eq!(later.maker, before);
    // Delivered twice.
    let said = maren.taps_button(pull.clone(), message);
    let before = maren.maker.clone();
    assert_eq!(maren.taps_button(pull, message), said);
    assert_eq!(maren.maker, before);
}

#[test]
fn forged_taps_pull_nothing_off() {
    for token in [
        "1|pull|1|0|22",
        "1|pull|1|22|22",
        "1|pull|1|13|21",
        "1|pull|1|32|33",
        "1|pull|2|0|0",
        "1|pull|99|0|1",
        "1|pull|1|65535|65535",
        "1|leaverow|20270115",
        "1|leaverow|20300101",
    ] {
        let mut maren = changed();
        let before = maren.maker.book.clone();
        maren.taps_token(token);
        assert_eq!(maren.maker.book, before, "{token}");
    }
}

#[test]
fn a_block_whose_ends_are_woven_in_is_not_pulled_back_by_a_tap() {
    let mut maren = changed();
    maren.types("worked 33");
    let finish = Finish::Woven;
    let woven = Change::Finished { block: BlockNumber(1), finish, done: true };
    maren.maker.book.as_mut().unwrap().apply(&woven);
    maren.types("/today 14 Jan");
    assert_eq!(maren.labels(), ["Change", "Note", "For now", "Leave row 14 as it is"]);
    let before = maren.maker.book.clone();
    maren.taps_token("1|pull|1|13|33");
    // Nor does Back of a card lead into it.
    maren.taps_token("1|card|back|1|33");
    assert_eq!(maren.maker.book, before);
}

fn worked(maren: &Talker) -> usize {
    maren.book().worked(BlockNumber(1)).len()
}

/// 31 days of Shingle, 22 rows worked, and then the 14th is Smooth: Brick.
fn changed() -> Talker {
    let mut maren =
        Talker::working_in("2027-02-01 03:00", Fabric::DEFAULT).answering(&"4".repeat(31));
    maren.does(&["worked 22", "/today 14 Jan", "[Change]", "[Smooth]"]);
    maren
}
