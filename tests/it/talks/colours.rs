//! The colours of the yarns: what the check says, every way to change one, and what is no colour.

use duskrow::blanket::colours::{View, bad_pairs, in_grey, in_view, lightness, read_hex, worst};
use duskrow::blanket::{Change, Label, TierId, Yarn, YarnId};
use duskrow::chat::button::{Button, ColourTap};
use duskrow::chat::lexicon::Palette;
use duskrow::wording::en;

use super::talker::Talker;

#[test]
fn the_first_colours_can_be_told_apart_and_merge_in_grey_and_in_dim_light() {
    let said = maren().does(CHECK);
    assert_eq!(
        said,
        "Colours\n\
         Normal sight: each pair can be told apart.\n\
         For someone who strongly mixes up red and green and sees red as dark (protan): each pair \
         can be told apart.\n\
         For someone who strongly mixes up red and green (deutan): each pair can be told apart.\n\
         For someone who strongly mixes up blue and green (tritan): each pair can be told apart.\n\
         In a black-and-white photo: Shingle and Net Float look the same; Brick and Harbour Blue, \
         Mussel and Tarred Rope, Tarred Rope and Rosehip are close.\n\
         In very dim light, as a guess: Tarred Rope and Rosehip, Mussel and Brick, Net Float and \
         Harbour Blue look the same; Kelp and Harbour Blue are close.\n\
         Close: you can tell them apart side by side in bright light.\n\
         A code on a screen is not the yarn. Lay two strands together, and look at a \
         black-and-white photo of them."
    );
    // The smallest differences, as they were searched for.
    let maren = maren();
    let colours: Vec<_> = maren.book().yarns().iter().map(|yarn| yarn.rgb).collect();
    let smallest = |view| in_view(&colours, view)[0].apart;
    assert!((smallest(View::Tritan) - 13.7742).abs() < 1e-4, "{}", smallest(View::Tritan));
    assert!((smallest(View::Deutan) - 13.8058).abs() < 1e-4, "{}", smallest(View::Deutan));
    assert!((in_grey(&colours)[0].apart - (81.9 - 77.8)).abs() < 0.1);
}

#[test]
fn no_pair_of_a_ready_palette_is_close_for_anybody_whatever_the_number_of_tiers() {
    let palettes = en::LEXICON.palettes;
    assert_eq!(palettes.len(), 3);
    for palette in palettes {
        let Palette { name, tiers, joining } = palette;
        let mut names: Vec<_> = tiers.iter().chain([joining]).map(|(name, _)| *name).collect();
        assert!(names.iter().all(|name| Label::parse(name).is_ok()), "{name}");
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), 13, "{name}");
        for count in 2..=12 {
            let chosen = palette.of_tiers(count);
            assert_eq!((chosen[0], chosen[count - 1]), (tiers[0], tiers[11]), "{name} {count}");
            let colours: Vec<_> = chosen.iter().chain([joining]).map(|(_, rgb)| *rgb).collect();
            assert_eq!(bad_pairs(&colours), [], "{name} {count}");
            let pairs = colours
                .iter()
                .enumerate()
                .flat_map(|(at, one)| colours[at + 1..].iter().map(|other| worst(*one, *other)));
            let least = pairs.fold(f64::INFINITY, f64::min);
            assert!(count != 7 || least >= 14.5, "{name}: {least}");
        }
        let mut maren = maren();
        let said = maren.does(&check_and(&["[Ready palettes]", &format!("[{name}]")]));
        assert!(said.starts_with(&format!("Colours\nYour yarns are those of {name} now.\n")));
        assert_eq!(said.matches("each pair can be told apart").count(), 4, "{said}");
        assert!(!said.contains("For these four kinds of sight it is enough to change"), "{said}");
        let kept: Vec<_> = maren.book().yarns().iter().map(|yarn| yarn.rgb).collect();
        let taken: Vec<_> =
            palette.of_tiers(7).iter().chain([joining]).map(|(_, rgb)| *rgb).collect();
        assert_eq!(kept, taken, "{name}");
    }
    // Seven tiers of the first can be read in grey as well.
    let light: Vec<f64> = palettes[0].of_tiers(7).iter().map(|(_, rgb)| lightness(*rgb)).collect();
    assert!(light.windows(2).all(|step| step[1] - step[0] >= 5.0), "{light:?}");
}

#[test]
fn a_pair_that_looks_alike_is_named_and_cured_by_the_shade_that_is_offered() {
    for label in ["Darker", "Lighter"] {
        let mut maren = alike();
        let said = maren.does(CHECK);
        assert!(said.contains("\nNormal sight: Shingle and Net Float look the same.\n"), "{said}");
        assert!(said.contains("does not cure a pair that looks alike.\n"), "{said}");
        let enough = "\nFor these four kinds of sight it is enough to change Shingle. Photos";
        assert!(said.contains(enough), "{said}");
        assert!(said.contains("Lay two strands together, and look at a black-and-white photo"));
        assert_eq!(maren.labels()[0], "Shingle");
        let said = maren.taps("Shingle");
        assert!(said.contains("\nFor some eyes it is close to Net Float.\n"), "{said}");
        let shade = maren.labels().into_iter().find(|it| it.starts_with(label)).unwrap().to_owned();
        let said = maren.taps(&shade);
        let code = shade.split(": ").nth(1).unwrap();
        assert!(said.starts_with(&format!("Colours\nShingle is {code} now.\n")), "{said}");
        assert!(said.contains("\nNormal sight: each pair can be told apart.\n"), "{said}");
        assert!(!said.contains("For these four kinds of sight it is enough to change"), "{said}");
    }
}

#[test]
fn colours_that_do_not_suffice_alone_are_changed_together() {
    let mut maren = maren();
    // A soft palette: two of its colours are enough, and both are needed.
    for (name, code) in [
        ("Mussel", "#5B2A86"),
        ("Tarred Rope", "#7785AC"),
        ("Kelp", "#9AC6C5"),
        ("Shingle", "#A5E6BA"),
        ("Net Float", "#C7B7A3"),
        ("Brick", "#A0C4A8"),
        ("Harbour Blue", "#000000"),
    ] {
        maren.does(&check_and(&["[See or change a colour]", &format!("[{name}]"), code]));
    }
    let said = maren.does(CHECK);
    assert!(
        said.contains(
            "For these four kinds of sight it is enough to change these 2: Shingle, Brick."
        ),
        "{said}"
    );
    assert!(said.contains("\nChanged together: Shingle #"), "{said}");
    let said = undone(&mut maren, &["[Change these 2 together]"]);
    assert!(!said.contains("For these four kinds of sight it is enough to change"), "{said}");
}

#[test]
fn every_way_to_change_a_colour_shows_the_check_and_can_be_undone() {
    let cases: [(&[&str], &str); 13] = [
        (&["[See or change a colour]", "[Kelp]", "#8fa3b0"], "Kelp is #8FA3B0 now."),
        (&["[See or change a colour]", "[Kelp]", "abc"], "Kelp is #AABBCC now."),
        (&["[See or change a colour]", "[Kelp]", "0xaabbcc"], "Kelp is #AABBCC now."),
        (&["[See or change a colour]", "[Kelp]", "#AABBCC."], "Kelp is #AABBCC now."),
        (&["[See or change a colour]", "[Kelp]", "rgb(1, 2, 3)"], "Kelp is #010203 now."),
        (&["[See or change a colour]", "[Kelp]", " 8F A3 B0 "], "Kelp is #8FA3B0 now."),
        (&["[See or change a colour]", "[Kelp]", "#dca"], "Kelp is #DDCCAA now."),
        (&["[See or change a colour]", "[Harbour Blue]", "000"], "Harbour Blue is #000000 now."),
        (
            &["[See or change a colour]", "[Kelp]", "[Another name]", "  Eel   grass "],
            "Kelp is called Eel grass now.",
        ),
        (
            &["[See or change a colour]", "[Kelp]", "[Another name]", "<b>Kelp</b> 🧶"],
            "Kelp is called <b>Kelp</b> 🧶 now.",
        ),
        (&["[Ready palettes]", "[Window]"], "Your yarns are those of Window now."),
        (&["[Other orders]", "[Order by lightness]"], "The tiers have other yarns now."),
        (&["[Other orders]", "[Order in small steps]"], "The tiers have other yarns now."),
    ];
    for (acts, expected) in cases {
        let said = undone(&mut maren(), &check_and(acts));
        let mut lines = said.lines();
        assert_eq!((lines.next(), lines.next()), (Some("Colours"), Some(expected)), "{acts:?}");
        assert!(said.contains("\nNormal sight: "), "{said}");
    }
}

#[test]
fn what_is_no_code_and_no_name_changes_nothing_and_may_be_typed_anew() {
    let code = ["[See or change a colour]", "[Kelp]"];
    let name = ["[See or change a colour]", "[Kelp]", "[Another name]"];
    let (long, bidi) = ("x".repeat(25), "\u{202E}Kelp\u{202C}");
    let no_code = "I do not know the colour code ";
    let cases: [(&[&str], &str, &str); 24] = [
        (&code, "", no_code),
        (&code, "#", no_code),
        (&code, "0x8FA3", no_code),
        (&code, "rgb(1,2,256)", no_code),
        (&code, "#８FA3B0", no_code),
        (&code, "#8FA3B0FF", no_code),
        (&code, "-8FA3B", no_code),
        (&code, "yesterday", no_code),
        (&code, "red", no_code),
        (&code, "#12345", no_code),
        (&code, "#1234567", no_code),
        (&code, "12 34 5G", no_code),
        (&code, "<b>#AC944B</b>", no_code),
        (&code, "🧶", no_code),
        (&code, bidi, no_code),
        (&name, "   ", "I see no text in this name."),
        (&name, &long, "A name has at most 24 characters."),
        (&name, bidi, "This name has a character that is not shown."),
        (&name, "\u{200B}", "This name has a character that is not shown."),
        (&name, "Shin\u{200B}gle", "This name has a character that is not shown."),
        (&name, "🧶🧶", "This name has no letter."),
        (&name, "83", "This name has no letter."),
        (&name, " shingle. ", "Another colour is called Shingle."),
        (&name, "HARBOUR BLUE", "Another colour is called Harbour Blue."),
    ];
    for (acts, typed, expected) in cases {
        let mut maren = maren();
        maren.does(&check_and(acts));
        let (book, talk) = (maren.book().clone(), maren.maker.talk.clone());
        let said = maren.types(typed);
        assert!(said.starts_with(expected), "{typed:?}: {said}");
        assert!(said.contains("Nothing was changed."), "{said}");
        assert_eq!((maren.book(), &maren.maker.talk), (&book, &talk), "{typed:?}");
        // The step waits; a code is no step's name, and the other way round.
        let said = maren.types(if acts.len() == 2 { "#8FA3B0" } else { "Eelgrass" });
        assert!(said.starts_with("Colours\nKelp is "), "{said}");
    }
}

#[test]
fn back_leads_from_every_screen_to_where_it_came_from() {
    let cases: [(&[&str], &str); 6] = [
        (&[], "I ask every day at 21:00."),
        (&["[See or change a colour]"], "Colours\nNormal sight"),
        (&["[See or change a colour]", "[Kelp]"], "Colours\nNormal sight"),
        (&["[See or change a colour]", "[Kelp]", "[Another name]"], "Kelp\nCode: #AC944B."),
        (&["[Ready palettes]"], "Colours\nNormal sight"),
        (&["[Other orders]"], "Colours\nNormal sight"),
    ];
    for (acts, expected) in cases {
        let mut maren = maren();
        let before = maren.book().clone();
        maren.does(&check_and(acts));
        let said = maren.taps("Back");
        assert!(said.starts_with(expected), "{acts:?}: {said}");
        assert_eq!(*maren.book(), before);
    }
}

#[test]
fn another_order_leaves_every_worked_row_as_it_is_and_says_how_many_differ() {
    let mut maren = maren();
    maren.does(&["1 Jan Smooth", "2 Jan Rough", "3 Jan Very rough", "/rows 3", "[Worked]"]);
    let worked = maren.book().worked(duskrow::blanket::BlockNumber(1)).to_vec();
    let said = maren.does(&check_and(&["[Other orders]"]));
    assert!(
        said.contains("\nBy lightness: Mussel, Tarred Rope, Rosehip, Brick, Net Float, Kelp")
            || said
                .contains("\nBy lightness: Mussel, Tarred Rope, Rosehip, Brick, Kelp, Net Float")
    );
    assert!(said.contains("\nNo order cures a pair that looks alike.\n"), "{said}");
    assert!(said.ends_with("Worked rows stay worked. Nothing is pulled back."), "{said}");
    assert!(said.contains("\n1 worked row is then in another yarn than its tier.\n"), "{said}");
    let said = maren.taps("Order by lightness");
    let expected = "\n1 worked row is in another yarn than its tier. It stays worked.\n";
    assert!(said.contains(expected), "{said}");
    assert_eq!(maren.book().worked(duskrow::blanket::BlockNumber(1)), worked);
    let said = maren.does(&check_and(&["[Other orders]"]));
    assert!(said.contains("\nBy lightness: your tiers are in this order.\n"), "{said}");
    assert!(!maren.labels().contains(&"Order by lightness"));
}

#[test]
fn a_changed_colour_says_what_becomes_of_the_rows_in_it() {
    let mut maren = maren();
    maren.does(&["1 Jan A bit rough", "2 Jan A bit rough", "/rows 2", "[Worked]"]);
    let said = maren.does(&check_and(&["[See or change a colour]", "[Kelp]"]));
    assert!(said.contains("\n2 rows are worked in it.\n"), "{said}");
    let said = maren.types("#8FA3B0");
    let expected = "\n2 worked rows are shown in the new colour too. They stay worked.\nIf you go \
        on in another yarn instead, tap Undo. Then open the colour: where its tier goes on, there \
        is Another yarn from now on.\n";
    assert!(said.contains(expected), "{said}");
    assert_eq!(maren.book().rows_in(YarnId(3)), 2);
}

#[test]
fn two_tiers_with_one_yarn_are_said_to_look_the_same() {
    let mut maren = maren();
    let yarns = vec![(TierId(2), YarnId(3))];
    maren.maker.book.as_mut().unwrap().apply(&Change::TiersMoved { yarns });
    let said = maren.does(CHECK);
    let expected = "Colours\nRough and A bit rough are both Kelp: their rows look the same.\n";
    assert!(said.starts_with(expected), "{said}");
}

#[test]
fn two_tiers_in_one_colour_are_kept_and_said_to_look_the_same() {
    // One yarn for two tiers, as the maker taps it.
    let mut one = maren();
    one.does(&["/settings", "[Scale]", "[Add a tier]", "[As the lowest]", "Calm", "[Kelp]"]);
    let said = one.does(CHECK);
    let expected = "Colours\nCalm and A bit rough are both Kelp: their rows look the same.\n";
    assert!(said.starts_with(expected), "{said}");
    // Two yarns of one code.
    let mut two = maren();
    let said = two.does(&check_and(&["[See or change a colour]", "[Kelp]", "#A05E41"]));
    assert!(said.contains("\nNormal sight: Kelp and Brick look the same.\n"), "{said}");
}

#[test]
fn twelve_colours_that_are_one_are_said_in_few_lines_and_none_is_forbidden() {
    let mut maren = Talker::with_scale("2027-01-14 12:00", 12, 1);
    let said = maren.does(CHECK);
    assert!(said.contains("; 74 more pairs are like that.\n"), "{said}");
    assert!(said.contains("\nYou can keep them too.\n"), "{said}");
    assert!(said.chars().count() < 4000, "{}", said.chars().count());
    let before = maren.book().clone();
    let said = maren.does(&["[Ready palettes]", "[Shed]"]);
    assert!(!said.contains("For these four kinds of sight it is enough to change"), "{said}");
    assert_ne!(*maren.book(), before);
}

#[test]
fn a_smaller_scale_gets_some_colours_of_a_palette_spread_over_all() {
    for (tiers, expected) in [
        (2, vec!["Burnt Pan", "Milk Jug"]),
        (3, vec!["Burnt Pan", "Olive Dish", "Milk Jug"]),
        (6, vec!["Burnt Pan", "Beetroot Jar", "Cocoa Tin", "Egg Cup", "Tea Towel", "Milk Jug"]),
    ] {
        let mut maren = Talker::with_scale("2027-01-14 12:00", tiers, 1);
        maren.does(&check_and(&["[Ready palettes]", "[Kitchen]"]));
        let mut names: Vec<String> =
            maren.book().yarns().iter().map(|yarn| yarn.name.to_string()).collect();
        assert_eq!(names.pop().as_deref(), Some("Enamel Mug"), "{tiers}");
        assert_eq!(names, expected, "{tiers}");
    }
}

#[test]
fn an_undo_of_before_the_last_change_does_nothing() {
    let mut maren = maren();
    maren.does(&check_and(&["[See or change a colour]", "[Kelp]", "#8FA3B0"]));
    let first = maren.messages.last().unwrap().keys[0].1.clone();
    maren.does(&check_and(&["[See or change a colour]", "[Brick]", "#112233"]));
    let index = maren.messages.len() - 1;
    let last = maren.messages[index].keys[0].1.clone();
    let before = maren.book().clone();
    assert!(maren.taps_button(first, index).contains("Nothing was changed."));
    assert_eq!(*maren.book(), before);
    // The last one is safe to tap twice.
    for _ in 0..2 {
        let said = maren.taps_button(last.clone(), index);
        assert!(said.starts_with("Colours\nThe colours are as they were before.\n"), "{said}");
    }
    assert_eq!(yarn(&maren, 6).rgb, read_hex("#A05E41").unwrap());
    assert_eq!(yarn(&maren, 3).rgb, read_hex("#8FA3B0").unwrap());
}

#[test]
fn forged_orders_and_yarns_nobody_has_change_nothing() {
    let order =
        |yarns: &[u8]| ColourTap::Order { yarns: yarns.iter().copied().map(YarnId).collect() };
    let taps = [
        order(&[1, 1, 1, 1, 1, 1, 1]),
        order(&[1, 2, 3, 4, 5, 6, 8]),
        order(&[1, 2]),
        order(&[7, 6, 5, 4, 3, 2, 1, 1]),
        order(&[1, 2, 3, 4, 5, 6, 7]),
        ColourTap::Recolour { to: vec![(YarnId(99), [1; 3])] },
        ColourTap::One { yarn: YarnId(99) },
        ColourTap::Name { yarn: YarnId(99) },
        ColourTap::Palette { number: 9 },
        ColourTap::Undo { id: 7 },
    ];
    for tap in taps {
        let mut maren = maren();
        maren.does(CHECK);
        let before = maren.book().clone();
        let said = maren.taps_button(Button::Colours(tap.clone()), 0);
        assert!(!said.is_empty(), "{tap:?}");
        assert_eq!(*maren.book(), before, "{tap:?}");
    }
}

const CHECK: &[&str] = &["/settings", "[Colours]"];

/// The check, and then these acts.
fn check_and<'a>(acts: &[&'a str]) -> Vec<&'a str> {
    CHECK.iter().chain(acts).copied().collect()
}

/// Thursday at noon, two weeks after the blanket began.
fn maren() -> Talker {
    Talker::with_blanket("2027-01-14 12:00", "2027-01-01").without_nudges()
}

/// Shingle is typed as a yellow that Net Float is too.
fn alike() -> Talker {
    let mut maren = maren();
    maren.does(&check_and(&["[See or change a colour]", "[Shingle]", "#EDBB3A"]));
    maren
}

#[test]
fn undo_gives_no_yarn_a_name_that_another_got_meanwhile() {
    let mut maren = maren();
    maren.does(&check_and(&["[See or change a colour]", "[Kelp]", "[Another name]", "Moss"]));
    let message = maren.messages.len() - 1;
    let keys = maren.messages[message].keys.clone();
    let undo = keys.into_iter().find(|(caption, _)| caption == "Undo").unwrap().1;
    maren.does(&["/settings", "[Scale]", "[Add a tier]", "[As the lowest]", "Foggy", "Kelp"]);
    maren.types("#112233");
    let before = maren.maker.clone();
    let names = before.book.as_ref().unwrap().yarns().iter().map(|yarn| yarn.name.as_str());
    assert!(names.clone().any(|name| name == "Kelp") && names.clone().any(|name| name == "Moss"));
    let said = maren.taps_button(undo, message);
    assert_eq!(
        said,
        "Another colour is called Kelp by now. Nothing was changed.\n\
         Give that one another name first, then tap Undo."
    );
    assert_eq!(maren.maker.book, before.book);
}

/// The acts change something, and *Undo* leads back to the book as it was.
fn undone(maren: &mut Talker, acts: &[&str]) -> String {
    let before = maren.book().clone();
    let said = maren.does(acts);
    assert_ne!(*maren.book(), before, "{acts:?}: {said}");
    assert_eq!(maren.labels()[0], "Undo", "{acts:?}");
    let mut other = maren.clone();
    let undone = other.taps("Undo");
    assert!(undone.starts_with("Colours\nThe colours are as they were before.\n"), "{undone}");
    assert_eq!(*other.book(), before, "{acts:?}");
    said
}

fn yarn(maren: &Talker, id: u8) -> Yarn {
    maren.book().yarn(YarnId(id)).unwrap().clone()
}
