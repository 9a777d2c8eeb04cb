//! The weekly recap: when it is due, and what it says.

use chrono::{DateTime, Datelike, NaiveDate, Utc};

use super::Maker;
use super::button::Button;
use super::event::{Due, MessageId, Wake};
use super::outcome::{Outcome, Place, Reply, Slot};
use super::say::{Caption, RecapDay, RecapSaid, Say};
use crate::blanket::calendar::instant;
use crate::blanket::{Book, Change, DayState, week, yarn_status};

/// Dates looked at for the next recap.
const DATES_AHEAD: usize = 15;

/// When the next recap is due. May lie in the past; then it is due now.
pub fn next_recap(book: &Book, now: DateTime<Utc>) -> Option<Wake> {
    let (hours, reminders) = (book.hours(), book.reminders());
    let weekday = reminders.recap_on?;
    let local_today = hours.local(now).date();
    let first = book.recapped().and_then(|on| on.succ_opt()).unwrap_or(local_today);
    let dates = first.max(local_today).iter_days().take(DATES_AHEAD);
    dates.filter(|date| date.weekday() == weekday).find_map(|date| {
        let at = instant(hours.zone, date.and_time(reminders.recap_at));
        let day = hours.day_at(at);
        let has_days = !week(book, day, at).days.is_empty();
        (has_days && hours.day_ends(day) > now).then_some((at, Due::Recap(date)))
    })
}

/// The weekly message: that the recap is ready, or all of it where the maker asked for that.
pub fn recap_due(maker: &Maker, book: &Book, date: NaiveDate, now: DateTime<Utc>) -> Outcome {
    if next_recap(book, now).is_none_or(|(at, due)| due != Due::Recap(date) || at > now) {
        return maker.quiet();
    }
    let mut reply = match book.reminders().recap_whole {
        true => whole(book, date, now),
        false => Reply::new(Say::RecapReady).key(Caption::Show, Button::Recap { on: date }),
    };
    reply.place = Place::New(Some(Slot::Recap(date)));
    reply.silent = true;
    reply.unasked = true;
    reply.until = Some(book.hours().day_ends(book.hours().day_at(now)));
    maker.quiet().change(Change::Recapped { on: date }).say(reply)
}

/// The recap in place of the message that said it is ready.
pub fn show(
    maker: &Maker,
    book: &Book,
    date: NaiveDate,
    now: DateTime<Utc>,
    tapped: MessageId,
) -> Outcome {
    let slot = Some(Slot::Recap(date));
    maker.quiet().say(whole(book, date, now).at(Place::Change { slot, tapped: Some(tapped) }))
}

/// The seven days before `today`.
pub fn whole(book: &Book, today: NaiveDate, now: DateTime<Utc>) -> Reply {
    let week = week(book, today, now);
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
    Reply::new(Say::Recap(RecapSaid {
        first: week.first,
        last: week.last,
        days: week.days.iter().map(said).collect(),
        rows_ready: week.rows_ready,
        rows_worked: week.rows_worked,
        yarn_short: attention,
    }))
}
