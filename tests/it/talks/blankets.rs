//! Several blankets over the years: the next one begins, the older one is worked on.

use duskrow::blanket::{BlockNumber, Change, TierId};
use duskrow::chat::agenda;
use duskrow::chat::button::Button;
use duskrow::chat::outcome::Slot;

use super::talker::Talker;

fn day(text: &str) -> chrono::NaiveDate {
    text.parse().unwrap()
}

/// In December 2027, with the first days of the year answered and a next blanket from New Year.
fn with_next() -> Talker {
    let mut maren = december();
    maren.does(&["/blankets", "[Next blanket]", "[Begin on Sat 1 Jan 2028]"]);
    assert_eq!(maren.maker.others.len(), 1);
    maren
}

fn december() -> Talker {
    Talker::with_blanket("2027-12-20 20:00", "2027-01-01").without_nudges().answering("664")
}

/// In January 2028, after the first question of the next blanket.
fn next_year() -> Talker {
    let mut maren = with_next();
    maren.turn("2028-01-01 22:00");
    maren
}

#[test]
fn a_next_blanket_begins_on_no_day_that_cannot_be() {
    let refused = [
        ("2027-12-31", "The next blanket cannot begin on Friday 31 December 2027. Nothing was"),
        ("2027-06-01", "The next blanket cannot begin on Tuesday 1 June 2027. Nothing was"),
        ("2020-01-01", "The next blanket cannot begin on Wednesday 1 January 2020. Nothing was"),
        ("2035-01-01", "The next blanket cannot begin on Monday 1 January 2035. Nothing was"),
        ("31 Feb", "No calendar has the day \"31 Feb\". Nothing was changed."),
        ("soon", "I do not know the day \"soon\". Nothing was changed."),
    ];
    for (typed, said) in refused {
        let mut maren = december();
        maren.does(&["/blankets", "[Next blanket]"]);
        let before = maren.maker.clone();
        let answer = maren.types(typed);
        assert!(answer.starts_with(said), "{typed}: {answer}");
        assert_eq!(maren.maker, before, "{typed}");
    }
}

#[test]
fn forged_and_repeated_taps_begin_nothing_twice() {
    for token in ["1|years|begin|20270601", "1|years|begin|20350101", "1|years|begin|20271231"] {
        let mut maren = december();
        let answer = maren.taps_token(token);
        assert!(answer.contains("cannot begin on"), "{answer}");
        assert!(maren.maker.others.is_empty(), "{token}");
    }
    let mut maren = with_next();
    let before = maren.maker.clone();
    let said = maren.taps_token("1|years|begin|20280101");
    assert!(said.starts_with("The next blanket goes from Saturday 1 January 2028 to"), "{said}");
    assert_eq!(maren.maker, before);
    let said = maren.taps_token("1|years|begin|20280201");
    assert!(said.contains("There is one that begins on Saturday 1 January 2028."), "{said}");
    let said = maren.taps_token("1|years|take|20300101");
    assert_eq!(said, "I do not have that blanket. Nothing was changed.");
    assert_eq!(maren.maker, before);
}

#[test]
fn a_next_blanket_is_not_set_up_in_the_middle_of_one() {
    let mut maren = Talker::with_blanket("2027-06-01 20:00", "2027-01-01");
    let said = maren.types("/blankets");
    assert_eq!(
        said,
        "The blanket of 2027: Friday 1 January 2027 to Friday 31 December 2027. I ask about its \
         days, and you work on it.\nThe next blanket can be set up from Monday 1 November 2027 on."
    );
    let said = maren.taps_token("1|years|next");
    assert!(said.starts_with("The next blanket cannot be set up now. Nothing was"), "{said}");
}

#[test]
fn a_typed_day_is_shown_back_before_anything_begins() {
    let mut maren = december();
    maren.does(&["/blankets", "[Next blanket]"]);
    let said = maren.types("2028-01-08");
    assert_eq!(
        said,
        "The next blanket would go from Saturday 8 January 2028 to Sunday 7 January 2029.\n\
         Nothing is changed yet."
    );
    assert!(maren.maker.others.is_empty());
    maren.taps("Begin on Sat 8 Jan 2028");
    let next = &maren.maker.others[0];
    assert_eq!(next.plan().first_day(), day("2028-01-08"));
    assert_eq!(next.plan().last_day(), day("2029-01-07"));
}

#[test]
fn the_next_blanket_is_like_this_one_but_for_days_rows_and_yarn_on_hand() {
    let mut maren = december();
    maren.does(&["/yarn", "[Add a ball]", "[Shingle]", "50"]);
    maren.does(&["/blankets", "[Next blanket]", "[Begin on Sat 1 Jan 2028]"]);
    let (book, next) = (maren.book(), &maren.maker.others[0]);
    assert_eq!(next.scale().tiers(), book.scale().tiers());
    assert_eq!((next.hours(), next.reminders()), (book.hours(), book.reminders()));
    assert_eq!((next.fabric(), next.yarns()), (book.fabric(), book.yarns()));
    assert_eq!(next.plan().pieces(), book.plan().pieces());
    assert!(next.answers().is_empty());
    assert_eq!(next.all_worked().count(), 0);
    let shingle = book.yarns().iter().find(|yarn| yarn.name.as_str() == "Shingle").unwrap();
    assert_ne!(book.ledger(shingle.id), next.ledger(shingle.id));
}

#[test]
fn the_first_question_of_the_next_blanket_keeps_its_distance_from_the_last_one() {
    let mut maren = with_next();
    maren.does(&["/settings", "[Hour of the question]", "23:30"]);
    maren.turn("2028-01-01 00:10");
    let (last, asked_at) = *maren.asked.last().unwrap();
    assert_eq!(last, day("2027-12-31"));
    maren.does(&["/settings", "[Hour of the question]", "07:00"]);
    maren.turn("2028-01-01 20:00");
    let (first, next_at) = *maren.asked.last().unwrap();
    assert_eq!(first, day("2028-01-01"));
    assert!(next_at - asked_at >= chrono::TimeDelta::hours(12), "{asked_at} {next_at}");
}

#[test]
fn a_button_from_before_another_blanket_was_taken_up_changes_nothing_of_that_one() {
    let mut maren = with_next();
    // Each of the two has one ball of Shingle.
    maren.does(&["/yarn", "[Add a ball]", "[Shingle]", "50"]);
    let message = maren.messages.len() - 1;
    let keys = maren.messages[message].keys.clone();
    let undo = keys.into_iter().find(|(caption, _)| caption == "Undo").unwrap().1;
    maren.does(&["/blankets", "[Work on the blanket of 2028]"]);
    maren.does(&["/yarn", "[Add a ball]", "[Shingle]", "50"]);
    let before = maren.maker.clone();
    let said = maren.taps_button(undo, message);
    assert_eq!(said, "That button is from an earlier step. Nothing was changed.");
    assert_eq!(maren.maker, before);
    // What only shows is shown, in a message of its own, whose buttons work.
    let (count, old) = (maren.messages.len(), maren.messages[message].text.clone());
    let said = maren.taps_button(Button::Rows, message);
    assert!(said.starts_with("January, block 1 of 12."), "{said}");
    assert_eq!((maren.messages.len(), &maren.messages[message].text), (count + 1, &old));
    // Its own is taken back.
    maren.taps("Undo");
    assert_ne!(maren.maker.others, before.others);
}

#[test]
fn the_questions_go_on_into_the_next_blanket() {
    let mut maren = with_next();
    maren.turn("2028-01-02 22:00");
    let asked: Vec<_> = maren.asked.iter().map(|(day, _)| *day).collect();
    let days = day("2027-12-20").iter_days().take_while(|it| *it <= day("2028-01-02"));
    assert_eq!(asked, days.collect::<Vec<_>>());
    assert_eq!(maren.book().plan().first_day(), day("2028-01-01"));
    let said = maren.types("Smooth");
    assert!(said.starts_with("Kept: Sunday 2 January, Smooth."), "{said}");
    assert!(maren.book().answer(day("2028-01-02")).is_some());
}

#[test]
fn the_older_blanket_is_worked_on_while_the_next_one_is_asked_about() {
    let mut maren = next_year();
    let said = maren.types("/rows");
    assert!(said.starts_with("This is about the blanket of 2027.\n"), "{said}");
    maren.taps("Worked");
    let old = &maren.maker.others[0];
    assert_eq!(old.worked(BlockNumber(1)).len(), 3);
    assert_eq!(maren.book().all_worked().count(), 0);
    // The open question is about the day that is on all the same.
    assert!(maren.types("Smooth").starts_with("Kept: Saturday 1 January, Smooth."));
}

#[test]
fn the_maker_says_which_blanket_is_worked_on() {
    let mut maren = next_year();
    maren.types("Rough");
    let said = maren.does(&["/blankets", "[Work on the blanket of 2028]"]);
    assert!(said.starts_with("You work on the blanket of 2028 now."), "{said}");
    assert_eq!(maren.maker.talk.in_hand, None);
    let said = maren.types("/rows");
    assert!(said.starts_with("January, block 1 of 12. Next: row 1"), "{said}");
    maren.taps("Worked");
    assert_eq!(maren.book().worked(BlockNumber(1)).len(), 1);
    let said = maren.does(&["/blankets", "[Work on the blanket of 2027]"]);
    assert!(said.contains("My questions are about each new day, as before."), "{said}");
    assert_eq!(maren.maker.talk.in_hand, Some(day("2027-01-01")));
}

#[test]
fn a_day_of_the_older_blanket_is_kept_there() {
    let mut maren = next_year();
    let said = maren.types("2027-12-30 Rough");
    assert!(said.contains("Kept: Thursday 30 December, Rough."), "{said}");
    assert_eq!(maren.maker.others[0].answer(day("2027-12-30")).map(|it| it.tier), Some(TierId(2)));
    assert!(maren.book().answers().is_empty());
    // The button under an old question too.
    maren.taps_token("1|tier|20271229|2");
    assert!(maren.maker.others[0].answer(day("2027-12-29")).is_some());
    // A note in reply to it as well.
    maren.replies("2027-12-29", "dentist");
    assert_eq!(maren.maker.others[0].notes(day("2027-12-29")).len(), 1);
    maren.edits("dentist, late");
    assert_eq!(maren.maker.others[0].notes(day("2027-12-29"))[0].text.as_str(), "dentist, late");
}

#[test]
fn open_days_and_nudges_are_of_the_blanket_that_is_logged() {
    let mut maren = next_year().with_nudges();
    maren.types("Smooth");
    assert_eq!(maren.types("/open"), "No day before today is open.");
    maren.turn("2028-01-02 20:00");
    assert!(maren.unasked.iter().all(|it| it.about != Some(day("2027-01-04"))));
}

#[test]
fn hours_and_pauses_hold_for_all_blankets() {
    let mut maren = with_next();
    maren.does(&["/settings", "[Hour of the question]", "22:15"]);
    assert_eq!(maren.maker.others[0].hours(), maren.book().hours());
    maren.types("/pause");
    assert!(maren.maker.others[0].reminders().paused && maren.book().reminders().paused);
    assert_eq!(agenda(&maren.maker, maren.now), None);
    maren.types("/resume");
    let mut maren = {
        maren.turn("2028-01-01 23:00");
        maren
    };
    maren.does(&["/settings", "[Hour of the question]", "20:30"]);
    assert_eq!(maren.maker.others[0].hours(), maren.book().hours());
}

#[test]
fn what_could_be_undone_in_one_blanket_is_not_undone_in_another() {
    let mut maren = next_year();
    maren.does(&["/settings", "[Colours]", "[See or change a colour]", "[Kelp]", "#112233"]);
    let undo = maren.messages.iter().rev().find_map(|it| {
        it.keys.iter().find(|(caption, _)| caption == "Undo").map(|(_, button)| button.token())
    });
    maren.does(&["/blankets", "[Work on the blanket of 2028]"]);
    let before = maren.maker.clone();
    maren.taps_token(&undo.unwrap());
    assert_eq!((maren.maker.book, maren.maker.others), (before.book, before.others));
}

#[test]
fn a_blanket_that_is_over_leads_to_the_next_one() {
    let mut maren = Talker::with_blanket("2028-03-01 20:00", "2027-01-01").without_nudges();
    let said = maren.types("/today");
    assert!(said.contains("tap Next blanket"), "{said}");
    maren.does(&["[Next blanket]", "[Begin on Wed 1 Mar 2028]"]);
    maren.turn("2028-03-01 22:00");
    assert_eq!(maren.asked.last().map(|(day, _)| *day), Some(day("2028-03-01")));
    let mut book = maren.book().clone();
    book.apply(&Change::Logged { first_day: day("2027-01-01") });
    assert_eq!(&book, maren.book());
}

#[test]
fn a_next_blanket_that_is_left_half_way_begins_nothing() {
    for acts in
        [&["/blankets", "[Next blanket]"][..], &["/blankets", "[Next blanket]", "2028-01-08"]]
    {
        let mut maren = december();
        maren.does(acts);
        maren.turn("2027-12-27 21:30");
        let said = maren.types("Smooth");
        assert!(said.starts_with("Kept: Monday 27 December, Smooth."), "{acts:?}: {said}");
        assert!(maren.maker.others.is_empty());
        // A command leaves it too.
        let mut maren = december();
        maren.does(acts);
        maren.types("/rows");
        assert!(maren.types("2028-01-20").contains("is not in this blanket"), "{acts:?}");
    }
}

#[test]
fn a_list_of_rows_of_another_blanket_has_no_buttons_any_more() {
    let mut maren = next_year();
    maren.types("Smooth");
    maren.types("/rows");
    let old = maren.messages.iter().rposition(|it| it.slot == Some(Slot::Rows)).unwrap();
    assert!(maren.messages[old].keys.iter().any(|(caption, _)| caption == "Worked"));
    maren.does(&["/blankets", "[Work on the blanket of 2028]"]);
    assert!(maren.messages[old].keys.is_empty());
    assert!(maren.messages[old].text.starts_with("You work on the blanket of 2028 now."));
}
