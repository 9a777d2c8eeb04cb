//! Tokens: short enough, read back as written, and harmless when forged.

use chrono::{NaiveDate, NaiveTime, TimeDelta, Weekday};
use chrono_tz::TZ_VARIANTS;
use duskrow::blanket::forecast::Common;
use duskrow::blanket::stock::Tenths;
use duskrow::blanket::stripes::Seen;
use duskrow::blanket::yarn::{Join, ScaleStep, Target, Units};
use duskrow::blanket::{BlockNumber, Finish, NoteId, PersonId, RowNumber, TierId, YarnId};
use duskrow::chat::button::{
    Act, AskedIn, BlanketTap, BlockButton, BringBackTap, Button, ColourSum, ColourTap, Invitation,
    Part, PeopleTap, Position, RowByRow, ScaleTap, Setting, Shown, TOKEN_BYTES_MAX, YarnButton,
    YarnChoice,
};
use duskrow::chat::enclosed::Drawn;
use duskrow::chat::event::{Event, MessageId};
use duskrow::chat::respond;
use duskrow::wording::en;
use proptest::prelude::*;

use super::making::{acts, longest_choice};
use super::talker::Talker;
use super::taps::{colour_buttons, paper_buttons, people_taps, scale_taps, set_up_taps};
use super::tokens::any_token;

#[test]
fn the_longest_of_each_button_fits_in_64_bytes() {
    let zone = *TZ_VARIANTS.iter().max_by_key(|zone| zone.name().len()).unwrap();
    let (time, day) = (NaiveTime::MIN, NaiveDate::from_ymd_opt(9999, 12, 31).unwrap());
    let (block, row) = (BlockNumber(u16::MAX), RowNumber(u16::MAX));
    let invitation = Invitation::parse(&"w".repeat(48)).unwrap();
    let five = [251, 252, 253, 254, 255].map(YarnId);
    let seen = Seen::new(five.to_vec(), true).unwrap();
    let longest = [
        BlockButton::Stripes { block, seen: seen.clone() }.into(),
        BlockButton::TopStripe { block, row, seen: seen.clone() }.into(),
        BlockButton::AfterRow { block, row, seen }.into(),
        BlockButton::Finish { block, finish: Finish::Joined, done: true }.into(),
        Button::Agree { invitation },
        Button::Zone { zone },
        Button::ZoneRight { zone },
        Button::AskAt { zone, time },
        Button::FirstDay { zone, time, day },
        Button::Answer { day, tier: TierId(u8::MAX) },
        Button::Worked { block, from: row, to: row, colours: ColourSum(u16::MAX) },
        Button::Undo { block, left: u16::MAX, was: u16::MAX },
        Button::Compare { day, part: Part::Group(u8::MAX) },
        Button::PutOff { day, until: Some(day) },
        Button::ForNow { day, on: true },
        Button::AssumeAll { first: day, last: day, count: u16::MAX },
        Button::KeepMany { id: i64::MAX },
        Button::UndoMany { id: i64::MAX },
        Button::DeleteNote { note: NoteId(i64::MAX) },
        Button::SetZone { zone },
        Button::SetRecap { on: Some(Weekday::Sun), whole: true },
        Button::WorkedUpTo { from: Position { block, row }, to: Position { block, row } },
        Button::UndoUpTo { from: Position { block, row }, to: Position { block, row } },
        Button::Making { act: Act::Choose(longest_choice()) },
        Button::Making {
            act: Act::Change {
                choice: longest_choice(),
                shown: Shown { rows: u16::MAX, sum: u16::MAX },
            },
        },
        Button::Colours(ColourTap::Recolour { to: vec![(YarnId(255), [255; 3]); 4] }),
        Button::Colours(ColourTap::Order { yarns: vec![YarnId(255); 12] }),
        Button::Colours(ColourTap::Undo { id: i64::MAX }),
        Button::Colours(ColourTap::AnotherCode { draft: i64::MAX }),
        Button::Colours(ColourTap::UseAnother { draft: i64::MAX }),
        Button::Scale(ScaleTap::Colour { draft: i64::MAX, rgb: [255; 3] }),
        Button::Scale(ScaleTap::Yarn { draft: i64::MAX, yarn: YarnId(u8::MAX) }),
        Button::People(PeopleTap::PutBack { person: PersonId(i64::MAX) }),
        Button::RowByRow(RowByRow::Worked { block, row, colour: ColourSum(u16::MAX) }),
        Button::PullBack { block, left: u16::MAX, was: u16::MAX },
    ];
    for button in longest {
        let token = button.token();
        assert!(token.len() <= TOKEN_BYTES_MAX, "{} bytes: {token}", token.len());
        assert_eq!(Button::read(&token), Ok(button), "{token}");
    }
    assert_eq!(Invitation::parse(&"w".repeat(49)), None);
    assert_eq!(Invitation::parse(""), None);
    assert_eq!(Invitation::parse("a|b"), None);
}

#[test]
fn the_code_of_an_invitation_is_not_in_debug_output() {
    let invitation = Invitation::parse("q7xQ2mJr0dWb5tKc").unwrap();
    let shown = format!("{:?}", Button::Agree { invitation });
    assert!(!shown.contains("q7xQ"), "{shown}");
}

#[test]
fn another_list_of_colours_has_another_sum() {
    let sum = |yarns: &[u8]| {
        let yarns: Vec<_> = yarns.iter().map(|id| duskrow::blanket::YarnId(*id)).collect();
        ColourSum::of(&yarns)
    };
    let lists: [&[u8]; 10] = [
        &[],
        &[1],
        &[2],
        &[1, 2],
        &[2, 1],
        &[1, 1],
        &[1, 1, 1],
        &[8, 8, 8, 8, 8, 8, 8, 8],
        &[1, 3, 2],
        &[2, 1, 3],
    ];
    for (index, list) in lists.iter().enumerate() {
        for other in &lists[index + 1..] {
            assert_ne!(sum(list), sum(other), "{list:?} {other:?}");
        }
    }
    // Written in buttons of old messages: the arithmetic may not change.
    assert_eq!(sum(&[6, 6, 2]), ColourSum(55_321));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(512))]

    #[test]
    fn a_button_is_read_back_as_it_was_written(button in any_button()) {
        let token = button.token();
        prop_assert!(!token.is_empty() && token.len() <= TOKEN_BYTES_MAX, "{}", token);
        prop_assert_eq!(Button::read(&token), Ok(button));
    }

    #[test]
    fn one_button_has_one_token(token in any_token()) {
        if let Ok(button) = Button::read(&token) {
            prop_assert_eq!(button.token(), token);
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Whatever comes in, in whatever order: no panic; days outside and days to come stay without
    /// an answer; the worked rows of a block never reach over an open row.
    #[test]
    fn forged_tokens_leave_a_book_that_makes_sense(
        tokens in prop::collection::vec((any_token(), 0..90_000_i64), 1..40),
    ) {
        let mut maren = Talker::with_blanket("2027-01-14 12:00", "2027-01-01");
        for (token, seconds) in tokens {
            maren.now += TimeDelta::seconds(seconds);
            maren.taps_token(&token);
            let (book, today) = (maren.book(), maren.book().hours().day_at(maren.now));
            for day in book.answers().keys() {
                prop_assert!(book.plan().has(*day) && *day <= today, "{} {}", token, day);
            }
            for block in book.plan().blocks() {
                let worked = book.worked(block.number).len();
                let rows = book.plan().rows(&block);
                prop_assert!(worked <= rows.len());
                let open = rows[..worked].iter().any(|row| book.yarn_for(row).is_none());
                prop_assert!(!open, "{}", token);
            }
            for number in book.plan().blocks().map(|block| block.number) {
                let done = book.plan().block(number).unwrap().rows;
                let all = book.worked(number).len() == usize::from(done);
                let marked = |finish| book.is_finished(number, finish);
                prop_assert!(all || !marked(Finish::Woven) && !marked(Finish::Joined));
            }
            prop_assert!(!maren.erased);
        }
    }

    /// The core is given one maker and returns changes of that one: it has no way to name another,
    /// and the same tap by two makers changes each by itself.
    #[test]
    fn a_tap_of_one_maker_is_the_same_whatever_another_does(token in any_token()) {
        let maren = Talker::with_blanket("2027-01-14 12:00", "2027-01-01");
        let mut other = Talker::with_blanket("2027-01-14 12:00", "2026-06-01");
        let event = Event::Tapped { button: Button::read(&token), message: MessageId(0) };
        let alone = respond(&maren.maker, maren.now, &event, &en::LEXICON);
        other.happens(&event);
        let together = respond(&maren.maker, maren.now, &event, &en::LEXICON);
        prop_assert_eq!(alone, together);
    }
}

pub fn any_button() -> impl Strategy<Value = Button> {
    let zone = || (0..TZ_VARIANTS.len()).prop_map(|index| TZ_VARIANTS[index]);
    let time = || (0..1440_i64).prop_map(|minute| NaiveTime::MIN + TimeDelta::minutes(minute));
    let day = || {
        let epoch = NaiveDate::from_ymd_opt(0, 1, 1).unwrap();
        (0..3_652_000_u64).prop_map(move |days| epoch + chrono::Days::new(days))
    };
    let tier = || any::<u8>().prop_map(TierId);
    let block = || any::<u16>().prop_map(BlockNumber);
    let row = || any::<u16>().prop_map(RowNumber);
    let code = || "[A-Za-z0-9_-]{1,48}".prop_filter_map("a code", |text| Invitation::parse(&text));
    prop_oneof![
        code().prop_map(|invitation| Button::Agree { invitation }),
        Just(Button::Decline),
        zone().prop_map(|zone| Button::Zone { zone }),
        zone().prop_map(|zone| Button::ZoneRight { zone }),
        Just(Button::OtherPlace),
        (zone(), time()).prop_map(|(zone, time)| Button::AskAt { zone, time }),
        (zone(), time(), day()).prop_map(|(zone, time, day)| Button::FirstDay { zone, time, day }),
        (day(), tier()).prop_map(|(day, tier)| Button::Answer { day, tier }),
        day().prop_map(|day| Button::Ask { day }),
        day().prop_map(|day| Button::Leave { day }),
        Just(Button::Practice),
        tier().prop_map(|tier| Button::PracticeAnswer { tier }),
        (block(), row(), row(), any::<u16>()).prop_map(|(block, from, to, sum)| {
            Button::Worked { block, from, to, colours: ColourSum(sum) }
        }),
        (block(), any::<u16>(), any::<u16>()).prop_map(|(block, left, was)| Button::Undo {
            block,
            left,
            was
        }),
        Just(Button::Rows),
        more_buttons(),
    ]
}

fn more_buttons() -> impl Strategy<Value = Button> {
    let day = || (0..2_900_000_u64).prop_map(|days| NaiveDate::default() + chrono::Days::new(days));
    let time = || (0..1440_i64).prop_map(|minute| NaiveTime::MIN + TimeDelta::minutes(minute));
    let id = || 0..i64::MAX;
    let position = || {
        (any::<u16>(), any::<u16>())
            .prop_map(|(block, row)| Position { block: BlockNumber(block), row: RowNumber(row) })
    };
    let part = prop_oneof![any::<u8>().prop_map(Part::Group), Just(Part::CannotTell)];
    let weekday = (0..7_u8).prop_map(|day| Weekday::try_from(day).unwrap());
    let days = prop_oneof![
        day().prop_map(|day| Button::NotSure { day }),
        (day(), part).prop_map(|(day, part)| Button::Compare { day, part }),
        (day(), prop::sample::select(AskedIn::ALL.to_vec()))
            .prop_map(|(day, asked_in)| Button::Meanings { day, asked_in }),
        day().prop_map(|day| Button::Later { day }),
        (day(), prop::option::of(day())).prop_map(|(day, until)| Button::PutOff { day, until }),
        day().prop_map(|day| Button::Skip { day }),
        (day(), any::<bool>()).prop_map(|(day, on)| Button::ForNow { day, on }),
        day().prop_map(|day| Button::Assume { day }),
        (day(), day(), any::<u16>()).prop_map(|(first, last, count)| Button::AssumeAll {
            first,
            last,
            count
        }),
        id().prop_map(|id| Button::KeepMany { id }),
        id().prop_map(|id| Button::DropMany { id }),
        id().prop_map(|id| Button::UndoMany { id }),
        day().prop_map(|day| Button::WriteNote { day }),
        id().prop_map(|id| Button::DeleteNote { note: NoteId(id) }),
        day().prop_map(|on| Button::Recap { on }),
    ];
    let others = prop_oneof![
        prop::sample::select(vec![Button::Settings, Button::Resume, Button::PracticeMeanings,]),
        any::<u8>().prop_map(|tier| Button::Describe { tier: TierId(tier) }),
        any::<u8>().prop_map(|tier| Button::DeleteLine { tier: TierId(tier) }),
        prop::sample::select(Setting::ALL.to_vec()).prop_map(|setting| Button::Change { setting }),
        time().prop_map(|time| Button::SetAskAt { time }),
        time().prop_map(|time| Button::SetDayTurn { time }),
        prop::sample::select(TZ_VARIANTS.to_vec()).prop_map(|zone| Button::SetZone { zone }),
        prop::option::of(time()).prop_map(|at| Button::SetNudges { at }),
        prop::option::of(time()).prop_map(|at| Button::Nudges { at }),
        (prop::option::of(weekday), any::<bool>())
            .prop_map(|(on, whole)| Button::SetRecap { on, whole }),
        (position(), position()).prop_map(|(from, to)| Button::WorkedUpTo { from, to }),
        (position(), position()).prop_map(|(from, to)| Button::UndoUpTo { from, to }),
        acts().prop_map(|act| Button::Making { act }),
    ];
    let scale = scale_taps().prop_map(Button::Scale);
    let drawn = prop_oneof![
        prop::sample::select(vec![Drawn::Yarn, Drawn::Year, Drawn::Card, Drawn::Imagined,]),
        day().prop_map(|on| Drawn::Week { on }),
    ];
    let drawn = prop_oneof![drawn.prop_map(Button::Draw), paper_buttons()];
    let set_up = set_up_taps().prop_map(Button::SetUp);
    let people = people_taps().prop_map(Button::People);
    let others_set = prop_oneof![people, set_up, blanket_buttons(), bring_back_buttons()];
    let rest = prop_oneof![yarn_buttons(), colour_buttons(), scale, drawn, others_set];
    prop_oneof![days, others, row_buttons(), block_buttons(), rest]
}

/// The list of rows, row by row, and rows that differ from their day.
fn row_buttons() -> impl Strategy<Value = Button> {
    let day = || (0..2_900_000_u64).prop_map(|days| NaiveDate::default() + chrono::Days::new(days));
    let row = || (any::<u16>().prop_map(BlockNumber), any::<u16>().prop_map(RowNumber));
    let tap = prop_oneof![
        prop::sample::select(vec![RowByRow::Open, RowByRow::GoOn, RowByRow::Stop]),
        (row(), any::<u16>()).prop_map(|((block, row), sum)| {
            RowByRow::Worked { block, row, colour: ColourSum(sum) }
        }),
        row().prop_map(|(block, row)| RowByRow::Back { block, row }),
        day().prop_map(|day| RowByRow::Answer { day }),
    ];
    prop_oneof![
        prop::sample::select(vec![Button::RowsToEnd, Button::Rows]),
        tap.prop_map(Button::RowByRow),
        day().prop_map(|day| Button::LeaveRow { day }),
        (row(), any::<u16>())
            .prop_map(|((block, left), was)| { Button::PullBack { block, left: left.0, was } }),
    ]
}

fn bring_back_buttons() -> impl Strategy<Value = Button> {
    prop_oneof![
        (0..i64::MAX).prop_map(|id| BringBackTap::Go { id }),
        (0..i64::MAX).prop_map(|id| BringBackTap::Leave { id }),
    ]
    .prop_map(Button::BringBack)
}

fn blanket_buttons() -> impl Strategy<Value = Button> {
    let day = || (0..2_900_000_u64).prop_map(|days| NaiveDate::default() + chrono::Days::new(days));
    prop_oneof![
        Just(BlanketTap::List),
        Just(BlanketTap::Next),
        day().prop_map(|first_day| BlanketTap::TakeUp { first_day }),
        day().prop_map(|first_day| BlanketTap::Begin { first_day }),
        day().prop_map(|first_day| BlanketTap::AskMove { first_day }),
        (day(), day()).prop_map(|(first_day, to)| BlanketTap::Move { first_day, to }),
        day().prop_map(|first_day| BlanketTap::AskDelete { first_day }),
        day().prop_map(|first_day| BlanketTap::Delete { first_day }),
    ]
    .prop_map(Button::OfBlankets)
}

fn block_buttons() -> impl Strategy<Value = Button> {
    let block = || any::<u16>().prop_map(BlockNumber);
    let row = || any::<u16>().prop_map(RowNumber);
    let seen = || {
        let stripes = prop::collection::vec(any::<u8>().prop_map(YarnId), 0..=5);
        (stripes, any::<bool>())
            .prop_filter_map("stripes", |(stripes, lowest)| Seen::new(stripes, lowest))
    };
    let finish = prop::sample::select(vec![Finish::Woven, Finish::Joined]);
    prop_oneof![
        Just(BlockButton::WhereAmI),
        Just(BlockButton::All),
        block().prop_map(|block| BlockButton::Picture { block }),
        block().prop_map(|block| BlockButton::Sheet { block }),
        (block(), seen()).prop_map(|(block, seen)| BlockButton::Stripes { block, seen }),
        (block(), row(), seen())
            .prop_map(|(block, row, seen)| { BlockButton::TopStripe { block, row, seen } }),
        (block(), row(), seen())
            .prop_map(|(block, row, seen)| { BlockButton::AfterRow { block, row, seen } }),
        block().prop_map(|block| BlockButton::List { block }),
        (block(), finish, any::<bool>()).prop_map(|(block, finish, done)| BlockButton::Finish {
            block,
            finish,
            done
        }),
    ]
    .prop_map(Button::OfBlock)
}

fn yarn_buttons() -> impl Strategy<Value = Button> {
    let yarn = || any::<u8>().prop_map(YarnId);
    let tier = || any::<u8>().prop_map(TierId);
    let common = prop::sample::select(Common::ALL.to_vec());
    let choices = prop_oneof![
        prop::sample::select(Units::ALL.to_vec()).prop_map(YarnChoice::Units),
        prop::sample::select(ScaleStep::ALL.to_vec()).prop_map(YarnChoice::Scale),
        prop::sample::select(Target::ALL.to_vec()).prop_map(YarnChoice::Target),
        any::<bool>().prop_map(YarnChoice::WholeBlanket),
        prop::sample::select(Join::ALL.to_vec()).prop_map(YarnChoice::Join),
    ];
    let plain = prop::sample::select(vec![
        YarnButton::List,
        YarnButton::ChooseBall,
        YarnButton::ChooseWeighing,
        YarnButton::ToBuy,
        YarnButton::Settings,
        YarnButton::AskJoin,
        YarnButton::AskLabel,
        YarnButton::Guess,
    ]);
    prop_oneof![
        plain,
        yarn().prop_map(|yarn| YarnButton::Detail { yarn }),
        yarn().prop_map(|yarn| YarnButton::Ball { yarn }),
        yarn().prop_map(|yarn| YarnButton::Weigh { yarn }),
        yarn().prop_map(|yarn| YarnButton::Before { yarn }),
        yarn().prop_map(|yarn| YarnButton::AskCorrection { yarn }),
        (yarn(), any::<u32>())
            .prop_map(|(yarn, tenths)| { YarnButton::Correct { yarn, tenths: Tenths(tenths) } }),
        (yarn(), any::<u16>()).prop_map(|(yarn, entries)| YarnButton::Undo { yarn, entries }),
        choices.prop_map(YarnButton::Set),
        tier().prop_map(|tier| YarnButton::AskCommon { tier }),
        tier().prop_map(|tier| YarnButton::NoGuess { tier }),
        (tier(), common).prop_map(|(tier, common)| YarnButton::Common { tier, common }),
    ]
    .prop_map(Button::OfYarn)
}

/// Holds the strategies above to the enum: a new button needs one.
#[test]
fn no_button_is_left_out_of_these_checks() {
    let buttons = include_str!("../../../src/chat/button/mod.rs");
    let of_block = include_str!("../../../src/chat/button/block.rs");
    assert!(left_out(buttons, "Button") > 40);
    assert!(left_out(of_block, "BlockButton") > 5);
    assert!(left_out(include_str!("../../../src/chat/button/blankets.rs"), "BlanketTap") > 7);
    assert!(left_out(include_str!("../../../src/chat/button/bring_back.rs"), "BringBackTap") > 1);
    let of_yarn = include_str!("../../../src/chat/button/yarn.rs");
    assert!(left_out(of_yarn, "YarnButton") > 15);
    assert!(left_out(of_yarn, "YarnChoice") > 4);
    let of_colours = include_str!("../../../src/chat/button/colours.rs");
    assert!(left_out(of_colours, "ColourTap") > 8);
    let of_scale = include_str!("../../../src/chat/button/scale.rs");
    assert!(left_out(of_scale, "ScaleTap") > 12);
    let of_paper = include_str!("../../../src/chat/button/paper.rs");
    assert!(left_out(of_paper, "PaperTap") > 3);
    let drawn = include_str!("../../../src/chat/enclosed.rs");
    assert!(left_out(drawn, "Drawn") > 4);
    let of_set_up = include_str!("../../../src/chat/button/set_up.rs");
    assert!(left_out(of_set_up, "SetUpTap") > 3);
    let of_people = include_str!("../../../src/chat/button/people.rs");
    assert!(left_out(of_people, "PeopleTap") > 3);
}

/// Every button of an enum has a strategy; how many there are.
fn left_out(source: &str, of: &str) -> usize {
    let enum_of = format!("pub enum {of} {{\n");
    let body = source.split(&enum_of).nth(1).unwrap().split("\n}").next().unwrap();
    let names: Vec<&str> = body
        .lines()
        .filter(|line| line.starts_with("    ") && line[4..].starts_with(char::is_uppercase))
        .filter_map(|line| line.trim().split(|c: char| !c.is_alphanumeric()).next())
        .collect();
    let here = include_str!("buttons.rs").split("fn any_button()").nth(1).unwrap();
    let here = [here, include_str!("taps.rs")].concat();
    for name in &names {
        let made = |end: &str| here.contains(&format!("{of}::{name}{end}"));
        assert!(made(" {") || made(")") || made(","), "{of}::{name} has no strategy here");
    }
    names.len()
}
