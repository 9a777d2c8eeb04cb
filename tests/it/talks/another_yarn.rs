//! Another yarn from now on: worked rows stay in the one they were worked in, what is to come is
//! in the other, and nothing is kept before that was shown.

use duskrow::blanket::stock::{Ball, Entry, EntryKind, Tenths};
use duskrow::blanket::{BlockNumber, Change, Label, TierId, Yarn, YarnId, yarn_status};
use duskrow::chat::button::{Button, ColourTap};
use duskrow::export::{book_file, read_book};
use duskrow::pictures::facts::Inks;
use proptest::prelude::*;

use super::talker::Talker;

const KELP: YarnId = YarnId(3);
const BUTTON: &str = "Another yarn from now on";
const ONE: [&str; 4] = ["/settings", "[Colours]", "[See or change a colour]", "[Kelp]"];

#[test]
fn the_way_to_another_yarn_shows_what_will_be_so_and_then_keeps_it() {
    let mut maren = worked();
    let before = maren.book().clone();
    let said = maren.does(&ONE);
    assert!(said.ends_with("If it is used up, tap Another yarn from now on."), "{said}");
    assert_eq!(
        maren.taps(BUTTON),
        "Rows worked in Kelp stay in Kelp. What is the other yarn called?\n\
         Type a name of at most 24 characters."
    );
    assert_eq!(
        maren.types(" Sea  Kelp "),
        "What colour is Sea Kelp?\nType its colour code, like #AC944B. A drawing program shows it.\n\
         Nothing is changed yet."
    );
    assert_eq!(
        maren.types("8fa3b0"),
        "Sea Kelp #8FA3B0\n\
         From now on A bit rough is worked in Sea Kelp.\n\
         2 rows stay in Kelp.\n\
         1 row of Kelp waits to be worked. It gets Sea Kelp.\n\
         Sea Kelp can be told apart from each other colour in bright light, for all four kinds of \
         sight.\n\
         Nothing is changed yet."
    );
    assert_eq!(*maren.book(), before);
    assert_eq!(maren.labels(), ["Use it from now on", "Back"]);
    let said = maren.taps("Use it from now on");
    let expected = "Colours\n\
        From now on Sea Kelp is worked where Kelp was.\n\
        2 rows stay in Kelp.\n\
        To enter balls of Sea Kelp, type /yarn.\n\
        Normal sight: each pair can be told apart.\n";
    assert!(said.starts_with(expected), "{said}");
    let rows = maren.types("/rows 3");
    assert!(rows.contains("\n3 RS Sun 3 Sea Kelp, change\n"), "{rows}");
    assert_eq!(maren.book().rows_in(KELP), 2);
}

#[test]
fn worked_rows_do_not_differ_from_a_yarn_that_came_after_theirs() {
    let mut maren = followed();
    assert_eq!(maren.book().differing_rows(), 0);
    let said = maren.does(&["/today 1 Jan", "[Change]", "[A bit rough]"]);
    assert!(!said.contains("is worked in Kelp"), "{said}");
    let block = maren.types("/block 1");
    assert!(block.contains("Kelp"), "{block}");
    assert!(!block.contains("now Sea Kelp"), "{block}");
    // Another answer makes the row differ.
    let said = maren.does(&["/today 1 Jan", "[Change]", "[Smooth]"]);
    assert!(said.contains("Row 1 is worked in Kelp. Smooth is Brick."), "{said}");
    assert_eq!(maren.book().differing_rows(), 1);
    // And a row in a tier whose yarn never was Kelp.
    assert!(maren.book().differs(KELP, YarnId(6)) && !maren.book().differs(KELP, YarnId(9)));
    assert!(maren.book().differs(YarnId(9), KELP));
}

#[test]
fn undo_leaves_no_trace_but_the_id_and_a_second_tap_says_the_same() {
    let mut maren = worked();
    let before = maren.book().clone();
    maren.does(&ONE);
    maren.does(&["[Another yarn from now on]", "Sea Kelp", "#8FA3B0", "[Use it from now on]"]);
    let index = maren.messages.len() - 1;
    let undo = maren.messages[index].keys[0].1.clone();
    for _ in 0..2 {
        let said = maren.taps_button(undo.clone(), index);
        assert!(said.starts_with("Colours\nThe colours are as they were before.\n"), "{said}");
        assert_eq!(maren.book().yarns(), before.yarns());
        assert_eq!(maren.book().scale(), before.scale());
        assert_eq!(maren.book().joining(), before.joining());
    }
    for command in ["/yarn", "/block 1", "/rows"] {
        assert!(!maren.types(command).contains("Sea Kelp"), "{command}");
        assert!(maren.labels().iter().all(|label| *label != "Sea Kelp"), "{command}");
    }
    assert_eq!(Inks::of(maren.book()), Inks::of(&before));
    assert!(!book_file(maren.book(), &[]).contains("Sea Kelp"));
    // The id is not given again: an old button cannot mean another yarn.
    assert_eq!(maren.book().fresh_yarn_id(), Some(YarnId(10)));
    // The button that kept it is of an earlier step now.
    let said = maren.taps_button(use_it(&maren), index);
    assert!(said.contains("Nothing was changed."), "{said}");
    assert_eq!(maren.book().yarns(), before.yarns());
}

#[test]
fn undo_is_refused_once_a_row_or_yarn_on_hand_names_the_new_yarn() {
    let acts: [&[&str]; 2] =
        [&["/rows 1", "[Worked]"], &["/yarn", "[Add a ball]", "[Sea Kelp]", "50"]];
    for (index, acts) in acts.into_iter().enumerate() {
        let mut maren = followed();
        let message = maren.messages.len() - 1;
        let undo = maren.messages[message].keys[0].1.clone();
        maren.does(acts);
        let before = maren.book().clone();
        let said = maren.taps_button(undo.clone(), message);
        assert!(
            said.starts_with("Sea Kelp stays: a worked row, yarn on hand or a tier has it by now."),
            "{said}"
        );
        assert!(said.contains("Nothing was changed."), "{said}");
        assert_eq!(*maren.book(), before);
        // Once that is taken back, it can be undone.
        let back = match index {
            0 => Change::PulledBack { block: BlockNumber(1), rows_left: 2 },
            _ => Change::Unstocked { yarn: YarnId(9) },
        };
        maren.maker.book.as_mut().unwrap().apply(&back);
        let said = maren.taps_button(undo, message);
        assert!(said.starts_with("Colours\nThe colours are as they were before.\n"), "{said}");
        assert!(maren.book().yarn(YarnId(9)).is_none());
    }
}

#[test]
fn what_is_no_name_and_no_code_changes_nothing_and_may_be_typed_anew() {
    let (long, bidi) = ("x".repeat(25), "\u{202E}Sea\u{202C}");
    let name: &[&str] = &["[Another yarn from now on]"];
    let code: &[&str] = &["[Another yarn from now on]", "Sea Kelp"];
    let cases: [(&[&str], &str, &str); 12] = [
        (name, "   ", "I see no text in this name."),
        (name, &long, "A name has at most 24 characters."),
        (name, bidi, "This name has a character that is not shown."),
        (name, "\u{200B}", "This name has a character that is not shown."),
        (name, "🧶", "This name has no letter."),
        (name, "83", "This name has no letter."),
        (name, "kelp", "Another colour is called Kelp."),
        (name, "HARBOUR BLUE.", "Another colour is called Harbour Blue."),
        (code, "red", "I do not know the colour code "),
        (code, "#12345", "I do not know the colour code "),
        (code, bidi, "I do not know the colour code "),
        (code, "<b>#AC944B</b>", "I do not know the colour code "),
    ];
    for (acts, typed, expected) in cases {
        let mut maren = worked();
        maren.does(&ONE);
        maren.does(acts);
        let (book, talk) = (maren.book().clone(), maren.maker.talk.clone());
        let said = maren.types(typed);
        assert!(said.starts_with(expected), "{typed:?}: {said}");
        assert!(said.contains("Nothing was changed."), "{said}");
        assert_eq!((maren.book(), &maren.maker.talk), (&book, &talk), "{typed:?}");
        let said = maren.types(if acts == name { "<i>Sea</i> Kelp" } else { "#8FA3B0" });
        assert!(!said.contains("Nothing was changed."), "{said}");
    }
}

#[test]
fn back_leads_from_each_step_to_the_one_before_and_keeps_nothing() {
    let cases: [(&[&str], &str); 3] = [
        (&[], "Kelp\nCode: #AC944B."),
        (&["Sea Kelp"], "Rows worked in Kelp stay in Kelp."),
        (&["Sea Kelp", "#8FA3B0"], "What colour is Sea Kelp?"),
    ];
    for (acts, expected) in cases {
        let mut maren = worked();
        let before = maren.book().clone();
        maren.does(&ONE);
        maren.taps(BUTTON);
        maren.does(acts);
        let said = maren.taps("Back");
        assert!(said.starts_with(expected), "{acts:?}: {said}");
        assert_eq!(*maren.book(), before);
    }
    // The code can be another one then.
    let mut maren = shown();
    maren.taps("Back");
    assert!(maren.types("#112233").starts_with("Sea Kelp #112233\n"));
}

#[test]
fn a_second_tap_says_the_same_and_adds_nothing() {
    let mut maren = shown();
    let index = maren.messages.len() - 1;
    let button = use_it(&maren);
    let said = maren.taps("Use it from now on");
    let (book, labels) = (maren.book().clone(), maren.messages[index].keys.clone());
    let second = maren.taps_button(button, index);
    assert_eq!(second, said);
    assert_eq!((maren.book(), &maren.messages[index].keys), (&book, &labels));
}

#[test]
fn an_old_button_does_nothing_once_the_yarns_are_others() {
    // The name was given to another yarn meanwhile.
    let mut maren = shown();
    let (index, button) = (maren.messages.len() - 1, use_it(&maren));
    let rename = ["/settings", "[Colours]", "[See or change a colour]", "[Brick]"];
    maren.does(&rename);
    maren.does(&["[Another name]", "Sea Kelp"]);
    let before = maren.book().clone();
    let said = maren.taps_button(button, index);
    assert!(said.starts_with("Another colour is called Sea Kelp. Nothing was changed."), "{said}");
    assert_eq!(*maren.book(), before);

    // The rows were pulled back: a yarn without rows has another name or code instead.
    let mut maren = shown();
    let (index, button) = (maren.messages.len() - 1, use_it(&maren));
    pull_back(&mut maren);
    let before = maren.book().clone();
    assert!(maren.taps_button(button, index).starts_with("Kelp\nCode: #AC944B."));
    assert!(!maren.labels().contains(&BUTTON));
    assert_eq!(*maren.book(), before);

    // A draft nobody has.
    for tap in [ColourTap::UseAnother { draft: 7 }, ColourTap::AnotherCode { draft: 7 }] {
        let mut maren = shown();
        let before = maren.book().clone();
        let said = maren.taps_button(Button::Colours(tap), 0);
        assert!(said.contains("Nothing was changed."), "{said}");
        assert_eq!(*maren.book(), before);
    }
    // A yarn nobody has, and one nothing is worked in.
    for yarn in [YarnId(99), YarnId(6)] {
        let mut maren = worked();
        let before = maren.book().clone();
        maren.taps_button(Button::Colours(ColourTap::Another { yarn }), 0);
        assert!(!maren.labels().contains(&BUTTON));
        assert_eq!(*maren.book(), before);
    }
}

#[test]
fn a_way_that_is_left_half_way_keeps_nothing() {
    let mut maren = shown();
    let before = maren.book().clone();
    assert!(maren.types("/rows 1").contains("Kelp"));
    maren.types("#112233");
    assert_eq!(maren.book().yarns(), before.yarns());
    assert_eq!(maren.book().scale(), before.scale());
    // It can be kept later: what was shown is so.
    assert!(maren.taps("Use it from now on").contains("2 rows stay in Kelp."));
}

#[test]
fn all_tiers_of_the_yarn_and_the_joining_colour_move_together() {
    let mut maren = worked();
    let book = maren.maker.book.as_mut().unwrap();
    book.apply(&Change::TiersMoved { yarns: vec![(TierId(2), KELP)] });
    book.apply(&Change::JoiningMoved { yarn: KELP });
    maren.does(&ONE);
    let said = maren.does(&["[Another yarn from now on]", "Sea Kelp", "#8FA3B0"]);
    assert!(
        said.contains(
            "\nFrom now on these are worked in Sea Kelp: Rough, A bit rough.\n\
            From now on Sea Kelp is the joining colour.\n"
        ),
        "{said}"
    );
    let known = yarn_status(maren.book()).into_iter().find(|it| it.yarn == KELP).unwrap();
    let rows = known.need.rows();
    assert!(
        said.contains(&format!("\n{rows} rows of Kelp wait to be worked. They get Sea Kelp.\n"))
    );
    maren.taps("Use it from now on");
    let sea = YarnId(9);
    let statuses = yarn_status(maren.book());
    let need = |yarn| statuses.iter().find(|it| it.yarn == yarn).unwrap().need.rows();
    assert_eq!((need(KELP), need(sea)), (0, rows));
    assert_eq!(maren.book().joining(), sea);
    maren.taps("Undo");
    assert_eq!(maren.book().joining(), KELP);
    assert_eq!(maren.book().scale().tier(TierId(2)).unwrap().yarn, KELP);
}

#[test]
fn there_are_at_most_24_yarns() {
    let mut maren = worked();
    for id in 9..=24 {
        let name = Label::parse(&format!("Yarn {id}")).unwrap();
        let yarn = Yarn { id: YarnId(id), name, rgb: [id; 3], after: None };
        maren.maker.book.as_mut().unwrap().apply(&Change::YarnAdded(yarn));
    }
    let before = maren.book().clone();
    maren.does(&ONE);
    let said = maren.taps(BUTTON);
    assert_eq!(said, "A blanket has at most 24 yarns. Nothing was changed.");
    assert_eq!(*maren.book(), before);
    assert!(maren.taps("Back").starts_with("Kelp\n"));
}

#[test]
fn each_yarn_has_its_own_stock_and_both_are_in_lists_and_the_key() {
    let mut maren = worked();
    let kind = EntryKind::Ball(Ball::of(Tenths(500)));
    let entry = Entry { kind, rows: 0, at: maren.now };
    maren.maker.book.as_mut().unwrap().apply(&Change::Stocked { yarn: KELP, entry });
    maren.does(&ONE);
    maren.does(&["[Another yarn from now on]", "Sea Kelp", "#8FA3B0", "[Use it from now on]"]);
    assert!(maren.book().ledger(YarnId(9)).is_empty());
    let said = maren.types("/yarn");
    assert!(said.contains("Kelp: 50 g"), "{said}");
    assert!(said.contains("Sea Kelp: nothing entered yet."), "{said}");
    let kelp = said.lines().find(|line| line.starts_with("Kelp:")).unwrap();
    assert!(!kelp.contains("lasts"), "nothing is worked in it from now on: {kelp}");
    let bought = maren.taps("What to buy");
    assert!(bought.contains("Sea Kelp") && !bought.contains("\nKelp"), "{bought}");
    let inks = Inks::of(maren.book());
    let names = |inks: &[usize]| -> Vec<String> {
        inks.iter().map(|ink| inks_name(maren.book(), *ink)).collect()
    };
    assert_eq!(names(&inks.earlier), ["Kelp"]);
    assert_eq!(inks_name(maren.book(), inks.keys[2].ink), "Sea Kelp");
    let mut letters: Vec<char> = inks.all.iter().map(|ink| ink.letter).collect();
    letters.dedup();
    assert_eq!(letters.len(), 9);
    // The earlier one keeps its screen, without the way to another.
    let said = maren.does(&ONE);
    assert!(said.contains("2 rows are worked in it."), "{said}");
    assert!(!maren.labels().contains(&BUTTON));
}

#[test]
fn the_yarn_can_be_followed_once_more_and_the_first_rows_do_not_differ() {
    let mut maren = followed();
    maren.does(&["/rows 1", "[Worked]"]);
    maren.does(&["/settings", "[Colours]", "[See or change a colour]", "[Sea Kelp]"]);
    maren.does(&["[Another yarn from now on]", "Deep Kelp", "#7F93A0", "[Use it from now on]"]);
    assert_eq!(maren.book().differing_rows(), 0);
    assert!(!maren.book().differs(KELP, YarnId(10)));
    assert_eq!((maren.book().rows_in(KELP), maren.book().rows_in(YarnId(9))), (2, 1));
}

#[test]
fn a_palette_gives_no_yarn_the_name_of_one_that_is_worked_no_more() {
    let mut maren = worked();
    maren.does(&["/settings", "[Colours]", "[Ready palettes]", "[Kitchen]"]);
    let kitchen = maren.book().yarn_name(KELP).unwrap().to_string();
    maren.does(&["/settings", "[Colours]", "[See or change a colour]", &format!("[{kitchen}]")]);
    maren.does(&["[Another yarn from now on]", "Sea Kelp", "#8FA3B0", "[Use it from now on]"]);
    let said = maren.does(&["/settings", "[Colours]", "[Ready palettes]", "[Kitchen]"]);
    assert!(said.starts_with("Colours\nYour yarns are those of Kitchen now."), "{said}");
    let sea = maren.book().yarn_name(YarnId(9)).unwrap().to_string();
    assert_eq!(sea, format!("{kitchen} 2"));
    assert!(read_book(book_file(maren.book(), &[]).as_bytes()).is_ok());
}

#[test]
fn the_next_blanket_begins_without_the_yarns_that_others_came_after() {
    let maren = followed();
    let plan = duskrow::blanket::Plan::year_from("2028-01-01".parse().unwrap());
    let changes = duskrow::blanket::begin_next(maren.book(), plan, maren.now);
    let Change::Of { change, .. } = &changes[0] else { panic!("{:?}", changes[0]) };
    let Change::Began(beginning) = &**change else { panic!("{change:?}") };
    assert!(beginning.yarns.iter().all(|yarn| yarn.id != KELP && yarn.after.is_none()));
    assert!(beginning.yarns.iter().any(|yarn| yarn.name.is("Sea Kelp")));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// Whatever is tapped and typed on the way: worked rows never change their yarn, and each
    /// yarn that a row or a tier names is there.
    #[test]
    fn worked_rows_never_change_their_yarn(
        acts in prop::collection::vec((0..12_usize, any::<prop::sample::Index>()), 1..40),
    ) {
        let mut maren = worked();
        let typed = ["Sea Kelp", "#8FA3B0", "Deep Kelp", "red", "🧶", "/rows 2", "/yarn", "50"];
        maren.does(&ONE);
        for (kind, at) in acts {
            let before: Vec<_> = worked_yarns(&maren);
            let labels = maren.labels().into_iter().map(str::to_owned).collect::<Vec<_>>();
            match kind {
                0..=5 if !labels.is_empty() => {
                    let label = &labels[at.index(labels.len())];
                    // Those take rows or days back by design.
                    if !label.starts_with("Pull back") && label != "Undo" || kind == 0 {
                        maren.taps(label);
                    }
                }
                6 => {
                    maren.does(&ONE[..3]);
                    let labels = maren.labels().into_iter().map(str::to_owned).collect::<Vec<_>>();
                    maren.taps(&labels[at.index(labels.len())]);
                }
                _ => {
                    maren.types(typed[at.index(typed.len())]);
                }
            }
            let after = worked_yarns(&maren);
            let same = before.iter().zip(&after).all(|(before, after)| before == after);
            prop_assert!(same, "{before:?} {after:?}");
            let book = maren.book();
            prop_assert!(after.iter().all(|yarn| book.yarn(*yarn).is_some()));
            let tiers = book.scale().tiers().iter();
            prop_assert!(tiers.into_iter().all(|tier| book.yarn(tier.yarn).is_some()));
            prop_assert!(book.yarn(book.joining()).is_some());
            prop_assert!(book.yarns().len() <= 24);
        }
    }
}

fn worked_yarns(maren: &Talker) -> Vec<YarnId> {
    maren.book().worked(BlockNumber(1)).iter().map(|row| row.yarn).collect()
}

fn inks_name(book: &duskrow::blanket::Book, ink: usize) -> String {
    Inks::of(book).get(ink).name.clone()
}

/// Three days in Kelp, the rows of two of them worked.
fn worked() -> Talker {
    let mut maren = Talker::with_blanket("2027-01-14 12:00", "2027-01-01").without_nudges();
    maren.does(&["1 Jan A bit rough", "2 Jan A bit rough", "3 Jan A bit rough"]);
    maren.does(&["/rows 2", "[Worked]"]);
    maren
}

/// Up to what will be so.
fn shown() -> Talker {
    let mut maren = worked();
    maren.does(&ONE);
    maren.does(&["[Another yarn from now on]", "Sea Kelp", "#8FA3B0"]);
    maren
}

fn followed() -> Talker {
    let mut maren = shown();
    maren.taps("Use it from now on");
    maren
}

fn use_it(maren: &Talker) -> Button {
    match &maren.maker.talk.another_yarn {
        Some(draft) => Button::Colours(ColourTap::UseAnother { draft: draft.id }),
        None => {
            let id = maren.maker.talk.colours_before.as_ref().unwrap().id;
            Button::Colours(ColourTap::UseAnother { draft: id })
        }
    }
}

fn pull_back(maren: &mut Talker) {
    let change = Change::PulledBack { block: BlockNumber(1), rows_left: 0 };
    maren.maker.book.as_mut().unwrap().apply(&change);
}
