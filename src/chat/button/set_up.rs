//! The list of further steps of set-up, and how a tap on it travels in a token.

use super::Button;

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum SetUpTap {
    /// The list in place of what was tapped.
    List,
    /// The list as a new message, so that the one that was tapped stays.
    Open,
    Go {
        step: SetUpStep,
    },
    /// The list is left for another day.
    Later,
}

/// A step that can be taken, or left out, in any order and at any time.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum SetUpStep {
    Scale,
    TierLines,
    Question,
    Colours,
    DefaultTier,
    HowCommon,
    Blocks,
    Stitch,
    Swatch,
    Units,
    /// US or UK names of stitches.
    Names,
}

impl SetUpStep {
    pub const ALL: [SetUpStep; 11] = [
        SetUpStep::Scale,
        SetUpStep::TierLines,
        SetUpStep::Question,
        SetUpStep::Colours,
        SetUpStep::DefaultTier,
        SetUpStep::HowCommon,
        SetUpStep::Blocks,
        SetUpStep::Stitch,
        SetUpStep::Swatch,
        SetUpStep::Units,
        SetUpStep::Names,
    ];

    fn code(self) -> &'static str {
        match self {
            SetUpStep::Scale => "scale",
            SetUpStep::TierLines => "lines",
            SetUpStep::Question => "asks",
            SetUpStep::Colours => "hue",
            SetUpStep::DefaultTier => "default",
            SetUpStep::HowCommon => "common",
            SetUpStep::Blocks => "blocks",
            SetUpStep::Stitch => "stitch",
            SetUpStep::Swatch => "swatch",
            SetUpStep::Units => "units",
            SetUpStep::Names => "names",
        }
    }
}

impl From<SetUpTap> for Button {
    fn from(tap: SetUpTap) -> Button {
        Button::SetUp(tap)
    }
}

impl SetUpTap {
    /// The fields after the name of the button.
    pub fn fields(self) -> String {
        match self {
            SetUpTap::List => "list".to_owned(),
            SetUpTap::Open => "open".to_owned(),
            SetUpTap::Go { step } => format!("go|{}", step.code()),
            SetUpTap::Later => "later".to_owned(),
        }
    }

    pub fn read(fields: &[&str]) -> Option<SetUpTap> {
        Some(match fields {
            ["list"] => SetUpTap::List,
            ["open"] => SetUpTap::Open,
            ["go", code] => {
                let step = SetUpStep::ALL.into_iter().find(|step| step.code() == *code)?;
                SetUpTap::Go { step }
            }
            ["later"] => SetUpTap::Later,
            _ => return None,
        })
    }
}
