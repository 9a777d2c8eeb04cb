//! The maker's own words about days of a tier: written in the settings, shown when they are not
//! sure, never judged.

use super::talker::Talker;

#[test]
fn own_words_are_shown_with_the_tiers_when_a_maker_is_not_sure() {
    let mut maren = Talker::with_blanket("2027-01-14 12:00", "2027-01-01");
    maren.types("/settings");
    assert!(maren.taps("Words for each tier").starts_with("No tier has words of yours yet."));
    maren.taps("Smooth");
    let kept = maren.types("slept well, \n walked");
    assert!(kept.contains("Smooth: \"slept well, walked\""), "{kept}");
    maren.turn("2027-01-14 21:00");
    maren.taps("Not sure?");
    let offered = maren.taps("Higher");
    assert!(offered.contains("Smooth: \"slept well, walked\""), "{offered}");
    assert!(!offered.contains("Very smooth:"), "{offered}");
    assert!(maren.taps("Smooth").starts_with("Kept: Thursday 14 January, Smooth."));
}

#[test]
fn the_words_of_the_default_tier_come_where_nothing_can_be_told() {
    let mut maren = Talker::with_blanket("2027-01-14 12:00", "2027-01-01");
    maren.types("/settings");
    maren.taps("Words for each tier");
    maren.taps("Ordinary");
    maren.types("work, supper");
    maren.types("/today");
    maren.taps("Not sure?");
    assert!(maren.taps("Cannot tell").contains("Ordinary: \"work, supper\""));
}

#[test]
fn words_can_be_changed_and_deleted_and_too_many_are_refused() {
    let mut maren = Talker::with_blanket("2027-01-14 12:00", "2027-01-01");
    let write = |maren: &mut Talker, text: &str| {
        maren.types("/settings");
        maren.taps("Words for each tier");
        maren.taps("Rough");
        maren.types(text)
    };
    write(&mut maren, "kept to bed");
    let before = maren.book().clone();
    for (typed, sentence) in [
        ("x".repeat(101), "One line has at most 100 characters. Nothing was changed."),
        ("\u{202E}\u{7}".to_owned(), "I see no text in this line. Nothing was changed."),
    ] {
        assert!(write(&mut maren, &typed).starts_with(sentence), "{typed:?}");
        assert_eq!(*maren.book(), before);
    }
    assert!(write(&mut maren, "a headache").contains("Rough: \"a headache\""));
    maren.taps("Rough");
    assert!(maren.taps("Delete these words").starts_with("No tier has words of yours yet."));
}

#[test]
fn a_command_leaves_the_step_and_the_next_line_is_no_description() {
    let mut maren = Talker::with_blanket("2027-01-14 12:00", "2027-01-01");
    maren.types("/settings");
    maren.taps("Words for each tier");
    maren.taps("Rough");
    maren.types("/today");
    assert!(maren.types("Smooth").starts_with("Kept: Thursday 14 January, Smooth."));
    assert!(maren.book().scale().tiers().iter().all(|t| maren.book().tier_line(t.id).is_none()));
}
