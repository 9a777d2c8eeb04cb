//! Whatever the platform hands over again, in whatever batches: the same book.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use duskrow::blanket::TierId;
use duskrow::chat::button::Button;
use duskrow::cli::rehearse::theatre::MAREN;
use proptest::collection::vec;
use proptest::prelude::*;
use serde_json::value::{RawValue, to_raw_value};
use serde_json::{Value, json};

use crate::world::World;

const FIRST_UPDATE: i64 = 4_000_001;

/// One act of Maren's, on the evening of 20 January.
#[derive(Clone, Debug)]
enum Act {
    Taps { day: u32, tier: u8 },
    Types(&'static str),
}

fn acts() -> impl Strategy<Value = Act> {
    // Few days, so that answers meet, and few words, so that only the number tells updates apart.
    let mut words = vec!["Smooth", "Rough", "fog on the water", "/rows", "/today 18 Jan"];
    words.extend(["19 Jan Ordinary", "ERASE"]);
    prop_oneof![
        3 => (14..19_u32, 1..=7_u8).prop_map(|(day, tier)| Act::Taps { day, tier }),
        2 => proptest::sample::select(words).prop_map(Act::Types),
    ]
}

impl Act {
    fn update(&self, number: i64) -> Box<RawValue> {
        let from = json!({ "id": MAREN, "is_bot": false, "first_name": "Maren" });
        let chat = json!({ "id": MAREN, "type": "private", "first_name": "Maren" });
        let (kind, content): (&str, Value) = match self {
            Act::Taps { day, tier } => {
                let day = NaiveDate::from_ymd_opt(2027, 1, *day).unwrap();
                let data = Button::Answer { day, tier: TierId(*tier) }.token();
                let message = json!({ "message_id": 1, "date": 0, "chat": chat });
                let tap = json!({
                    "id": number.to_string(), "from": from, "message": message,
                    "chat_instance": "-1", "data": data,
                });
                ("callback_query", tap)
            }
            Act::Types(text) => {
                let date = 1_800_000_000;
                let typed = json!({
                    "message_id": number, "date": date, "from": from, "chat": chat, "text": text,
                });
                ("message", typed)
            }
        };
        to_raw_value(&json!({ "update_id": number, kind: content })).unwrap()
    }
}

/// Each update comes first in its turn, and up to four times more at any later place.
fn shuffled(count: usize, again: &[(usize, u8)]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..count).collect();
    for (seed, (at, times)) in again.iter().enumerate().take(count) {
        for time in 0..usize::from(*times) {
            let first = order.iter().position(|which| *which == seed).unwrap();
            let later = (at + time * 7) % (order.len() - first);
            order.insert(first + 1 + later, seed);
        }
    }
    order
}

async fn kept_after(acts: &[Act], order: &[usize]) -> BTreeMap<String, Vec<String>> {
    let world = World::begun("2027-01-14 12:00").await;
    world.unseen_until("2027-01-20 21:30");
    for which in order {
        let number = FIRST_UPDATE + i64::try_from(*which).unwrap();
        world.theatre.app.take(&acts[*which].update(number)).await.unwrap();
    }
    world.theatre.app.settle_straight().await;
    let mut kept = world.dump().await;
    assert_eq!(kept["failed_updates"], [""; 0]);
    // A code that is drawn, and how long something took.
    kept.retain(|table, _| !["invitations", "_sqlx_migrations"].contains(&table.as_str()));
    kept
}

#[test]
fn updates_replayed_up_to_five_times_in_shuffled_batches_leave_the_same_book() {
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
    let config = ProptestConfig { cases: 8, failure_persistence: None, ..Default::default() };
    let again = vec((0..100_usize, 0..=4_u8), 24);
    proptest!(config, |(acts in vec(acts(), 8..24), again in again)| {
        let once: Vec<usize> = (0..acts.len()).collect();
        let order = shuffled(acts.len(), &again);
        let (undisturbed, replayed) = runtime.block_on(async {
            (kept_after(&acts, &once).await, kept_after(&acts, &order).await)
        });
        // The word twice in a row erases, and then there is nobody to say anything to.
        let heard = !undisturbed["outbox"].is_empty() || undisturbed["makers"].is_empty();
        prop_assert!(heard, "nothing was heard");
        prop_assert_eq!(undisturbed, replayed, "{:?}", order);
    });
}
