//! `/open`: the open days, oldest first, with what is known around the oldest.

use chrono::{Days, NaiveDate};

use super::{Asked, set_up_first};
use crate::blanket::{Book, DayState};
use crate::chat::button::{AskedIn, Button};
use crate::chat::caption::Caption;
use crate::chat::outcome::{Outcome, Place, Reply, Slot};
use crate::chat::say::{Around, OpenSaid, Say};
use crate::chat::talk::Step;
use crate::chat::{evening, meanings, nudges};

/// Notes this many days away may help to remember a day.
const NOTE_REACH_DAYS: u64 = 2;
const NOTES_SHOWN_PER_DAY: usize = 3;

pub fn run(asked: &Asked<'_>) -> Outcome {
    let Asked { maker, now, .. } = asked;
    let Some(book) = &maker.book else { return set_up_first(asked) };
    let today = book.hours().day_at(*now);
    let days: Vec<NaiveDate> = book.open_days(today).collect();
    let Some(&oldest) = days.first() else {
        return maker.quiet().say(Reply::new(Say::NoOpenDays));
    };
    let around = |day: Option<NaiveDate>| match book.day(day?, today) {
        DayState::Kept(answer) => {
            let tier = book.scale().tier(answer.tier)?;
            Some(Around(Some((tier.label.clone(), answer.how))))
        }
        DayState::Open => Some(Around(None)),
        DayState::ToCome | DayState::Outside => None,
    };
    let said = OpenSaid {
        before: around(oldest.pred_opt()),
        after: around(oldest.succ_opt()),
        notes: notes_near(book, oldest),
        days: days.clone(),
    };
    let reply = evening::tier_keys(Reply::new(Say::OpenDays(said)), book, oldest)
        .keys(meanings::key(book, oldest, AskedIn::Open));
    let place = Place::New(Some(Slot::Question(oldest)));
    let reply = other_keys(reply, book, oldest, &days);
    maker.at(Step::Day { day: oldest }).say(reply.at(place))
}

/// The buttons below the tiers of `day`; all open days can be set in one go.
pub fn other_keys(reply: Reply, book: &Book, day: NaiveDate, open: &[NaiveDate]) -> Reply {
    let reply = nudges::other_keys(reply, book, day);
    match (open, u16::try_from(open.len())) {
        (&[first, .., last], Ok(count)) => {
            let tier = book.scale().default_tier().label.to_string();
            let caption = Caption::SetAllTo { count: open.len(), tier };
            reply.key(caption, Button::AssumeAll { first, last, count })
        }
        ([] | [_], _) | (_, Err(_)) => reply,
    }
}

fn notes_near(book: &Book, day: NaiveDate) -> Vec<(NaiveDate, String)> {
    let first = day.checked_sub_days(Days::new(NOTE_REACH_DAYS)).unwrap_or(day);
    let near = first.iter_days().take(usize::try_from(2 * NOTE_REACH_DAYS + 1).unwrap_or(1));
    near.flat_map(|day| {
        let notes = book.notes(day).iter().take(NOTES_SHOWN_PER_DAY);
        notes.map(move |note| (day, note.text.as_str().to_owned()))
    })
    .collect()
}
