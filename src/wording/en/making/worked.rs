//! What a change would make of worked rows, in English.

use super::{Words, captions, heading, names, plain};
use crate::blanket::{RowNumber, Terms};
use crate::chat::button::{Choice, Screen};
use crate::chat::making::WorkedSaid;
use crate::wording::en::rows::block_title;

pub fn shown(said: &WorkedSaid) -> Words {
    let (rows, differing) = (said.rows, said.differing_rows());
    let worked = match (rows, said.stitched_in) {
        (1, None) => "1 row is worked.".to_owned(),
        (_, None) => format!("{rows} rows are worked."),
        (1, Some(stitch)) => {
            format!("1 row is worked, in {}. It stays so.", names::stitch(stitch, said.terms))
        }
        (_, Some(stitch)) => {
            let stitch = names::stitch(stitch, said.terms);
            format!("{rows} rows are worked, in {stitch}. They stay so.")
        }
    };
    let mut lines = vec![format!("{worked} Nothing is changed yet.")];
    lines.push(match (rows, differing) {
        (1, 0) => "After the change it would match its day or its filler row.".to_owned(),
        (_, 0) => "After the change all of them would match their days and filler rows.".to_owned(),
        _ => format!(
            "After the change {} would be in another colour than the row there, or on a day \
             without an answer.",
            of_them(differing, rows)
        ),
    });
    let of_block = said.differing.iter();
    lines.extend(of_block.map(|(block, runs)| format!("{}: {}.", block_title(block), list(runs))));
    lines.extend(match said.differing_in_others {
        0 => None,
        1 => Some("Other blocks: 1 row.".to_owned()),
        rows => Some(format!("Other blocks: {rows} rows.")),
    });
    if said.turned_over > 0 {
        let them = of_them(said.turned_over, rows);
        lines.push(format!("{} would be on the other side in the lists.", super::capital(&them)));
    }
    lines.push("Worked rows stay worked. Nothing is pulled back.".to_owned());
    if differing > 0 {
        lines.push(
            "You can leave such rows as they are. Where the row has a day with an answer, /today \
             and that day, like /today 3 Jan, offers to pull back."
                .to_owned(),
        );
    }
    heading(&title(said.choice, said.terms)).and(plain(lines))
}

/// "it", "all 12 of them", "3 of them".
fn of_them(some: usize, rows: usize) -> String {
    match rows {
        1 => "it".to_owned(),
        all if all == some => format!("all {all} of them"),
        _ => format!("{some} of them"),
    }
}

/// "row 3", "rows 3, 5 to 8".
fn list(runs: &[(RowNumber, RowNumber)]) -> String {
    let run = |(first, last): &(RowNumber, RowNumber)| match last.0 - first.0 {
        0 => first.to_string(),
        1 => format!("{first}, {last}"),
        _ => format!("{first} to {last}"),
    };
    let all: Vec<String> = runs.iter().map(run).collect();
    match runs {
        [(first, last)] if first == last => format!("row {first}"),
        _ => format!("rows {}", all.join(", ")),
    }
}

/// What would be changed, and to what: "Filler rows: First and last".
fn title(choice: Choice, terms: Terms) -> String {
    let to = captions::choose(choice, terms);
    let what = match choice {
        Choice::Cut(_) | Choice::CutAsBefore { .. } => Screen::Cut,
        Choice::Rows(_) => Screen::Rows,
        Choice::Fillers(_) => Screen::Fillers,
        Choice::ShortEnds(_) => Screen::ShortEnds,
        Choice::Stitch { stitch, .. } | Choice::StitchAsBefore { stitch, .. } => {
            let stitch = names::stitch(stitch, terms);
            return format!("{}: {stitch}", captions::show(Screen::Stitch, terms));
        }
        Choice::Turned(_)
        | Choice::FirstSide(_)
        | Choice::Carry(_)
        | Choice::Terms(_)
        | Choice::LeftHanded(_)
        | Choice::Width(_)
        | Choice::Swatch(_)
        | Choice::Columns(_)
        | Choice::Border(_) => return to,
    };
    format!("{}: {to}", captions::show(what, terms))
}
