//! `/recap` and the weekly recap: seven days, how each was kept, and how the work stands.

use chrono::Weekday;
use duskrow::chat::enclosed::{Drawn, Enclosed};

use super::talker::Talker;

const READY: &str = "Your week is ready.\nTo change or stop this message, type /settings.";

#[test]
fn seven_days_say_what_each_has_and_the_work_what_is_ready() {
    let mut maren = week();
    assert_eq!(
        maren.types("/recap"),
        "Sunday 10 January to Saturday 16 January.\n\
         Sun 10 Jan: Ordinary.\n\
         Mon 11 Jan: Smooth.\n\
         Tue 12 Jan: open.\n\
         Wed 13 Jan: Ordinary (set).\n\
         Thu 14 Jan: Rough (for now).\n\
         Fri 15 Jan: Ordinary.\n\
         Sat 16 Jan: Ordinary.\n\
         Rows worked in these days: none.\n\
         Rows of January ready to work now: 11. /rows lists them."
    );
    maren.does(&["/rows 11", "[Worked]"]);
    // Worked on the 17th: that is no day of this recap.
    let said = maren.types("/recap");
    assert!(
        said.ends_with(
            "Rows worked in these days: none.\nRows of January ready to work now: none."
        ),
        "{said}"
    );
    maren.turn("2027-01-18 12:00");
    assert!(maren.types("/recap").contains("Rows worked in these days: 11."));
}

#[test]
fn the_weekly_message_tells_nothing_and_show_tells_all() {
    let mut maren = week();
    assert_eq!(maren.turn("2027-01-17 18:00"), READY);
    let came = maren.unasked.last().unwrap();
    assert!(came.reply.silent && came.reply.unasked);
    assert_eq!(maren.labels(), ["Show"]);
    let message = maren.messages.len();
    let said = maren.taps("Show");
    assert!(said.starts_with("Sunday 10 January to Saturday 16 January."), "{said}");
    // In place of the message.
    assert_eq!(maren.messages.len(), message);
}

#[test]
fn no_recap_brings_a_picture_of_itself_and_each_has_a_button_for_it() {
    let mut maren = week();
    maren.does(&["/settings", "[Weekly recap]", "[Send all of it at once]"]);
    maren.turn("2027-01-17 18:00");
    let came = maren.unasked.last().unwrap();
    assert_eq!(came.reply.enclosed, None);
    assert_eq!(maren.labels(), ["Picture", "The year"]);
    let drawn = |drawn| Some(Enclosed::Drawn(drawn));
    let on = maren.book().hours().day_at(maren.now);
    maren.taps("Picture");
    assert_eq!(maren.brought(), drawn(Drawn::Week { on }));
    maren.does(&["/recap", "[The year]"]);
    assert_eq!(maren.brought(), drawn(Drawn::Year));
    // A week without a day of the blanket has nothing to draw: the words say so.
    let mut early = Talker::with_blanket("2027-01-10 05:00", "2027-01-10");
    early.types("/recap");
    assert_eq!(early.labels(), ["The year"]);
    let said = early.taps_token("1|draw|week|20990101");
    assert!(said.contains("None of these days is in the blanket."), "{said}");
}

#[test]
fn show_works_a_week_later_for_the_week_it_was_about() {
    let mut maren = week();
    maren.turn("2027-01-17 18:00");
    let message = maren.messages.len() - 1;
    let show = maren.messages[message].keys[0].1.clone();
    maren.turn("2027-01-25 12:00");
    let said = maren.taps_button(show, message);
    assert!(said.starts_with("Sunday 10 January to Saturday 16 January."), "{said}");
    // One for a day to come shows the week before today.
    let said = maren.taps_token("1|recap|20990101");
    assert!(said.starts_with("Monday 18 January to Sunday 24 January."), "{said}");
}

#[test]
fn all_of_it_comes_at_once_only_where_that_was_asked_for() {
    let mut maren = week();
    maren.does(&["/settings", "[Weekly recap]", "[Send all of it at once]"]);
    let said = maren.turn("2027-01-17 18:00");
    assert!(said.starts_with("Sunday 10 January to Saturday 16 January."), "{said}");
    assert!(said.contains("Mon 11 Jan: Smooth."), "{said}");
    maren.does(&["/settings", "[Weekly recap]", "[Send one line first]"]);
    maren.turn("2027-01-24 17:59");
    assert_eq!(maren.turn("2027-01-24 18:00"), READY);
}

#[test]
fn it_comes_once_a_week_on_its_day_and_not_at_all_if_unwanted() {
    let mut maren = week();
    maren.turn("2027-02-15 12:00");
    let recaps = recaps(&maren);
    assert_eq!(
        recaps,
        [
            "Sun 17 Jan 18:00",
            "Sun 24 Jan 18:00",
            "Sun 31 Jan 18:00",
            "Sun 07 Feb 18:00",
            "Sun 14 Feb 18:00"
        ]
    );
    maren.does(&["/settings", "[Weekly recap]", "[No weekly recap]"]);
    maren.turn("2027-03-15 12:00");
    assert_eq!(self::recaps(&maren).len(), 5);
}

#[test]
fn on_another_day_after_the_setting_changed() {
    let mut maren = week();
    maren.does(&["/settings", "[Weekly recap]", "[Wednesday]"]);
    maren.turn("2027-01-28 12:00");
    assert_eq!(recaps(&maren), ["Wed 20 Jan 18:00", "Wed 27 Jan 18:00"]);
}

#[test]
fn a_recap_is_late_only_while_its_day_is_on() {
    for (back, count) in [("2027-01-18 03:59", 1), ("2027-01-18 04:00", 0)] {
        let mut maren = week();
        let zone = maren.book().hours().zone;
        maren.now = duskrow::blanket::calendar::instant(zone, super::talker::time(back));
        maren.turn("2027-01-18 12:00");
        assert_eq!(recaps(&maren).len(), count, "{back}");
    }
}

#[test]
fn no_recap_is_about_days_without_the_blanket() {
    // It begins on a Sunday: the first recap is a week later.
    let mut maren = Talker::with_blanket("2027-01-10 05:00", "2027-01-10").without_nudges();
    maren.turn("2027-01-18 12:00");
    assert_eq!(recaps(&maren), ["Sun 17 Jan 18:00"]);
    let said = Talker::with_blanket("2027-01-10 05:00", "2027-01-10").types("/recap");
    assert!(said.contains("None of these days is in the blanket."), "{said}");
    // The year is over: the last one tells of its last days.
    let mut maren = Talker::with_blanket("2027-12-20 05:00", "2027-01-01").without_nudges();
    maren.turn("2028-03-01 12:00");
    assert_eq!(recaps(&maren), ["Sun 26 Dec 18:00", "Sun 02 Jan 18:00"]);
}

#[test]
fn a_lowest_and_a_highest_week_get_the_same_sentences() {
    let said = ["Very rough", "Very smooth"].map(|tier| {
        let mut maren = Talker::with_blanket("2027-01-16 12:00", "2027-01-09").without_nudges();
        for day in 9..=15 {
            maren.types(&format!("{day} Jan {tier}"));
        }
        maren.types("/recap").replace(tier, "TIER")
    });
    assert_eq!(said[0], said[1]);
}

fn recaps(maren: &Talker) -> Vec<String> {
    let came = maren.came_since("2027-01-01 00:00").into_iter();
    came.filter(|(_, said)| *said == "Your week is ready.").map(|(at, _)| at).collect()
}

/// Sunday 17 January at noon, the recap's day.
fn week() -> Talker {
    let mut maren = Talker::with_blanket("2027-01-17 12:00", "2027-01-01").without_nudges();
    maren.sets(|reminders| reminders.recap_on = Some(Weekday::Sun));
    maren.does(&["1 Jan: 4444 4444 446", "[Keep these 11 days]"]);
    maren.does(&["14 Jan Rough", "[For now]", "15 Jan 4", "16 Jan 4"]);
    maren.taps_token("1|assume|20270113");
    maren
}
