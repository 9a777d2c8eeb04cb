//! The list of further steps of set-up, in English.

use super::{Words, plain};
use crate::chat::button::SetUpStep;

pub fn list(steps: &[(SetUpStep, bool)]) -> Words {
    let named = |is_set: bool| {
        let names = steps.iter().filter(|(_, set)| *set == is_set).map(|(step, _)| name(*step));
        names.collect::<Vec<_>>().join(", ")
    };
    let line = |begins: &str, names: String| match names.is_empty() {
        true => None,
        false => Some(format!("{begins}: {names}.")),
    };
    lines!["Set-up list. All of it can wait."]
        .and(plain(line("Set by you", named(true))))
        .and(plain(line("As at the start", named(false))))
        .and(lines!["Tap one to see or change it."])
}

pub fn later() -> Words {
    lines!["These steps wait. To see the list, type /settings and tap Set-up list."]
}

pub fn caption(step: SetUpStep, set: bool) -> String {
    if set { format!("{}: set", name(step)) } else { name(step).to_owned() }
}

fn name(step: SetUpStep) -> &'static str {
    match step {
        SetUpStep::Scale => "Scale",
        SetUpStep::TierLines => "Words for each tier",
        SetUpStep::Question => "The question",
        SetUpStep::Colours => "Colours",
        SetUpStep::DefaultTier => "Default tier",
        SetUpStep::HowCommon => "How common each tier is",
        SetUpStep::Blocks => "Blocks",
        SetUpStep::Stitch => "Stitch",
        SetUpStep::Swatch => "Swatch",
        SetUpStep::Units => "Units",
        SetUpStep::Names => "US or UK names",
    }
}
