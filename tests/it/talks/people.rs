//! The maker's own people and numbers: kept in the settings, shown in help, never brought up.

use super::talker::Talker;

const IDA: &str = "Ida next door, 555 0134";

#[test]
fn a_line_is_added_shown_in_help_removed_and_put_back() {
    let mut maren = maker();
    assert!(maren.types("/help").ends_with("of your own here: /settings"));
    assert_eq!(
        open(&mut maren),
        "No people and numbers of yours are kept yet.\n/help shows them. I keep at most 5 lines."
    );
    assert_eq!(maren.labels(), ["Add a line", "Back"]);
    assert_eq!(
        add(&mut maren, IDA),
        "Kept: \"Ida next door, 555 0134\".\nYour people and numbers:\n\
         1. Ida next door, 555 0134\n/help shows them. I keep at most 5 lines."
    );
    add(&mut maren, "Dr. Moss, 555 0190");
    let both = "Your people and numbers:\n1. Ida next door, 555 0134\n2. Dr. Moss, 555 0190";
    assert!(maren.types("/help").ends_with(both));
    open(&mut maren);
    let said = maren.taps("Remove 1");
    assert!(said.starts_with("Removed: \"Ida next door, 555 0134\"."), "{said}");
    assert!(!maren.types("/help").contains("Ida"));
    // The line stands where it stood, and a second tap changes nothing.
    maren.taps("Undo");
    assert!(maren.types("/help").ends_with(both));
}

#[test]
fn an_added_line_can_be_taken_back_and_set_again() {
    let mut maren = maker();
    let before = maren.book().clone();
    open(&mut maren);
    add(&mut maren, IDA);
    let undo = maren.messages.len() - 1;
    let button = maren.messages[undo].keys[0].1.clone();
    assert!(maren.taps("Undo").starts_with("Removed: "));
    assert_eq!(*maren.book(), before);
    assert!(maren.taps_button(button, undo).starts_with("Removed: "));
    assert_eq!(*maren.book(), before);
    assert!(maren.taps("Undo").starts_with("Kept: "));
    assert_eq!(maren.book().people().len(), 1);
}

#[test]
fn a_line_that_cannot_be_kept_changes_nothing_and_can_be_typed_anew() {
    let cases = [
        ("x".repeat(121), "One line has at most 120 characters. Nothing was changed."),
        ("x".repeat(10_240), "One line has at most 120 characters. Nothing was changed."),
        ("\u{202E}\u{7}".to_owned(), "I see no text in this line. Nothing was changed."),
    ];
    for (typed, sentence) in cases {
        let mut maren = maker();
        open(&mut maren);
        maren.taps("Add a line");
        let before = maren.book().clone();
        assert_eq!(maren.types(&typed), sentence);
        assert_eq!(*maren.book(), before);
        assert!(maren.types(IDA).starts_with("Kept: "));
    }
}

#[test]
fn markup_and_turned_text_are_shown_as_they_are() {
    let mut maren = maker();
    open(&mut maren);
    add(&mut maren, "<b>Ida</b> *555*\n_0134_ 🧶");
    assert!(maren.types("/help").ends_with("1. <b>Ida</b> *555* _0134_ 🧶"));
}

#[test]
fn a_tier_or_a_date_typed_where_a_line_is_asked_for_is_that_line() {
    for typed in ["Smooth", "14 Jan Smooth", "6", "ERASE"] {
        let mut maren = maker();
        open(&mut maren);
        maren.taps("Add a line");
        assert!(maren.types(typed).starts_with(&format!("Kept: \"{typed}\".")), "{typed}");
        assert!(maren.book().answers().is_empty() && !maren.erased, "{typed}");
    }
}

#[test]
fn five_lines_are_all_and_an_old_button_adds_no_sixth() {
    let mut maren = maker();
    open(&mut maren);
    let add_button = maren.messages.last().unwrap().keys[0].1.clone();
    for number in 1..=5 {
        add(&mut maren, &format!("Person {number}"));
    }
    assert!(!maren.labels().contains(&"Add a line"));
    let said = maren.taps_button(add_button, maren.messages.len() - 1);
    assert!(said.starts_with("There are 5 lines, which is all I keep.\n"), "{said}");
    assert_eq!(maren.book().people().len(), 5);
    // A removed line has no place any more once another took it.
    maren.taps("Remove 1");
    let message = maren.messages.len() - 1;
    let undo = maren.messages[message].keys[0].1.clone();
    add(&mut maren, "Person 6");
    assert!(maren.taps_button(undo, message).starts_with("There are 5 lines"));
    assert_eq!(maren.book().people().len(), 5);
}

#[test]
fn they_are_the_makers_whichever_blanket_is_logged() {
    let mut maren = Talker::with_blanket("2027-12-20 20:00", "2027-01-01").without_nudges();
    maren.does(&["/settings", "[People and numbers]"]);
    add(&mut maren, IDA);
    maren.does(&["/blankets", "[Next blanket]", "[Begin on Sat 1 Jan 2028]"]);
    open(&mut maren);
    maren.taps("Remove 1");
    add(&mut maren, "Nadia, 555 0199");
    let people = maren.book().people().clone();
    assert_eq!(maren.maker.others[0].people(), &people);
    maren.turn("2028-01-02 22:00");
    assert_eq!(maren.book().plan().first_day(), "2028-01-01".parse().unwrap());
    assert_eq!(maren.book().people(), &people);
    let help = maren.types("/help");
    assert!(help.contains("Nadia") && !help.contains("Ida"), "{help}");
    // A line that is added now is in the blanket before too.
    open(&mut maren);
    add(&mut maren, "Tomas, 555 0111");
    assert_eq!(maren.maker.others[0].people(), maren.book().people());
}

#[test]
fn no_answer_and_no_note_brings_them_up() {
    let mut maren = maker();
    open(&mut maren);
    add(&mut maren, IDA);
    let seen = maren.messages.len();
    maren.does(&["/today", "[Very rough]", "all is lost", "/rows", "/recap"]);
    let later = &maren.messages[seen..];
    assert!(later.len() > 3 && later.iter().all(|message| !message.text.contains("555 0134")));
}

fn maker() -> Talker {
    Talker::with_blanket("2027-01-14 12:00", "2027-01-01").without_nudges()
}

fn open(maren: &mut Talker) -> String {
    maren.types("/settings");
    maren.taps("People and numbers")
}

fn add(maren: &mut Talker, line: &str) -> String {
    maren.taps("Add a line");
    maren.types(line)
}
