//! The weekly recap: when it is due, and what it says.

use chrono::{DateTime, Datelike, Days, NaiveDate, Utc};

use super::button::Button;
use super::caption::Caption;
use super::enclosed::Drawn;
use super::event::{Due, MessageId, Wake};
use super::outcome::{Outcome, Place, Reply, Slot};
use super::say::{BlockSaid, RecapDay, RecapSaid, Say};
use super::{Maker, drawn};
use crate::blanket::{Book, Change, DayState, week, yarn_status};

/// Days looked at for the next recap.
const DAYS_AHEAD: usize = 15;

/// When the next recap is due. May lie in the past; then it is due now.
pub fn next_recap(book: &Book, now: DateTime<Utc>) -> Option<Wake> {
    let hours = book.hours();
    let days = hours.day_at(now).iter_days().take(DAYS_AHEAD);
    days.filter(|day| comes_on(book, *day)).find_map(|day| {
        let sent = book.recapped().is_some_and(|on| on >= day) || book.nudged() == Some(day);
        let at = hours.moment(day, book.reminders().recap_at);
        (!sent && hours.day_ends(day) > now).then_some((at, Due::Recap(day)))
    })
}

/// Whether a recap is sent while `day` is on, or was. Then no nudge is.
pub fn comes_on(book: &Book, day: NaiveDate) -> bool {
    let back = |days| day.checked_sub_days(Days::new(days)).unwrap_or(day);
    let has_days = book.plan().first_day() <= back(1) && back(7) <= book.plan().last_day();
    let planned = book.reminders().recap_on == Some(day.weekday());
    (planned && has_days && book.hours().day_exists(day)) || book.recapped() == Some(day)
}

/// The weekly message: that the recap is ready, or all of it where the maker asked for that.
pub fn recap_due(maker: &Maker, book: &Book, day: NaiveDate, now: DateTime<Utc>) -> Outcome {
    if next_recap(book, now).is_none_or(|(at, due)| due != Due::Recap(day) || at > now) {
        return maker.quiet();
    }
    let mut reply = match book.reminders().recap_whole {
        true => whole(book, day),
        false => Reply::new(Say::RecapReady).key(Caption::Show, Button::Recap { on: day }),
    };
    reply.place = Place::New(Some(Slot::Recap(day)));
    reply.silent = true;
    reply.unasked = true;
    reply.until = Some(book.hours().day_ends(day));
    maker.quiet().change(Change::Recapped { on: day }).say(reply)
}

/// The recap in place of the message that said it is ready.
pub fn show(
    maker: &Maker,
    book: &Book,
    day: NaiveDate,
    now: DateTime<Utc>,
    tapped: MessageId,
) -> Outcome {
    let slot = Some(Slot::Recap(day));
    let day = day.min(book.hours().day_at(now));
    maker.quiet().say(whole(book, day).at(Place::Change { slot, tapped: Some(tapped) }))
}

/// The seven days before `today`, with buttons for pictures of them and of the months.
pub fn whole(book: &Book, today: NaiveDate) -> Reply {
    let week = week(book, today);
    let said = |(day, state): &(NaiveDate, DayState)| RecapDay {
        day: *day,
        kept: match state {
            DayState::Kept(answer) => {
                book.scale().tier(answer.tier).map(|tier| (tier.label.clone(), answer.how))
            }
            DayState::Open | DayState::ToCome | DayState::Outside => None,
        },
    };
    let attention = yarn_status(book)
        .iter()
        .filter(|status| status.runs_short())
        .filter_map(|status| book.yarn_name(status.yarn).cloned())
        .collect();
    let strip =
        (!week.days.is_empty()).then(|| drawn::key(Caption::Picture, Drawn::Week { on: today }));
    let year = drawn::key(Caption::TheYear, Drawn::Year);
    let said = RecapSaid {
        first: week.first,
        last: week.last,
        days: week.days.iter().map(said).collect(),
        ready: week.ready.map(|(block, rows)| (BlockSaid::of(book, block.number), rows)),
        rows_worked: week.rows_worked,
        yarn_short: attention,
    };
    Reply::new(Say::Recap(said)).keys(strip.into_iter().chain([year]))
}
