//! The maker's own scale in English: its tiers, the question, and what cannot be so.

use super::dates::{isolated, quoted};
use super::days::{USUAL_QUESTION, asked};
use super::{Span, Words, name, plain};
use crate::blanket::{
    LABEL_CHARS_MAX, Label, LabelFault, OwnQuestion, QUESTION_CHARS_MAX, QuestionFault,
};
use crate::chat::scale::{
    NameFault, ScaleCaption, ScaleDone, ScaleRefusal, ScaleSaid, ScaleWait, TierInList,
};

pub fn say(said: &ScaleSaid) -> Words {
    match said {
        ScaleSaid::Home { tiers, question, done } => {
            let listed = (1..).zip(tiers).map(|(place, tier)| in_list(place, tier));
            news(done.as_ref())
                .and(heading("Your scale, lowest tier first"))
                .and(plain(listed))
                .and(lines![format!("The question: {}", asked(question.as_ref()))])
        }
        ScaleSaid::Tier { tier, place, tiers, days, done } => {
            let mut lines = vec![format!("Tier {place} of {tiers}. Yarn: {}.", name(&tier.yarn))];
            if tier.default {
                lines.push("It is the default tier.".to_owned());
            }
            lines.push(days_have_it(*days));
            lines.push("A tier that is renamed or moved keeps its days.".to_owned());
            news(done.as_ref()).and(heading(&name(&tier.label))).and(plain(lines))
        }
        ScaleSaid::AskLabel { tier, days } => lines![
            format!("What is {} called from now on?", name(tier)),
            format!("Type a label of at most {LABEL_CHARS_MAX} characters. {}", it_keeps(*days)),
        ],
        ScaleSaid::AskDefault { now } => lines![
            format!("Which tier is the default tier? Now: {}.", name(now)),
            "An open day is set to it when you say so. Days that have a tier keep it.",
        ],
        ScaleSaid::AskQuestion { now } => lines![
            format!("What do I ask each evening, below the date? Now: {}", asked(now.as_ref())),
            format!("Type a question of at most {QUESTION_CHARS_MAX} characters."),
            "A locked screen may show it.",
        ],
        ScaleSaid::AskWhere => lines!["Where does the new tier stand?"],
        ScaleSaid::AskNewLabel { above } => {
            let place = match above {
                Some(above) => format!("It stands above {}.", name(above)),
                None => "It is the lowest.".to_owned(),
            };
            lines![
                format!("What is the new tier called? {place}"),
                format!("Type a label of at most {LABEL_CHARS_MAX} characters."),
            ]
        }
        ScaleSaid::AskYarn { tier } => lines![
            format!("Which yarn is {} worked in?", name(tier)),
            "Tap a yarn, or type the name of a new one.",
        ],
        ScaleSaid::AskColour { yarn, offers } => {
            let how = match offers {
                true => "Tap a colour, or type its colour code, like #4F7FB0.",
                false => "Type its colour code, like #4F7FB0. A drawing program shows it.",
            };
            lines![format!("{} is a new yarn. What colour is it?", name(yarn)), how]
        }
        ScaleSaid::AskRemove { tier, days, worked } => ask_remove(tier, *days, *worked),
        ScaleSaid::Gone => lines!["That button is from an earlier step. Nothing was changed."],
    }
}

/// "4. Ordinary: Shingle (default tier)"
fn in_list(place: usize, tier: &TierInList) -> String {
    let mark = if tier.default { " (default tier)" } else { "" };
    format!("{place}. {}: {}{mark}", name(&tier.label), name(&tier.yarn))
}

fn ask_remove(tier: &Label, days: usize, worked: usize) -> Words {
    let rows = match worked {
        0 => "None of their rows is worked.".to_owned(),
        1 => "1 of their rows is worked. It stays worked. If the new tier has \
              another yarn, it differs from its day."
            .to_owned(),
        _ => format!(
            "{worked} of their rows are worked. They stay worked. If the new tier has another \
             yarn, they differ from their days."
        ),
    };
    lines![
        match days {
            1 => format!("1 day has {}. Which tier does it get?", name(tier)),
            _ => format!("{days} days have {}. Which tier do they get?", name(tier)),
        },
        rows,
        format!("Then {} is removed.", name(tier)),
    ]
}

fn news(done: Option<&ScaleDone>) -> Words {
    done.map(self::done).unwrap_or_default()
}

fn done(done: &ScaleDone) -> Words {
    match done {
        ScaleDone::Renamed { from, to } => {
            lines![format!("{} is called {} now.", name(from), name(to))]
        }
        ScaleDone::Moved { tier, place } => {
            lines![format!("{} is tier {place} now, counted from the lowest.", name(tier))]
        }
        ScaleDone::Default { tier } => lines![format!("{} is the default tier now.", name(tier))],
        ScaleDone::Question { now } => question_now(now.as_ref()),
        ScaleDone::Added { tier, yarn } => {
            lines![format!("Added: {}, worked in {}.", name(tier), name(yarn))]
        }
        ScaleDone::Removed { tier, moved, differ, stays } => {
            let mut lines = vec![format!("Removed: {}.", name(tier))];
            match moved {
                Some((1, heir)) => lines.push(format!("Its 1 day has {} now.", name(heir))),
                Some((days, heir)) => {
                    lines.push(format!("Its {days} days have {} now.", name(heir)));
                }
                None => {}
            }
            match differ {
                0 => {}
                1 => lines.push("1 worked row differs from its day now.".to_owned()),
                _ => lines.push(format!("{differ} worked rows differ from their days now.")),
            }
            if let Some(yarn) = stays {
                lines.push(format!("The yarn {} stays in your list.", name(yarn)));
            }
            plain(lines)
        }
        ScaleDone::Back { tier, days, changed } => {
            let mut lines = vec![match days {
                0 => format!("{} is in your scale.", name(tier)),
                1 => format!("{} is in your scale, and its 1 day has it.", name(tier)),
                _ => format!("{} is in your scale, and its {days} days have it.", name(tier)),
            }];
            match changed {
                0 => {}
                1 => lines.push("1 day was changed meanwhile. It stays as it is.".to_owned()),
                _ => {
                    lines.push(format!("{changed} days were changed meanwhile. They stay so."));
                }
            }
            plain(lines)
        }
    }
}

fn question_now(now: Option<&OwnQuestion>) -> Words {
    match now {
        Some(_) => lines!["From now on I ask your question, below the date."],
        None => lines!["From now on I ask the usual question."],
    }
}

pub fn refused(refusal: &ScaleRefusal) -> Words {
    match refusal {
        ScaleRefusal::Name { typed, wait, fault } => refused_name(typed, *wait, fault),
        ScaleRefusal::Question(fault) => match fault {
            QuestionFault::Empty => lines!["I see no text in this question. Nothing was changed."],
            QuestionFault::TooLong => lines![format!(
                "A question has at most {QUESTION_CHARS_MAX} characters. Nothing was changed."
            )],
            QuestionFault::Unprintable => lines![
                "This question has characters that are not shown. Nothing was changed.",
                "Type it with letters, like: How was the sea?",
            ],
        },
        ScaleRefusal::Colour { typed } => lines![
            format!("I do not know the colour {}. Nothing was changed.", quoted(typed)),
            "Type # and six digits or letters from A to F, like #4F7FB0.",
        ],
        ScaleRefusal::Full { most } => {
            lines![format!("A scale has at most {most} tiers. Nothing was changed.")]
        }
        ScaleRefusal::Few { least } => {
            lines![format!("A scale has at least {least} tiers. Nothing was changed.")]
        }
        ScaleRefusal::AllUsed => lines![
            "This blanket has had 255 tiers, which is all I can tell apart. Nothing was changed."
        ],
        ScaleRefusal::YarnsFull { most } => lines![
            format!("A blanket has at most {most} yarns. Nothing was changed."),
            "Tap a yarn that is there.",
        ],
        ScaleRefusal::IsDefault { tier } => lines![
            format!("{} is the default tier. Nothing was changed.", name(tier)),
            "Make another one the default tier first.",
        ],
        ScaleRefusal::HasDays { tier, days } => lines![
            format!("{} Nothing was changed.", has_days(tier, *days)),
            "It can be removed on its own screen, which asks what they get.",
        ],
    }
}

fn has_days(tier: &Label, days: usize) -> String {
    match days {
        1 => format!("1 day has {} now.", name(tier)),
        _ => format!("{days} days have {} now.", name(tier)),
    }
}

fn refused_name(typed: &str, wait: ScaleWait, fault: &NameFault) -> Words {
    let (what, example) = match wait {
        ScaleWait::Label { .. } | ScaleWait::NewLabel { .. } | ScaleWait::Question => {
            ("label", "Calm sea")
        }
        ScaleWait::Yarn | ScaleWait::YarnColour => ("name", "Sea Glass"),
    };
    let why = match fault {
        NameFault::Label(LabelFault::Empty) => format!("I see no text in this {what}."),
        NameFault::Label(LabelFault::TooLong) => {
            format!("A {what} has at most {LABEL_CHARS_MAX} characters.")
        }
        NameFault::Label(LabelFault::Unprintable) => {
            format!("This {what} has characters that are not shown.")
        }
        NameFault::Taken(taken) => match wait {
            ScaleWait::Yarn | ScaleWait::YarnColour => {
                format!("There is a yarn {}.", quoted(taken.as_str()))
            }
            ScaleWait::Label { .. } | ScaleWait::NewLabel { .. } | ScaleWait::Question => {
                format!("Another tier has the label {}.", quoted(taken.as_str()))
            }
        },
        NameFault::Number => format!(
            "{} cannot be a {what}, because a number you type is the place of a tier.",
            quoted(typed)
        ),
        NameFault::Meant => format!(
            "{} cannot be a {what}, because it means something else when you type it.",
            quoted(typed)
        ),
    };
    lines![format!("{why} Nothing was changed."), format!("Type another, like {example}.")]
}

fn days_have_it(days: usize) -> String {
    match days {
        0 => "No day has it.".to_owned(),
        1 => "1 day has it.".to_owned(),
        _ => format!("{days} days have it."),
    }
}

fn it_keeps(days: usize) -> String {
    match days {
        0 => "No day has it yet.".to_owned(),
        1 => "Its 1 day keeps it.".to_owned(),
        _ => format!("Its {days} days keep it."),
    }
}

fn heading(text: &str) -> Words {
    Words { lines: vec![vec![Span::Bold(text.to_owned())]] }
}

pub fn caption(caption: &ScaleCaption) -> String {
    let plain = match caption {
        ScaleCaption::Scale => "Scale",
        ScaleCaption::MyOwnScale => "My own scale",
        ScaleCaption::AddTier => "Add a tier",
        ScaleCaption::DefaultTier => "Default tier",
        ScaleCaption::Question => "The question",
        ScaleCaption::UsualQuestion => USUAL_QUESTION,
        ScaleCaption::Rename => "Rename",
        ScaleCaption::MoveLower => "Move lower",
        ScaleCaption::MoveHigher => "Move higher",
        ScaleCaption::Remove => "Remove",
        ScaleCaption::AsLowest => "As the lowest",
        ScaleCaption::Above(label) => return format!("Above {}", isolated(label.as_str())),
    };
    plain.to_owned()
}
