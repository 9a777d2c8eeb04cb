//! A week as a strip: seven days side by side, each with its letter.

use chrono::NaiveDate;

use super::super::facts::{Inks, State};
use super::super::labels::Labels;
use super::super::list::{Area, DisplayList, Role, Style};
use super::super::pen::{Align, MUTED, OUTLINE, PALE, PAPER, Pen, TEXT};
use super::key;

const WIDTH: f32 = 760.0;
const MARGIN: f32 = 28.0;
const DAY: Area = Area::new(0.0, 96.0, 88.0, 96.0);
const GAP: f32 = 14.6;

/// `days` are at most seven, oldest first.
pub fn week(inks: &Inks, days: &[(NaiveDate, State)], labels: &Labels) -> DisplayList {
    let (Some(first), Some(last)) = (days.first(), days.last()) else {
        return Pen::new(labels.blanket_title, labels.language, WIDTH, DAY.bottom()).done();
    };
    let title = (labels.week_title)(first.0, last.0);
    let inner = WIDTH - 2.0 * MARGIN;
    let below = DAY.bottom() + 58.0;
    let mut probe = Pen::new("", labels.language, WIDTH, 0.0);
    let height = key::worked(&mut probe, inks, labels, (MARGIN, below), inner) + 6.0;
    let mut pen = Pen::new(&title, labels.language, WIDTH, height);
    pen.role(Role::Title, |pen| {
        pen.text((MARGIN, 40.0), Align::Left, Style::bold(24.0, TEXT), &title, inner);
    });
    for (index, (day, state)) in days.iter().enumerate() {
        let x = (MARGIN + index as f32 * (DAY.width + GAP)).round();
        one(&mut pen, inks, *day, *state, Area { x, ..DAY }, labels);
    }
    key::worked(&mut pen, inks, labels, (MARGIN, below), inner);
    pen.done()
}

fn one(pen: &mut Pen, inks: &Inks, day: NaiveDate, state: State, area: Area, labels: &Labels) {
    let above = Area::new(area.x, area.y - 28.0, area.width, 20.0);
    let weekday = (labels.days.weekday)(day);
    pen.role(Role::Paragraph, |pen| {
        pen.text_in(above, Align::Middle, Style::bold(16.0, TEXT), &weekday);
    });
    let ink = state.ink().map(|ink| inks.get(ink));
    let said = match state {
        State::Open => labels.states.open,
        State::ToCome => labels.states.to_come,
        State::Worked(_) | State::Waiting(_) => ink.map_or("", |ink| ink.name.as_str()),
    };
    pen.role(Role::Figure(said.to_owned()), |pen| match ink {
        Some(ink) => pen.swatch(area, ink.rgb),
        None => {
            pen.rect(area, if state == State::Open { PAPER } else { PALE });
            pen.frame(area, 1.0, OUTLINE);
            if state == State::Open {
                pen.dashes(Area::new(area.x + 8.0, area.y, area.width - 16.0, area.height), 2.0);
            }
        }
    });
    let date = Area::new(area.x, area.bottom() + 4.0, area.width, 20.0);
    pen.role(Role::Paragraph, |pen| {
        let style = Style::regular(14.0, MUTED);
        pen.text_in(date, Align::Middle, style, &(labels.days.date)(day));
        let letter = ink.map_or(said.to_owned(), |ink| ink.letter.to_string());
        let below = Area::new(area.x - 6.0, date.bottom(), area.width + 12.0, 20.0);
        pen.text_in(below, Align::Middle, Style::bold(15.0, TEXT), &letter);
    });
}
