//! *What do these mean?*: the maker's own words about the tiers, under the question and on a tap.

use super::talker::Talker;

const BUTTON: &str = "What do these mean?";
const TIERS: [&str; 7] =
    ["Very rough", "Rough", "A bit rough", "Ordinary", "A bit smooth", "Smooth", "Very smooth"];

#[test]
fn without_words_of_the_maker_there_is_no_button() {
    let mut maren = Talker::with_blanket("2027-01-14 12:00", "2027-01-01").with_nudges();
    maren.turn("2027-01-14 21:00");
    assert!(!maren.labels().contains(&BUTTON), "{:?}", maren.labels());
    maren.turn("2027-01-15 10:00");
    maren.does(&["/open"]);
    for message in &maren.messages {
        assert!(message.keys.iter().all(|(label, _)| label != BUTTON), "{}", message.text);
    }
}

#[test]
fn the_question_waits_for_the_tap_and_then_lists_every_tier() {
    let mut maren = described();
    let asked = maren.turn("2027-01-14 21:00");
    assert_eq!(asked, "Thursday 14 January\nWhich fits the day?");
    let below = [BUTTON, "Not sure?", "Later", "Skip"];
    assert_eq!(maren.labels(), [&TIERS[..], &below].concat());
    let messages = maren.messages.len();
    let before = maren.book().clone();
    let said = maren.taps(BUTTON);
    assert_eq!(
        said,
        "Thursday 14 January\nWhich fits the day?\nVery rough\nRough: \"kept to bed\"\n\
         A bit rough\nOrdinary\nA bit smooth\nSmooth: \"slept well, walked\"\nVery smooth"
    );
    // In the same message, nothing kept, and the answer one tap away.
    assert_eq!(maren.messages.len(), messages);
    assert_eq!(*maren.book(), before);
    assert_eq!(maren.labels(), [&TIERS[..], &below[1..]].concat());
    assert!(maren.taps("Smooth").starts_with("Kept: Thursday 14 January, Smooth."));
}

#[test]
fn a_typed_tier_answers_below_the_list_too_and_the_own_question_stays() {
    let mut maren = described();
    maren.does(&["/settings", "[Scale]", "[The question]", "How was it?"]);
    maren.turn("2027-01-14 21:00");
    assert!(maren.taps(BUTTON).starts_with("Thursday 14 January\nHow was it?\nVery rough\n"));
    assert!(maren.types("rough").starts_with("Kept: Thursday 14 January, Rough."));
}

#[test]
fn a_nudge_and_the_open_days_keep_their_own_buttons() {
    let mut maren = described().with_nudges();
    maren.turn("2027-01-14 12:30");
    let below = |maren: &Talker| -> Vec<String> {
        maren.labels()[TIERS.len()..].iter().map(ToString::to_string).collect()
    };
    let nudged = below(&maren);
    assert_eq!(nudged[0], BUTTON);
    assert!(nudged.contains(&"Set Fri 1 Jan to Ordinary".to_owned()), "{nudged:?}");
    let said = maren.taps(BUTTON);
    assert!(said.starts_with("Friday 1 January\nWhich fits the day?\nVery rough\n"), "{said}");
    assert_eq!(below(&maren), nudged[1..]);

    maren.turn("2027-01-16 12:00");
    maren.types("/open");
    let open = below(&maren);
    assert_eq!(open[0], BUTTON);
    assert!(open.contains(&"Set all 15 to Ordinary".to_owned()), "{open:?}");
    assert!(maren.taps(BUTTON).starts_with("Friday 1 January\n"));
    assert_eq!(below(&maren), open[1..]);
}

#[test]
fn a_day_that_has_a_tier_shows_it_and_can_be_left_as_it_is() {
    let mut maren = described();
    maren.turn("2027-01-14 21:00");
    let question = maren.messages.len() - 1;
    let keys = maren.messages[question].keys.clone();
    let (_, means) = keys.into_iter().find(|(label, _)| label == BUTTON).unwrap();
    maren.taps("Smooth");
    // From *Change*, and from an old message.
    for from_change in [true, false] {
        let said = match from_change {
            true => maren.does(&["[Change]", "[What do these mean?]"]),
            false => maren.taps_button(means.clone(), question),
        };
        assert!(said.contains("Rough: \"kept to bed\""), "{said}");
        assert!(said.ends_with("Kept now: Smooth."), "{said}");
        assert_eq!(maren.labels(), [&TIERS[..], &["Leave it as it is"]].concat());
        assert!(maren.taps("Leave it as it is").starts_with("Kept: Thursday 14 January, Smooth."));
    }
}

#[test]
fn a_day_to_come_or_outside_gets_a_sentence_and_nothing_is_kept() {
    for (token, sentence) in [
        ("1|means|20270115|q", "Friday 15 January has not come yet"),
        ("1|means|20280114|n", "is not in this blanket"),
        ("1|means|20270114|x", "That button is"),
    ] {
        let mut maren = described();
        let before = maren.book().clone();
        let said = maren.taps_token(token);
        assert!(said.contains(sentence), "{token}: {said}");
        assert_eq!(*maren.book(), before);
    }
}

#[test]
fn once_the_words_are_deleted_an_old_button_shows_the_question_as_it_is() {
    let mut maren = described();
    maren.turn("2027-01-14 21:00");
    let question = maren.messages.len() - 1;
    for tier in ["Rough", "Smooth"] {
        maren.does(&["/settings", "[Words for each tier]"]);
        maren.taps(tier);
        maren.taps("Delete these words");
    }
    let said = maren.taps_token("1|means|20270114|q");
    assert_eq!(said, "Thursday 14 January\nWhich fits the day?");
    assert_eq!(maren.messages[question].text, said);
    assert!(
        maren.taps_token("1|trymeans").ends_with("Which fits the day?\nPractice: nothing is kept.")
    );
}

#[test]
fn the_practice_question_has_the_button_too_and_keeps_nothing() {
    let mut maren = Talker::with_blanket("2026-12-30 12:00", "2027-01-01");
    describe(&mut maren);
    maren.taps_token("1|try");
    let labels = |maren: &Talker| -> Vec<String> {
        maren.messages[0].keys.iter().map(|(label, _)| label.clone()).collect()
    };
    assert_eq!(labels(&maren), [&TIERS[..], &[BUTTON]].concat());
    let said = maren.taps(BUTTON);
    assert!(said.contains("Smooth: \"slept well, walked\""), "{said}");
    assert!(said.ends_with("Practice: nothing is kept."), "{said}");
    assert_eq!(labels(&maren), TIERS);
    assert!(maren.types("Smooth").ends_with("Nothing was kept."));
    assert!(maren.book().answers().is_empty());
}

#[test]
fn where_the_words_are_written_it_is_said_where_they_are_shown() {
    let mut maren = Talker::with_blanket("2027-01-14 12:00", "2027-01-01");
    let list = maren.does(&["/settings", "[Words for each tier]"]);
    assert!(list.contains("or tap What do these mean? under the question."), "{list}");
    let asked = maren.taps("Smooth");
    assert!(
        asked.ends_with("I show it under the question when you tap What do these mean?"),
        "{asked}"
    );
}

#[test]
fn twelve_of_the_longest_lines_fit_in_one_message() {
    let hostile = "\u{1F9F6}\u{5D0}".repeat(50);
    let label = |id: u8| {
        let text = format!("{id} {}", "\u{1F9F6}\u{5D0}".repeat(10));
        duskrow::blanket::Label::parse(&text).unwrap()
    };
    let yarn = |id: u8| duskrow::blanket::Label::parse(&format!("Y{id}")).unwrap();
    let mut maren = Talker::with_named_scale("2027-01-14 12:00", (12, 6), label, yarn);
    maren.does(&["/settings", "[Scale]", "[The question]", &"\u{1F9F6}".repeat(60)]);
    for tier in 1..=12 {
        maren.does(&["/settings", "[Words for each tier]"]);
        maren.taps_token(&format!("1|line|{tier}"));
        assert!(maren.types(&hostile).contains(&hostile));
    }
    maren.types("/today");
    let said = maren.taps(BUTTON);
    assert_eq!(said.matches(&hostile).count(), 12);
    assert!(said.encode_utf16().count() <= 4096, "{}", said.encode_utf16().count());
}

#[test]
fn words_that_look_like_markup_stay_words() {
    let mut maren = Talker::with_blanket("2027-01-14 12:00", "2027-01-01");
    let hostile = "<b>*_`[x](tg://user?id=1)\u{202E} &amp; \"";
    maren.does(&["/settings", "[Words for each tier]", "[Smooth]", hostile, "/today"]);
    let said = maren.taps(BUTTON);
    assert!(said.contains("Smooth: \"<b>*_`[x](tg://user?id=1) &amp; \"\""), "{said}");
    assert!(!said.contains('\u{202E}'), "{said}");
}

/// Maren, with words for two of her tiers.
fn described() -> Talker {
    let mut maren = Talker::with_blanket("2027-01-14 12:00", "2027-01-01").without_nudges();
    describe(&mut maren);
    maren
}

fn describe(maren: &mut Talker) {
    for (tier, line) in [("Rough", "kept to bed"), ("Smooth", "slept well, walked")] {
        maren.does(&["/settings", "[Words for each tier]"]);
        maren.taps(tier);
        maren.types(line);
    }
}
