//! The next blanket before it begins: another first day, or taken back; and never once it has
//! begun.

use duskrow::blanket::{BlockNumber, Book, Change, TierId, YarnId};
use duskrow::chat::agenda;
use duskrow::chat::event::Due;
use duskrow::chat::talk::Step;
use proptest::prelude::*;
use proptest::sample::Index;

use super::talker::Talker;

fn day(text: &str) -> chrono::NaiveDate {
    text.parse().unwrap()
}

/// In December 2027, with a next blanket from New Year whose Kelp has a name of its own.
fn with_next() -> Talker {
    let mut maren =
        Talker::with_blanket("2027-12-20 20:00", "2027-01-01").without_nudges().answering("664");
    maren.does(&["/blankets", "[Next blanket]", "[Begin on Sat 1 Jan 2028]"]);
    maren.does(&["/blankets", "[Work on the blanket of 2028]"]);
    maren.does(&["/settings", "[Colours]", "[See or change a colour]", "[Kelp]"]);
    maren.does(&["[Another name]", "Eelgrass"]);
    maren.does(&["/yarn", "[Add a ball]", "[Eelgrass]", "50"]);
    maren.does(&["/blankets", "[Work on the blanket of 2027]"]);
    assert_eq!(maren.maker.talk.in_hand, None);
    maren
}

fn next(maren: &Talker) -> &Book {
    assert_eq!(maren.maker.others.len(), 1);
    &maren.maker.others[0]
}

#[test]
fn before_it_begins_the_list_offers_another_first_day_and_to_take_it_back() {
    let mut maren = with_next();
    maren.types("/blankets");
    assert_eq!(
        maren.labels(),
        ["Work on the blanket of 2028", "Move next blanket", "Delete next blanket", "Back"]
    );
    maren.turn("2028-01-01 22:00");
    maren.types("/blankets");
    assert_eq!(maren.labels(), ["Work on the blanket of 2028", "Back"]);
}

#[test]
fn another_first_day_moves_its_days_and_keeps_all_else() {
    let mut maren = with_next();
    let (book, before) = (maren.book().clone(), next(&maren).clone());
    let said = maren.does(&["/blankets", "[Move next blanket]"]);
    assert_eq!(
        said,
        "Which day is the first row of the next blanket?\nNow: Saturday 1 January 2028. Tap one, or type a day, like 14 Jan."
    );
    assert_eq!(maren.labels(), ["Begin on Tue 1 Feb 2028", "Back"]);
    let said = maren.types("2028-01-08");
    assert_eq!(
        said,
        "The next blanket would go from Saturday 8 January 2028 to Sunday 7 January 2029.\n\
         Nothing is changed yet."
    );
    assert_eq!(next(&maren), &before);
    let said = maren.taps("Begin on Sat 8 Jan 2028");
    assert_eq!(
        said,
        "The next blanket goes from Saturday 8 January 2028 to Sunday 7 January 2029.\n\
         All else of it is as it was."
    );
    assert_eq!(maren.step(), &Step::Idle);
    let mut expected = before;
    let (first_day, last_day) = (day("2028-01-08"), day("2029-01-07"));
    expected.apply(&Change::DaysMoved { first_day, last_day });
    assert_eq!((next(&maren), maren.book()), (&expected, &book));
    // The first question is the one of its first day, and then it is the one logged.
    maren.turn("2028-01-09 22:00");
    let asked: Vec<_> = maren.asked.iter().map(|(day, _)| *day).collect();
    assert!(!asked.contains(&day("2028-01-07")) && asked.contains(&first_day), "{asked:?}");
    assert_eq!(maren.book().plan().first_day(), first_day);
    assert_eq!(maren.book().yarn_name(YarnId(3)).unwrap().as_str(), "Eelgrass");
}

#[test]
fn the_blanket_in_hand_stays_in_hand_when_it_is_moved() {
    let mut maren = with_next();
    maren.does(&["/blankets", "[Work on the blanket of 2028]"]);
    maren.does(&["/blankets", "[Move next blanket]", "2028-03-01", "[Begin on Wed 1 Mar 2028]"]);
    assert_eq!(maren.maker.talk.in_hand, Some(day("2028-03-01")));
    assert_eq!(maren.maker.in_hand(), Some(next(&maren)));
    let before = next(&maren).plan().pieces();
    maren.does(&["/stitch", "[Blocks]", "[Rows of a block]", "40"]);
    assert_ne!(next(&maren).plan().pieces(), before);
}

#[test]
fn a_first_day_it_cannot_have_is_refused_and_changes_nothing() {
    let refused = [
        ("2027-12-31", "The next blanket cannot begin on Friday 31 December 2027. Nothing was"),
        ("2027-06-01", "The next blanket cannot begin on Tuesday 1 June 2027. Nothing was"),
        ("2035-01-01", "The next blanket cannot begin on Monday 1 January 2035. Nothing was"),
        ("31 Feb", "No calendar has the day \"31 Feb\". Nothing was changed."),
        ("soon", "I do not know the day \"soon\". Nothing was changed."),
        ("🧶", "I do not know the day \"🧶\". Nothing was changed."),
        ("-3", "I do not know the day \"-3\". Nothing was changed."),
    ];
    for (typed, said) in refused {
        let mut maren = with_next();
        maren.does(&["/blankets", "[Move next blanket]"]);
        let before = maren.maker.clone();
        let answer = maren.types(typed);
        assert!(answer.starts_with(said), "{typed}: {answer}");
        assert_eq!(maren.maker, before, "{typed}");
        // Another try works.
        maren.does(&["2028-01-08", "[Begin on Sat 8 Jan 2028]"]);
        assert_eq!(next(&maren).plan().first_day(), day("2028-01-08"), "{typed}");
    }
    for token in ["20270601", "20350101", "20271231", "99991231", "00010101"] {
        let mut maren = with_next();
        let before = maren.maker.clone();
        let answer = maren.taps_token(&format!("1|years|move|20280101|{token}"));
        assert!(answer.contains("cannot begin on"), "{answer}");
        assert_eq!(maren.maker, before, "{token}");
    }
}

#[test]
fn taken_back_it_is_gone_and_another_can_be_set_up() {
    let mut maren = with_next();
    let before = maren.maker.clone();
    let said = maren.does(&["/blankets", "[Delete next blanket]"]);
    assert_eq!(
        said,
        "This deletes the next blanket, from Saturday 1 January 2028 to Sunday 31 December 2028, \
         and all that was set in it.\n\
         It has no answer and no worked row. Your other blankets stay as they are.\n\
         It cannot be undone. A next blanket can be set up anew."
    );
    assert_eq!(maren.labels(), ["Delete the blanket of 2028", "Leave it as it is"]);
    assert_eq!(maren.maker.others, before.others);
    let said = maren.taps("Delete the blanket of 2028");
    assert_eq!(
        said,
        "Deleted. No blanket begins on Saturday 1 January 2028 now.\n\
         Nothing that was set in it is kept here."
    );
    assert_eq!(maren.maker.others, []);
    assert_eq!(maren.maker.book, before.book);
    // Nobody asks about a day after the last one.
    maren.turn("2028-01-03 22:00");
    assert!(maren.asked.iter().all(|(asked, _)| *asked <= day("2027-12-31")));
    let due = agenda(&maren.maker, maren.now).map(|(_, due)| due);
    assert!(!matches!(due, Some(Due::Question(_))), "{due:?}");
    maren.does(&["/blankets", "[Next blanket]", "[Begin on Mon 3 Jan 2028]"]);
    assert_eq!(maren.maker.others[0].yarn_name(YarnId(3)).unwrap().as_str(), "Kelp");
}

#[test]
fn left_as_it_is_nothing_is_taken_back() {
    for way_out in ["[Leave it as it is]", "/cancel", "/rows", "zebra", "yes"] {
        let mut maren = with_next();
        let before = maren.maker.others.clone();
        maren.does(&["/blankets", "[Delete next blanket]", way_out]);
        assert_eq!(maren.maker.others, before, "{way_out}");
    }
}

#[test]
fn taken_back_while_it_is_in_hand_the_one_logged_is_in_hand_and_its_lists_lose_their_buttons() {
    let mut maren = with_next();
    maren.does(&["/blankets", "[Work on the blanket of 2028]", "/yarn"]);
    let list = maren.messages.len() - 1;
    assert!(!maren.messages[list].keys.is_empty());
    maren.does(&["/blankets", "[Delete next blanket]", "[Delete the blanket of 2028]"]);
    assert_eq!(maren.maker.talk.in_hand, None);
    assert_eq!(maren.maker.in_hand(), Some(maren.book()));
    let list = &maren.messages[list];
    assert!(list.text.starts_with("Deleted. No blanket begins on Saturday 1 January 2028 now."));
    assert!(list.keys.iter().all(|(label, _)| label == "Blankets"));
    let said = maren.does(&["/rows", "[Worked]"]);
    assert!(said.contains("January"), "{said}");
    assert_eq!(maren.book().worked(BlockNumber(1)).len(), 3);
}

#[test]
fn repeated_taps_say_the_same_and_change_nothing_more() {
    for (acts, label) in [
        (&["/blankets", "[Delete next blanket]"][..], "Delete the blanket of 2028"),
        (&["/blankets", "[Move next blanket]", "2028-01-08"], "Begin on Sat 8 Jan 2028"),
    ] {
        let mut maren = with_next();
        maren.does(acts);
        let message = maren.messages.len() - 1;
        let keys = maren.messages[message].keys.clone();
        let tap = keys.into_iter().find(|(caption, _)| caption == label).unwrap().1;
        let said = maren.taps_button(tap.clone(), message);
        let before = maren.maker.clone();
        assert_eq!(maren.taps_button(tap, message), said, "{label}");
        assert_eq!(maren.maker, before, "{label}");
    }
}

#[test]
fn old_taps_after_it_has_begun_change_nothing() {
    for answered in [false, true] {
        for token in [
            "1|years|move|20280101",
            "1|years|move|20280101|20280301",
            "1|years|back|20280101",
            "1|years|delete|20280101",
        ] {
            let mut maren = with_next();
            maren.turn("2028-01-01 22:00");
            if answered {
                maren.types("Smooth");
            }
            let before = maren.maker.clone();
            let said = maren.taps_token(token);
            assert_eq!(
                said,
                "The blanket of 2028 cannot be moved or deleted now. Nothing was changed.\n\
                 It has begun, or it has answers, notes or worked rows."
            );
            assert_eq!((&maren.maker.book, &maren.maker.others), (&before.book, &before.others));
        }
    }
}

#[test]
fn a_day_that_is_typed_after_it_began_or_was_taken_back_moves_nothing() {
    let mut maren = with_next();
    maren.does(&["/blankets", "[Move next blanket]"]);
    maren.sets(|reminders| reminders.paused = true);
    let mut begun = maren.clone();
    begun.turn("2028-01-01 22:00");
    let before = (begun.maker.book.clone(), begun.maker.others.clone());
    let said = begun.types("2028-03-01");
    assert!(said.contains("cannot be moved or deleted now. Nothing was changed."), "{said}");
    assert_eq!(begun.step(), &Step::Idle);
    // It was logged from then on, as it is with any other act.
    assert_eq!(begun.maker.others.len(), before.1.len());
    maren.maker.apply(&Change::BlanketDeleted { first_day: day("2028-01-01") });
    let said = maren.types("2028-03-01");
    assert_eq!(said, "I do not have that blanket. Nothing was changed.");
}

#[test]
fn left_half_way_a_week_later_a_tier_answers_the_day() {
    for acts in [
        &["/blankets", "[Move next blanket]"][..],
        &["/blankets", "[Move next blanket]", "2028-01-08"],
        &["/blankets", "[Delete next blanket]"],
    ] {
        let mut maren = with_next();
        let before = maren.maker.others.clone();
        maren.does(acts);
        maren.turn("2027-12-27 21:30");
        let said = maren.types("Smooth");
        assert!(said.starts_with("Kept: Monday 27 December, Smooth."), "{acts:?}: {said}");
        assert_eq!(maren.maker.others, before, "{acts:?}");
        let mut maren = with_next();
        maren.does(acts);
        maren.types("/cancel");
        maren.types("Smooth");
        assert_eq!(maren.kept("2027-12-20").as_deref(), Some("Smooth"), "{acts:?}");
    }
}

#[test]
fn an_old_step_and_its_tokens_stay_readable() {
    let step = Step::MoveBlanket { first_day: day("2028-01-01") };
    let written = serde_json::to_string(&step).unwrap();
    assert_eq!(written, r#"{"MoveBlanket":{"first_day":"2028-01-01"}}"#);
    assert_eq!(serde_json::from_str::<Step>(&written).unwrap(), step);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(32))]

    /// Whatever is tapped and typed around it: no two blankets share a day, what has answers or
    /// worked rows stays, and what is in hand is there.
    #[test]
    fn blankets_never_share_days_and_none_that_has_begun_is_lost(
        deeds in prop::collection::vec((any::<Index>(), 0..6_u8, 0..20_i64), 1..25),
    ) {
        let mut maren = with_next();
        let typed = ["/blankets", "2028-01-08", "2028-02-01", "Smooth", "/rows", "2027-12-31"];
        for (which, kind, days) in deeds {
            if kind == 0 {
                maren.passes(days);
            }
            let kept = |maren: &Talker| -> Vec<(chrono::NaiveDate, TierId)> {
                let all = maren.maker.others.iter().chain(&maren.maker.book);
                let mut kept: Vec<_> = all
                    .flat_map(|book| book.answers().iter().map(|(day, it)| (*day, it.tier)))
                    .collect();
                kept.sort_unstable();
                kept
            };
            let before = kept(&maren);
            let last = maren.messages.len() - 1;
            let keys: Vec<_> = maren.messages[last].keys.clone();
            let of_blankets = keys.iter().filter(|(_, button)| {
                matches!(button, duskrow::chat::button::Button::OfBlankets(_))
            });
            let of_blankets: Vec<_> = of_blankets.cloned().collect();
            if kind < 2 || of_blankets.is_empty() {
                maren.types(typed[which.index(typed.len())]);
            } else {
                maren.taps_button(of_blankets[which.index(of_blankets.len())].1.clone(), last);
                prop_assert_eq!(kept(&maren), before);
            }
            let all: Vec<&Book> = maren.maker.others.iter().chain(&maren.maker.book).collect();
            for (index, one) in all.iter().enumerate() {
                let shares = |other: &&Book| one.plan().shares_days_with(other.plan());
                prop_assert!(!all[index + 1..].iter().any(shares));
            }
            let first_days = maren.maker.others.iter().map(|book| book.plan().first_day());
            prop_assert!(first_days.is_sorted());
            let known = |day| maren.maker.others.iter().any(|it| it.plan().first_day() == day);
            let in_hand = maren.maker.talk.in_hand;
            prop_assert!(in_hand.is_none_or(known), "{:?}", in_hand);
        }
    }
}
