//! The evening question, the kept answer, and changing it.

use chrono::{DateTime, NaiveDate, NaiveTime, TimeDelta, Utc};

use super::button::{AskedIn, Button};
use super::caption::Caption;
use super::event::{Due, MessageId, Wake};
use super::outcome::{Key, Outcome, Place, Reply, Slot};
use super::say::{Kept, Say};
use super::talk::{Step, Talk};
use super::{Maker, blankets, differing, in_one_go, meanings, nudges};
use crate::blanket::calendar::between_questions;
use crate::blanket::{Answer, Book, Change, DayState, How, TierId};

/// At 00:40 "today" is still yesterday.
pub fn day_turns_at_default() -> NaiveTime {
    NaiveTime::MIN + TimeDelta::hours(4)
}

/// When the next question about `book` is due: of the first day that is still on then, has no
/// answer and was not asked about. May lie in the past; then it is due now. It keeps its distance
/// from the last one, also from one about another blanket.
pub fn next_question(maker: &Maker, book: &Book, now: DateTime<Utc>) -> Option<Wake> {
    let hours = book.hours();
    let first = hours.day_at(now).max(book.plan().first_day());
    let open = |day: &NaiveDate| {
        let unasked = book.asked().is_none_or(|(asked, _)| asked < *day);
        let put_off = book.put_off(*day).is_some();
        unasked && !put_off && hours.day_exists(*day) && book.answer(*day).is_none()
    };
    let spaced = maker.asked_last(now).map(|at| at + between_questions());
    let due = |day: NaiveDate| {
        let at = hours.question_due(day);
        let at = spaced.map_or(at, |spaced| at.max(spaced));
        (at < hours.day_ends(day)).then_some((at, Due::Question(day)))
    };
    first.iter_days().take_while(|day| *day <= book.plan().last_day()).filter(open).find_map(due)
}

/// The evening's question, unasked for by any tap: dropped if it is not sent while its day is on.
pub fn ask_due(maker: &Maker, book: &Book, day: NaiveDate, now: DateTime<Utc>) -> Outcome {
    let quiet = Outcome::quiet(&maker.talk);
    if next_question(maker, book, now).is_none_or(|(at, due)| due != Due::Question(day) || at > now)
    {
        return quiet;
    }
    let mut ask = question(book, day);
    ask.unasked = true;
    ask.until = Some(book.hours().day_ends(day));
    // Whatever was left half-way: the next typed line is about what was asked last.
    maker.at(Step::Day { day }).change(Change::Asked { day, at: now }).say(ask)
}

/// The question about a day that has no answer, as a new message.
pub fn question(book: &Book, day: NaiveDate) -> Reply {
    let say = Say::Question { day, asks: book.question().cloned() };
    let ask = Reply::new(say).at(Place::New(Some(Slot::Question(day))));
    let ask = tier_keys(ask, book, day).keys(meanings::key(book, day, AskedIn::Question));
    other_keys(ask, day)
}

/// The buttons below the tiers of a question.
pub fn other_keys(reply: Reply, day: NaiveDate) -> Reply {
    reply.keys([
        Key { caption: Caption::NotSure, button: Button::NotSure { day } },
        Key { caption: Caption::Later, button: Button::Later { day } },
        Key { caption: Caption::Skip, button: Button::Skip { day } },
    ])
}

/// Shows a day to the maker: its question, or what is kept.
pub fn show(maker: &Maker, book: &Book, day: NaiveDate, now: DateTime<Utc>) -> Outcome {
    let quiet = Outcome::quiet(&maker.talk);
    match book.day(day, book.hours().day_at(now)) {
        DayState::Open => maker.at(Step::Day { day }).say(question(book, day)),
        DayState::Kept(answer) => match kept(book, day, answer) {
            Some(kept) => quiet.say(kept.at(Place::New(Some(Slot::Question(day))))),
            None => quiet,
        },
        DayState::ToCome | DayState::Outside => quiet.say(refusal(book, day, now)),
    }
}

/// The tiers of a day, under the message that was tapped: to answer it, or to change its answer.
pub fn ask_to_change(
    maker: &Maker,
    book: &Book,
    day: NaiveDate,
    now: DateTime<Utc>,
    tapped: Option<MessageId>,
) -> Outcome {
    let quiet = Outcome::quiet(&maker.talk);
    let slot = Some(Slot::Question(day));
    let place = tapped.map_or(Place::New(slot), |_| Place::Change { slot, tapped });
    let ask = match book.day(day, book.hours().day_at(now)) {
        DayState::Open => question(book, day).at(place),
        DayState::Kept(answer) => match book.scale().tier(answer.tier) {
            Some(tier) => {
                let (now, asks) = (tier.label.clone(), book.question().cloned());
                let say = Say::QuestionToChange { day, asks, now, how: answer.how };
                tier_keys(Reply::new(say).at(place), book, day)
                    .keys(meanings::key(book, day, AskedIn::Question))
                    .key(Caption::LeaveAsItIs, Button::Leave { day })
            }
            None => question(book, day).at(place),
        },
        DayState::ToCome | DayState::Outside => return quiet.say(refusal(book, day, now)),
    };
    maker.at(Step::Day { day }).say(ask)
}

/// The maker leaves a day as it is.
pub fn leave(
    maker: &Maker,
    book: &Book,
    day: NaiveDate,
    now: DateTime<Utc>,
    tapped: MessageId,
) -> Outcome {
    let place = Place::Change { slot: Some(Slot::Question(day)), tapped: Some(tapped) };
    let outcome = Outcome { talk: settled(maker, day), ..Outcome::quiet(&maker.talk) };
    outcome.say(match book.day(day, book.hours().day_at(now)) {
        DayState::Kept(answer) => kept(book, day, answer).unwrap_or(question(book, day)).at(place),
        DayState::Open => question(book, day).at(place),
        DayState::ToCome | DayState::Outside => refusal(book, day, now),
    })
}

/// Keeps an answer. The same answer twice changes nothing and says the same.
pub fn answer(
    maker: &Maker,
    book: &Book,
    (day, tier): (NaiveDate, TierId),
    now: DateTime<Utc>,
    tapped: Option<MessageId>,
) -> Outcome {
    keep(maker, book, (day, tier, How::Answered), now, tapped)
}

/// Marks the kept answer of a day as kept for now, or as settled. A day that was set to the
/// default tier stays marked as that.
pub fn for_now(
    maker: &Maker,
    book: &Book,
    (day, on): (NaiveDate, bool),
    now: DateTime<Utc>,
    tapped: MessageId,
) -> Outcome {
    let how = if on { How::ForNow } else { How::Answered };
    match book.answer(day) {
        Some(Answer { how: How::Assumed, .. }) => leave(maker, book, day, now, tapped),
        Some(answer) => keep(maker, book, (day, answer.tier, how), now, Some(tapped)),
        None => ask_to_change(maker, book, day, now, Some(tapped)),
    }
}

/// Sets an open day to the default tier, because the maker says so. A day that has a tier keeps
/// it.
pub fn assume(
    maker: &Maker,
    book: &Book,
    day: NaiveDate,
    now: DateTime<Utc>,
    tapped: MessageId,
) -> Outcome {
    match book.answer(day) {
        // A second tap on the same button says the same, with its *Undo*.
        Some(answer) if in_one_go::undo_of(maker, book, day).is_some() => {
            keep(maker, book, (day, answer.tier, answer.how), now, Some(tapped))
        }
        Some(_) => leave(maker, book, day, now, tapped),
        None => {
            let default = book.scale().default_tier().id;
            keep(maker, book, (day, default, How::Assumed), now, Some(tapped))
        }
    }
}

fn keep(
    maker: &Maker,
    book: &Book,
    (day, tier, how): (NaiveDate, TierId, How),
    now: DateTime<Utc>,
    tapped: Option<MessageId>,
) -> Outcome {
    let quiet = Outcome::quiet(&maker.talk);
    let place = Place::Change { slot: Some(Slot::Question(day)), tapped };
    let before = match book.day(day, book.hours().day_at(now)) {
        DayState::ToCome | DayState::Outside => return quiet.say(refusal(book, day, now)),
        DayState::Open => None,
        DayState::Kept(answer) => Some(answer),
    };
    if book.scale().tier(tier).is_none() {
        // A tier this scale does not have: an old button. The question is shown with its own.
        return quiet.say(question(book, day).at(place));
    }
    let same = before.is_some_and(|before| (before.tier, before.how) == (tier, how));
    let mut outcome = Outcome { talk: settled(maker, day), ..quiet };
    if !same {
        outcome = outcome.change(Change::Answered { day, tier, how, at: now });
    }
    let Some(mut kept) = kept(book, day, Answer { tier, how, at: now }) else { return outcome };
    if how == How::Assumed {
        let id = in_one_go::undo_of(maker, book, day).unwrap_or(maker.talk.fresh_id(now));
        if !same {
            outcome.talk.undo = Some(in_one_go::record(book, &[(day, tier)], how, id));
        }
        kept = kept.key(Caption::Undo, Button::UndoMany { id });
    }
    if let Some(next) = next_open(book, day, now) {
        kept = kept.key(Caption::AnswerDay(next), Button::Ask { day: next });
    }
    let outcome = match tapped {
        Some(_) => outcome.say(kept.at(place)),
        // Typed: the answer stands below what was typed, and the question above it changes too.
        None => {
            let slot = Slot::Question(day);
            let question = Reply { keys: Vec::new(), ..kept.clone().at(Place::Update(slot)) };
            outcome.say(question).say(kept.at(Place::New(Some(slot))))
        }
    };
    nudges::ask_once(book, outcome)
}

/// Why a day cannot have an answer now.
pub fn refusal(book: &Book, day: NaiveDate, now: DateTime<Utc>) -> Reply {
    let plan = book.plan();
    let today = book.hours().day_at(now);
    let over = day == today && plan.last_day() < today;
    let refusal = Reply::new(if !plan.has(day) {
        let (first, last) = (plan.first_day(), plan.last_day());
        match () {
            () if day == today && today < first => {
                Say::NotBegun { first_day: first, time: book.hours().ask_at }
            }
            () if day == today => Say::AllOver { last_day: last },
            () => Say::DayOutside { day, first, last },
        }
    } else {
        Say::DayToCome { day }
    });
    if over { refusal.keys([blankets::next_key()]) } else { refusal }
}

fn kept(book: &Book, day: NaiveDate, answer: Answer) -> Option<Reply> {
    let tier = book.scale().tier(answer.tier)?;
    let (block, row) = book.plan().row_of(day)?;
    let stitched = book.worked_row(block.number, row.number).map(|worked| worked.yarn);
    let kept = Kept {
        day,
        tier: tier.label.clone(),
        how: answer.how,
        row: row.number,
        side: row.side,
        yarn: book.yarn_name(tier.yarn)?.clone(),
        stitched_in: match stitched {
            Some(yarn) if book.differs(yarn, tier.yarn) => book.yarn_name(yarn).cloned(),
            Some(_) | None => None,
        },
    };
    let mut keys = vec![
        Key { caption: Caption::Change, button: Button::Ask { day } },
        Key { caption: Caption::Note, button: Button::WriteNote { day } },
    ];
    let mut mark = |caption, on| keys.push(Key { caption, button: Button::ForNow { day, on } });
    match answer.how {
        How::Answered => mark(Caption::ForNow, true),
        How::ForNow => mark(Caption::KeepForGood, false),
        How::Assumed => {}
    }
    let differs = match kept.stitched_in {
        Some(_) => differing::keys(book, day, &block, row.number),
        None => Vec::new(),
    };
    let reply = Reply::new(Say::Kept(kept)).keys(keys);
    Some(differs.into_iter().fold(reply, |reply, key| reply.keys([key])))
}

/// After an older day: the oldest other day that is open and not put off.
fn next_open(book: &Book, answered: NaiveDate, now: DateTime<Utc>) -> Option<NaiveDate> {
    let today = book.hours().day_at(now);
    let other = |day: &NaiveDate| *day != answered && nudges::may_be_named(book, *day, today);
    book.open_days(today).find(other).filter(|_| answered != today)
}

pub fn tier_keys(reply: Reply, book: &Book, day: NaiveDate) -> Reply {
    book.scale().tiers().iter().fold(reply, |reply, tier| {
        reply.key(Caption::Name(tier.label.to_string()), Button::Answer { day, tier: tier.id })
    })
}

/// A day was answered: the next typed line is no longer about it.
fn settled(maker: &Maker, day: NaiveDate) -> Talk {
    if maker.talk.step == (Step::Day { day }) {
        maker.talk.at(Step::Idle)
    } else {
        maker.talk.clone()
    }
}
