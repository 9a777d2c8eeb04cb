//! One colour, all of it, in English: balls and lots, what a row takes, whether it lasts.

use super::super::dates::long;
use super::super::rows::block_name;
use super::super::{Span, Words, name};
use super::units::{balls, in_words, list, row_range, row_weight, rows, weight};
use super::{DISAGREE, buying, on_hand};
use crate::blanket::Label;
use crate::blanket::forecast::LotPlan;
use crate::blanket::yarn::estimate::ESTIMATE_OFF;
use crate::blanket::yarn::{Edging, KnownBy, Lacking, PerRow, Units};
use crate::chat::yarn::said::{RowSaid, TwoLotsSaid, WhenSaid, YarnDetail};

pub fn detail(said: &YarnDetail, units: Units) -> Words {
    let mut lines: Vec<String> = Vec::new();
    lines.extend(balls_and_lots(said));
    lines.extend(said.two_lots.iter().flat_map(|lots| two_lots(lots, units)));
    lines.extend(row(&said.row, units));
    lines.extend(needed(said, units));
    lines.extend(lasts(said));
    lines.extend(buying::of_detail(said, units));
    let head = Words { lines: vec![on_hand(&said.line, units)] };
    head.and(Words { lines: lines.into_iter().map(|line| vec![Span::Plain(line)]).collect() })
}

fn balls_and_lots(said: &YarnDetail) -> Vec<String> {
    let came = match said.balls {
        0 => return Vec::new(),
        1 => "1 ball came".to_owned(),
        count => format!("{count} balls came"),
    };
    let of_lot = |(lot, count): &(_, u32)| format!("{} of lot {}", balls(*count), name(lot));
    match said.lots.as_slice() {
        [] => vec![format!("{came}.")],
        [(lot, count)] if *count == said.balls => vec![format!("{came}, lot {}.", name(lot))],
        [one] => vec![format!("{came}: {}.", of_lot(one))],
        lots => {
            let lots: Vec<String> = lots.iter().map(of_lot).collect();
            vec![format!("{came}: {}.", list(&lots)), TWO_LOTS.to_owned()]
        }
    }
}

/// Common practice, no source.
const TWO_LOTS: &str = "Lots can differ a little in colour. Do not change lots inside a block.";

/// Which blocks from which lot.
fn two_lots(said: &TwoLotsSaid, units: Units) -> Vec<String> {
    let [(older, older_grams), (newer, newer_grams)] = &said.lots.lots;
    let (older, newer) = (name(older), name(newer));
    let (older_weight, newer_weight) = (weight(*older_grams, units), weight(*newer_grams, units));
    let there = format!(
        "If lot {older} was used first, {older_weight} of it and {newer_weight} of lot {newer} are \
         there."
    );
    let lots = [older, newer];
    let advice = match (said.lots.plan, said.until) {
        (LotPlan::One { lot }, _) => {
            format!("Lot {} is expected to be enough for all blocks left.", lots[lot])
        }
        (LotPlan::WholeBlocks { lot, .. }, Some(until)) => format!(
            "Use lot {} up to the end of {}, then lot {}.",
            lots[lot],
            block_name(&until),
            lots[1 - lot]
        ),
        (LotPlan::WholeBlocks { .. } | LotPlan::Alternate, _) => {
            "No change between two blocks fits. Take a row of each lot in turn.".to_owned()
        }
        (LotPlan::TooLittle, _) => {
            "Both together are less than is expected. Take the lots in turn, block by block."
                .to_owned()
        }
    };
    vec![there, advice]
}

fn row(said: &RowSaid, units: Units) -> Vec<String> {
    let (per_row, advice) = match said {
        RowSaid::Known { per_row, advice } => (*per_row, *advice),
        RowSaid::Lacking(lacking) => {
            let how = "Weigh it, work some rows in it, then weigh it once more.";
            return vec![
                "What a row takes is not known yet.".to_owned(),
                format!("{how}{}", or_guess(lacking)),
            ];
        }
    };
    let mut lines = vec![takes(per_row, units)];
    if let KnownBy::Weighings { disagree: true, .. } = per_row.by {
        lines.push(DISAGREE.to_owned());
    }
    lines.extend(advice.map(|count| {
        format!("To know it: weigh it, work {} in it, then weigh it once more.", rows(count))
    }));
    lines
}

fn takes(per_row: PerRow, units: Units) -> String {
    let grams = per_row.grams();
    match per_row.by {
        KnownBy::Weighings { .. } => {
            let (low, high) = per_row.weight.interval_90();
            let about = row_weight(grams, units);
            let range = row_range(low, high, units);
            format!("By weighing, a row takes about {about}: {range} in 90 of 100 cases.")
        }
        KnownBy::OtherColours => {
            let about = row_weight(grams, units);
            format!("A row may take about {about}, if it is as in your other colours.")
        }
        KnownBy::Fabric => {
            let off = ESTIMATE_OFF * grams;
            let range = row_range(grams - off, grams + off, units);
            format!("From the fabric I guess {range} a row.")
        }
    }
}

/// What would make a guess of a row possible.
fn or_guess(lacking: &[Lacking]) -> String {
    match lacking.is_empty() || lacking.contains(&Lacking::Measurement) {
        true => " For this stitch I know no other way.".to_owned(),
        false => format!(" I can guess it before that, if I know {}.", wanted(lacking)),
    }
}

/// What is lacking, as a list.
pub fn wanted(lacking: &[Lacking]) -> String {
    let named = |it: &Lacking| match it {
        Lacking::Measurement => "what a row takes",
        Lacking::Width => "the width (/stitch)",
        Lacking::Swatch => "your swatch (/stitch)",
        Lacking::Metres => "the length of a ball",
        Lacking::Columns => "how many blocks are side by side (/stitch)",
        Lacking::Join => "how the blocks are joined (Yarn settings)",
    };
    list(&lacking.iter().map(|it| named(it).to_owned()).collect::<Vec<_>>())
}

/// What it is needed for besides rows that wait.
fn needed(said: &YarnDetail, units: Units) -> Vec<String> {
    let mut lines = Vec::new();
    if said.fillers_to_come > 0 {
        lines.push(format!("Filler rows of blocks to come: {}.", said.fillers_to_come));
    }
    lines.extend(edging(&said.line.yarn, &said.edging, units));
    if let Some(expected) = said.expected_rows {
        let count = expected.round();
        lines.push(format!("Expected in it: about {count} of the days to come."));
    }
    lines
}

/// What is kept back of the joining colour.
pub fn edging(yarn: &Label, said: &Edging, units: Units) -> Option<String> {
    match said {
        Edging::Nothing => None,
        Edging::Known { joins, border } => {
            let named = [("joins", joins.grams), ("the border", border.grams)];
            let kept = named.iter().filter(|(_, grams)| *grams > 0.0);
            let kept: Vec<String> = kept
                .map(|(what, grams)| format!("about {} for {what}", weight(*grams, units)))
                .collect();
            Some(format!("Kept back of {}: {}.", name(yarn), list(&kept)))
        }
        Edging::Unknown(lacking) => Some(format!(
            "Yarn for joins and border is not counted. To count it, I ask for {}.",
            wanted(lacking)
        )),
    }
}

fn lasts(said: &YarnDetail) -> Vec<String> {
    let Some(lasts) = said.line.lasts else { return Vec::new() };
    let words = in_words(lasts.chance);
    let mut lines = vec![format!("{} That it lasts is {words}.", super::lasts(lasts))];
    match (said.early, said.likely) {
        (None, _) => {}
        (Some(early), None) => {
            lines.push(format!("It could run out as early as {}.", when(early)));
        }
        (Some(WhenSaid::Row { .. }), Some(likely @ WhenSaid::Row { .. })) => {
            lines.push(format!("By what a row takes, it ends in {}.", when(likely)));
        }
        (Some(early), Some(likely)) if early == likely => {
            lines.push(format!("It is as likely as not to run out by {}.", when(early)));
        }
        (Some(early), Some(likely)) => {
            lines.push(format!("It could run out as early as {}.", when(early)));
            lines.push(format!("By {}, that is as likely as not.", when(likely)));
        }
    }
    lines
}

fn when(said: WhenSaid) -> String {
    match said {
        WhenSaid::Row { block, row } => format!("row {row} of {}", block_name(&block)),
        WhenSaid::Day(day) => format!("the row of {}", long(day)),
        WhenSaid::Edging => "the joins and the border".to_owned(),
    }
}
