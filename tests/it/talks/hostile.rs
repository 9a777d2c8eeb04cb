//! The hostile corpus typed wherever the bot waits for something, and then met on every screen.
//!
//! What reaches the wire is held to the platform's limits and to UAX #9 by the talker itself, for
//! every message of every talk.

use duskrow::blanket::Label;

use super::halfway::{FLOWS, thursday as open_thursday};
use super::refusals::steps;
use super::talker::Talker;
use crate::world::hostile::{corpus, is_hidden, labels, turned_or_hidden};

/// Where a maker's words are kept, and how to read them there.
type Kept = fn(&Talker) -> Vec<String>;

fn thursday() -> Talker {
    let mut maren = Talker::with_blanket("2027-01-14 12:00", "2027-01-01").without_nudges();
    maren.does(&["14 Jan Ordinary"]);
    maren
}

#[test]
fn wherever_the_bot_waits_hostile_text_is_refused_in_a_sentence_or_kept_harmlessly() {
    let flows = FLOWS.iter().map(|(name, acts)| {
        let mut maren = open_thursday();
        maren.does(acts);
        (*name, maren)
    });
    let set_up = steps().into_iter().map(|(name, start)| (name, start()));
    for (place, start) in flows.chain(set_up) {
        for (name, text) in corpus() {
            let mut maren = start.clone();
            let said = maren.types(&text);
            assert!(!said.trim().is_empty(), "{place}, {name}: silence");
            assert!(said.chars().count() < 4000, "{place}, {name}: {said}");
            if said.contains("Nothing was changed.") {
                assert!(maren.maker.book == start.maker.book, "{place}, {name}: {said}");
                // A command leaves a step that waits for a line.
                let stays = text.starts_with('/') || maren.step() == start.step();
                assert!(stays, "{place}, {name}: {said}");
                let lines = said.lines().count();
                assert!(lines <= 3 || said.contains("Which fits"), "{place}, {name}: {said}");
            }
            assert_eq!(maren.erased, place == "erase" && text == "ERASE", "{place}, {name}");
        }
    }
}

#[test]
fn a_command_or_a_line_with_hostile_words_in_it_changes_no_answer() {
    let lines = ["/today ", "/rows ", "/block ", "/blanket ", "/start ", "where am I: "];
    let more = ["worked up to ", "14 Jan ", "Shingle ", "Shingle 83 lot "];
    for before in lines.into_iter().chain(more) {
        for (name, text) in corpus() {
            let (mut maren, asked) = (thursday(), thursday());
            let said = maren.types(&format!("{before}{text}"));
            assert!(!said.trim().is_empty(), "{before}{name}: silence");
            assert_eq!(maren.book().answers(), asked.book().answers(), "{before}{name}: {said}");
            if said.contains("Nothing was changed.") {
                assert_eq!(maren.book(), asked.book(), "{before}{name}: {said}");
            }
        }
    }
}

/// A text as it is kept on one line: without what hides in it.
fn on_one_line(text: &str) -> String {
    let line = text.split_whitespace().collect::<Vec<_>>().join(" ");
    line.chars().filter(|c| !is_hidden(*c)).collect::<String>().trim().to_owned()
}

#[test]
fn what_is_kept_is_what_was_typed_but_for_what_nobody_sees() {
    let label: Kept =
        |maren| maren.book().scale().tiers().iter().map(|tier| tier.label.to_string()).collect();
    let name: Kept =
        |maren| maren.book().yarns().iter().map(|yarn| yarn.name.to_string()).collect();
    let question: Kept =
        |maren| maren.book().question().map(|it| it.as_str().to_owned()).into_iter().collect();
    let words: Kept = |maren| {
        let tiers = maren.book().scale().tiers().iter();
        tiers.filter_map(|it| Some(maren.book().tier_line(it.id)?.as_str().to_owned())).collect()
    };
    let people: Kept =
        |maren| maren.book().people().values().map(|line| line.as_str().to_owned()).collect();
    let note: Kept = |maren| {
        let notes = maren.notes("2027-01-14");
        notes.iter().map(|note| note.split_whitespace().collect::<Vec<_>>().join(" ")).collect()
    };
    let places: [(&[&str], Kept, usize); 7] = [
        (&["/settings", "[Scale]", "[Smooth]", "[Rename]"], label, 15),
        (
            &["/settings", "[Colours]", "[See or change a colour]", "[Kelp]", "[Another name]"],
            name,
            12,
        ),
        (&["/settings", "[Scale]", "[The question]"], question, 30),
        (&["/settings", "[Words for each tier]", "[Smooth]"], words, 40),
        (&["/settings", "[People and numbers]", "[Add a line]"], people, 40),
        (&["/today", "[Note]"], note, 40),
        (&["/settings", "[Scale]", "[Add a tier]", "[As the lowest]"], label, 15),
    ];
    for (way, kept, least) in places {
        let mut at = thursday();
        at.does(way);
        let mut intact = 0;
        for (name, text) in corpus() {
            let mut maren = at.clone();
            let said = maren.types(&text);
            // A new tier is there once it has a yarn.
            if maren.labels().contains(&"Kelp") {
                maren.taps("Kelp");
            }
            let new: Vec<String> =
                kept(&maren).into_iter().filter(|text| !kept(&at).contains(text)).collect();
            if let [new] = new.as_slice() {
                assert_eq!(*new, on_one_line(&text), "{way:?}, {name}: {said}");
                intact += 1;
            }
            assert!(new.len() <= 1, "{way:?}, {name}");
        }
        assert!(intact >= least, "{way:?}: {intact}");
    }
}

#[test]
fn a_tier_with_any_label_that_is_kept_can_be_answered_by_typing_it() {
    let mut answered = 0;
    for (name, label) in labels() {
        let mut maren = thursday();
        maren.does(&["/settings", "[Scale]", "[Smooth]", "[Rename]", label.as_str()]);
        if maren.book().scale().labelled(&label).is_none() {
            continue;
        }
        maren.turn("2027-01-15 12:00");
        maren.types(label.as_str());
        assert_eq!(maren.kept("2027-01-15").as_deref(), Some(label.as_str()), "{name}");
        answered += 1;
    }
    assert!(answered >= 15, "{answered}");
}

/// Makers whose tiers and yarns have all the labels there can be, twelve at a time.
fn makers() -> Vec<Talker> {
    let labels: Vec<Label> = labels().into_iter().map(|(_, label)| label).collect();
    let maker = |some: &[Label]| {
        let of = |id: u8| some[usize::from(id - 1) % some.len()].clone();
        let named = |letter: char, id: u8| {
            let own = u8::try_from(some.len()).unwrap();
            if id <= own { of(id) } else { Label::parse(&format!("{letter}{id}")).unwrap() }
        };
        let maren = Talker::with_named_scale(
            "2027-01-14 12:00",
            (12, 3),
            |id| named('T', id),
            |id| named('Y', id),
        );
        let mut maren = maren.answering("1234567890121").without_nudges();
        maren.does(&["/today 13 Jan", "[Note]", "a שלום b <b>c</b>", "/rows 4", "[Worked]"]);
        maren.does(&["/settings", "[Scale]", "[The question]", "עולם?"]);
        maren.does(&["/settings", "[People and numbers]", "[Add a line]", "שלום, 555 0134"]);
        maren
    };
    labels.chunks(12).map(maker).collect()
}

/// The talker looks at each message; here they all come.
#[test]
fn every_screen_of_a_maker_with_hostile_names_is_harmless() {
    let commands = [
        "/today",
        "/today 3 Jan",
        "/open",
        "/rows",
        "/block",
        "/block all",
        "/yarn",
        "/recap",
        "/blanket",
        "/stitch",
        "/settings",
        "/help",
        "/export",
        "/blankets",
        "/privacy",
        "where am I",
        "1 Jan",
        "Shnigle",
        "/pause",
    ];
    let mut screens = 0;
    for maren in makers() {
        for command in commands {
            let mut at = maren.clone();
            at.types(command);
            buttons_are_harmless(&at);
            for index in 0..at.messages.last().unwrap().keys.len() {
                let mut next = at.clone();
                tap(&mut next, index);
                let keys = next.messages.last().unwrap().keys.len();
                for index in (0..keys).step_by(3) {
                    tap(&mut next.clone(), index);
                }
                screens += keys + 1;
            }
        }
    }
    assert!(screens > 1_000, "{screens}");
}

fn tap(maren: &mut Talker, index: usize) {
    let message = maren.messages.len() - 1;
    let (_, button) = maren.messages[message].keys[index].clone();
    maren.taps_button(button, message);
    buttons_are_harmless(maren);
}

/// A name alone on a button turns nothing; beside other words it stands between isolates.
fn buttons_are_harmless(maren: &Talker) {
    let Some(book) = &maren.maker.book else { return };
    let tiers = book.scale().tiers().iter().map(|tier| tier.label.as_str());
    let names: Vec<&str> =
        tiers.chain(book.yarns().iter().map(|yarn| yarn.name.as_str())).collect();
    for label in maren.labels() {
        let fault = turned_or_hidden(label).filter(|_| !names.contains(&label));
        assert_eq!(fault, None, "under {:?}", maren.messages.last().unwrap().text);
    }
}
