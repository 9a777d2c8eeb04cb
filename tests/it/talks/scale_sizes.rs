//! Scales of 2 and of 12 tiers, with labels as long and as wide as there are: every way a day is
//! answered, and every list that names its tier or its yarn.

use duskrow::blanket::{LABEL_CHARS_MAX, Label};

use super::talker::Talker;

/// 24 characters that take two columns each; the last ones tell them apart.
fn wide(what: char, id: u8) -> Label {
    let number: String = [id / 10, id % 10].map(|digit| WIDE[usize::from(digit)]).iter().collect();
    let text = format!("{}{number}", what.to_string().repeat(LABEL_CHARS_MAX - 2));
    Label::parse(&text).unwrap()
}

const WIDE: [char; 10] = ['零', '壱', '弐', '参', '肆', '伍', '陸', '漆', '捌', '玖'];

fn maren(tiers: u8, default: u8) -> Talker {
    let (label, name) = (|id| wide('段', id), |id| wide('糸', id));
    Talker::with_named_scale("2027-01-14 12:00", (tiers, default), label, name)
}

/// A message takes 4096 UTF-16 units.
fn fits(said: &str) {
    assert!(said.encode_utf16().count() <= 4096, "{} units", said.encode_utf16().count());
}

#[test]
fn every_tier_is_tapped_typed_and_counted() {
    for tiers in [2, 12] {
        for id in 1..=tiers {
            let label = wide('段', id).to_string();
            let ways: [&[&str]; 4] = [
                &["/today", &format!("[{label}]")],
                &[&label],
                &[&id.to_string()],
                &[&format!("14 Jan {label}")],
            ];
            for way in ways {
                let mut maren = maren(tiers, 1);
                let said = maren.does(way);
                let kept = format!("Kept: Thursday 14 January, {label}.");
                assert!(said.starts_with(&kept), "{tiers} {way:?}: {said}");
                assert!(said.contains(wide('糸', id).as_str()), "{said}");
            }
        }
        let mut maren = maren(tiers, 1);
        let typed = (tiers + 1).to_string();
        assert!(maren.types(&typed).contains("Nothing was changed."), "{typed}");
        assert_eq!(maren.kept("2027-01-14"), None);
    }
}

#[test]
fn not_sure_leads_to_every_tier() {
    for tiers in [2, 12] {
        for default in [1, tiers] {
            let mut maren = maren(tiers, default);
            let said = maren.does(&["/today", "[Not sure?]"]);
            assert!(said.contains(wide('段', default).as_str()), "{said}");
            let parts: Vec<String> = maren.labels().iter().map(|it| (*it).to_owned()).collect();
            let mut reached = Vec::new();
            for part in parts {
                let mut maren = maren.clone();
                fits(&maren.taps(&part));
                let labels = maren.labels();
                let tiers = labels.iter().map(|it| it.trim_start_matches("Keep "));
                reached.extend(tiers.filter(|it| it.starts_with('段')).map(str::to_owned));
            }
            for id in 1..=tiers {
                assert!(reached.contains(&wide('段', id).to_string()), "{tiers} {default} {id}");
            }
        }
    }
}

#[test]
fn rows_blocks_the_recap_and_the_place_name_every_tier_and_its_yarn() {
    for tiers in [2_u8, 12] {
        let mut maren = maren(tiers, 1);
        for day in 1..=13_u8 {
            maren.types(&format!("{day} Jan {}", wide('段', 1 + day % tiers)));
        }
        let rows = maren.types("/rows 12");
        fits(&rows);
        let worked = maren.taps("Worked");
        assert!(worked.contains("12"), "{worked}");
        for id in 1..=tiers {
            assert!(rows.contains(wide('糸', id).as_str()), "{tiers} {id}: {rows}");
        }
        for command in ["/block", "/block all", "/yarn", "/open", "/settings"] {
            fits(&maren.types(command));
        }
        let recap = maren.types("/recap");
        fits(&recap);
        assert!(recap.contains(wide('段', 1 + 13 % tiers).as_str()), "{recap}");
        // Row 12 is the last one worked; two of its stripes are enough to find it.
        let stripes = [12_u8, 11].map(|day| wide('糸', 1 + day % tiers).to_string());
        let place = maren.types(&format!("where am I: {}", stripes.join(", ")));
        fits(&place);
        assert!(!place.contains("Nothing was changed."), "{place}");
        assert!(maren.does(&["/settings", "[Scale]"]).contains(wide('段', tiers).as_str()));
        fits(&maren.does(&["[Add a tier]"]));
    }
}
