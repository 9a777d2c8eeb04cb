//! Samples about several blankets over the years.

use chrono::NaiveDate;
use duskrow::blanket::NextFault;
use duskrow::chat::blankets::{BlanketCaption, BlanketSaid, BlanketsSaid, Years};
use duskrow::chat::caption::Caption;
use duskrow::chat::say::Say;

use super::date;

fn years() -> Years {
    Years { first_day: date(2027, 3, 1), last_day: date(2028, 2, 29) }
}

pub fn last_year() -> Years {
    Years { first_day: date(2026, 1, 1), last_day: date(2026, 12, 31) }
}

pub fn every_say() -> Vec<Say> {
    let (first_day, last_day) = (date(2027, 3, 1), date(2028, 2, 29));
    let one = |years, logged, in_hand| BlanketSaid { years, logged, in_hand };
    let list = |blankets, next_from| BlanketsSaid::List { blankets, next_from };
    let refused = |day: Option<NaiveDate>, fault| BlanketsSaid::Refused { day, fault };
    let all = [
        list(vec![one(years(), true, true)], Some(last_day)),
        list(vec![one(last_year(), false, true), one(years(), true, false)], None),
        list(vec![one(last_year(), false, false), one(years(), true, true)], None),
        BlanketsSaid::InHand(last_year()),
        BlanketsSaid::TakenUp { years: last_year(), logged: false },
        BlanketsSaid::TakenUp { years: years(), logged: true },
        BlanketsSaid::AskNext,
        BlanketsSaid::Offer { first_day, last_day },
        BlanketsSaid::Begun { first_day, last_day },
        refused(None, NextFault::TooEarly { from: first_day }),
        refused(Some(first_day), NextFault::AlreadyThere { first_day }),
        refused(Some(first_day), NextFault::Taken { last_day }),
        refused(Some(first_day), NextFault::OutOfReach),
        BlanketsSaid::Gone,
        BlanketsSaid::AskMove { first_day },
        BlanketsSaid::Moved { first_day, last_day },
        BlanketsSaid::AskDelete(years()),
        BlanketsSaid::Deleted { first_day, now: None },
        BlanketsSaid::Deleted { first_day, now: Some(years()) },
        BlanketsSaid::HasBegun(last_year()),
    ];
    all.map(Say::Blankets).to_vec()
}

pub fn every_caption() -> Vec<Caption> {
    let day = date(2027, 9, 29);
    [
        BlanketCaption::List,
        BlanketCaption::TakeUp(years()),
        BlanketCaption::TakeUp(last_year()),
        BlanketCaption::Next,
        BlanketCaption::Begin(day),
        BlanketCaption::AskMove,
        BlanketCaption::AskDelete,
        BlanketCaption::Delete(years()),
        BlanketCaption::Delete(last_year()),
    ]
    .map(Caption::Blankets)
    .to_vec()
}
