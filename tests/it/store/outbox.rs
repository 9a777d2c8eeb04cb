//! What is said, in which order, how often, and which message a change goes to.

use chrono::TimeDelta;
use duskrow::blanket::Change;
use duskrow::chat::event::MessageId;
use duskrow::store::{Action, ChatId, Claimed, Create, Lane, MakerId, Queued, Settled, Store};

use super::{Deed, Shelf, answered, day, edit, new, noon, question};

impl Shelf {
    async fn claim(&self) -> Option<Claimed> {
        self.store.claim(noon(), &|_| false).await.unwrap()
    }

    /// Claims the next message, and says it as "send Text" or "edit 7 Text".
    async fn next(&self) -> Option<(Claimed, String)> {
        let claimed = self.claim().await?;
        let said = match claimed.action {
            Action::Send => format!("send {}", claimed.params),
            Action::Edit { message } => format!("edit {} {}", message.0, claimed.params),
        };
        Some((claimed, said))
    }

    /// Sends everything; new messages are numbered from `first_message`. What was said, in order.
    pub async fn send_all(&self, first_message: i64) -> Vec<String> {
        let mut sent = Vec::new();
        while let Some((claimed, said)) = self.next().await {
            let settled = match claimed.action {
                Action::Send => {
                    let message = MessageId(first_message + sent.len() as i64);
                    Settled::Sent { message }
                }
                Action::Edit { .. } => Settled::Done,
            };
            self.store.settle(claimed.id, settled).await.unwrap();
            sent.push(said);
        }
        sent
    }

    /// The message on record for a slot.
    async fn message_of(&self, maker: MakerId, slot: &str) -> i64 {
        let message = "SELECT message_id FROM slots WHERE maker = ? AND slot = ?";
        let message = sqlx::query_scalar(message).bind(maker.0).bind(slot);
        message.fetch_one(&self.pool().await).await.unwrap()
    }

    /// Lets the message in a slot arrive under this number.
    async fn arrives(&self, slot: &str, message: i64) {
        let claimed = self.claim().await.unwrap();
        assert_eq!(claimed.slot.as_deref(), Some(slot));
        let settled = Settled::Sent { message: MessageId(message) };
        self.store.settle(claimed.id, settled).await.unwrap();
    }
}

fn unasked(params: &str) -> Queued {
    Queued { lane: Lane::Unasked, ..new(None, params) }
}

#[tokio::test]
async fn replies_go_before_unasked_messages_and_each_chat_keeps_its_order() {
    let shelf = Shelf::new().await;
    let (maren, joao) = (shelf.maker(1).await, shelf.maker(2).await);
    shelf.says(maren, [unasked("question to Maren")]).await;
    shelf.says(joao, [unasked("question to João")]).await;
    shelf.says(joao, [new(None, "reply to João")]).await;
    shelf.says(maren, [unasked("second to Maren")]).await;
    let sent = shelf.send_all(1).await;
    let expected = ["question to João", "reply to João", "question to Maren", "second to Maren"];
    assert_eq!(sent, expected.map(|text| format!("send {text}")));
    assert_eq!(shelf.store.pending().await.unwrap(), 0);
}

#[tokio::test]
async fn a_chat_waits_while_its_message_is_under_way_or_it_was_told_to() {
    let shelf = Shelf::new().await;
    let (maren, joao) = (shelf.maker(1).await, shelf.maker(2).await);
    shelf.says(maren, [new(None, "1 to Maren"), new(None, "2 to Maren")]).await;
    shelf.says(joao, [unasked("1 to João")]).await;
    let (first, said) = shelf.next().await.unwrap();
    assert_eq!(said, "send 1 to Maren");
    let told = shelf.store.claim(noon(), &|chat| chat == ChatId(2)).await.unwrap();
    assert!(told.is_none());
    let (second, said) = shelf.next().await.unwrap();
    assert_eq!((said.as_str(), second.chat_id), ("send 1 to João", ChatId(2)));
    assert!(shelf.claim().await.is_none());
    assert_eq!(shelf.store.pending().await.unwrap(), 3);
    shelf.store.settle(first.id, Settled::Retry).await.unwrap();
    let (first, said) = shelf.next().await.unwrap();
    assert_eq!((said.as_str(), first.resend), ("send 1 to Maren", false));
    shelf.store.settle(first.id, Settled::Drop).await.unwrap();
    assert_eq!(shelf.next().await.unwrap().1, "send 2 to Maren");
}

#[tokio::test]
async fn a_long_queue_of_waiting_chats_hides_nobody() {
    let shelf = Shelf::new().await;
    let (maren, joao) = (shelf.maker(1).await, shelf.maker(2).await);
    shelf.says(maren, (0..100).map(|n| new(None, &n.to_string()))).await;
    shelf.says(joao, [new(None, "to João")]).await;
    let claimed = shelf.store.claim(noon(), &|chat| chat == ChatId(1)).await.unwrap().unwrap();
    assert_eq!(claimed.params, "to João");
}

#[tokio::test]
async fn a_waiting_question_is_dropped_once_its_day_is_answered() {
    let shelf = Shelf::new().await;
    let maker = shelf.maker_with_blanket(1).await;
    let other = shelf.maker_with_blanket(2).await;
    shelf.says(maker, [question("2027-01-13"), question("2027-01-14")]).await;
    shelf.says(other, [question("2027-01-14")]).await;
    let kept = edit(Some("question 2027-01-14"), None, "Kept");
    let changes = vec![answered("2027-01-14", 2)];
    shelf.does(maker, Deed { changes, queue: vec![kept], ..Deed::default() }).await;
    let sent = shelf.send_all(1).await;
    let expected = ["send How was 2027-01-13?", "send Kept", "send How was 2027-01-14?"];
    assert_eq!(sent, expected);
}

#[tokio::test]
async fn a_question_under_way_when_its_day_is_answered_is_changed_when_it_arrived() {
    let shelf = Shelf::new().await;
    let maker = shelf.maker_with_blanket(1).await;
    shelf.says(maker, [question("2027-01-14")]).await;
    let (asked, _) = shelf.next().await.unwrap();
    let kept = edit(Some("question 2027-01-14"), None, "Kept");
    let changes = vec![answered("2027-01-14", 2)];
    shelf.does(maker, Deed { changes, queue: vec![kept], ..Deed::default() }).await;
    assert!(shelf.claim().await.is_none());
    shelf.store.settle(asked.id, Settled::Sent { message: MessageId(70) }).await.unwrap();
    assert_eq!(shelf.send_all(71).await, ["edit 70 Kept"]);
}

#[tokio::test]
async fn a_change_goes_to_the_tapped_message_and_to_the_one_on_record() {
    let shelf = Shelf::new().await;
    let maker = shelf.maker(1).await;
    shelf.says(maker, [new(Some("rows"), "Rows")]).await;
    shelf.arrives("rows", 70).await;
    let cases = [
        (Some("rows"), Some(70), vec!["edit 70 New"]),
        (Some("rows"), Some(60), vec!["edit 60 New", "edit 70 New"]),
        (Some("rows"), None, vec!["edit 70 New"]),
        (None, Some(60), vec!["edit 60 New"]),
        (None, None, vec!["send New"]),
        (Some("set-up"), Some(60), vec!["edit 60 New"]),
        (Some("set-up"), None, vec!["send New"]),
    ];
    for (slot, tapped, expected) in cases {
        shelf.says(maker, [edit(slot, tapped, "New")]).await;
        assert_eq!(shelf.send_all(80).await, expected, "{slot:?} {tapped:?}");
    }
    shelf.says(maker, [edit(Some("set-up"), None, "New")]).await;
    assert_eq!(shelf.send_all(90).await, ["edit 80 New"], "the one sent anew stands for the slot");
}

#[tokio::test]
async fn a_message_that_cannot_be_changed_is_sent_anew_only_where_no_other_stands_for_it() {
    let shelf = Shelf::new().await;
    let maker = shelf.maker(1).await;
    shelf.says(maker, [new(Some("rows"), "Rows")]).await;
    shelf.arrives("rows", 70).await;
    // The tapped one is too old, the one on record is not.
    shelf.says(maker, [edit(Some("rows"), Some(60), "New")]).await;
    let (old, said) = shelf.next().await.unwrap();
    assert_eq!(said, "edit 60 New");
    shelf.store.settle(old.id, Settled::SendAnew).await.unwrap();
    assert_eq!(shelf.send_all(71).await, ["edit 70 New"]);
    // The tapped one changes, the one on record is gone.
    shelf.says(maker, [edit(Some("rows"), Some(60), "New")]).await;
    let (tapped, _) = shelf.next().await.unwrap();
    shelf.store.settle(tapped.id, Settled::Done).await.unwrap();
    let (gone, said) = shelf.next().await.unwrap();
    assert_eq!(said, "edit 70 New");
    shelf.store.settle(gone.id, Settled::SendAnew).await.unwrap();
    assert_eq!(shelf.store.pending().await.unwrap(), 0);
    // Both are gone.
    shelf.says(maker, [edit(Some("rows"), Some(60), "New")]).await;
    for expected in ["edit 60 New", "edit 70 New"] {
        let (gone, said) = shelf.next().await.unwrap();
        assert_eq!(said, expected);
        shelf.store.settle(gone.id, Settled::SendAnew).await.unwrap();
    }
    assert_eq!(shelf.send_all(90).await, ["send New"]);
    shelf.says(maker, [edit(Some("rows"), None, "Newer")]).await;
    assert_eq!(shelf.send_all(91).await, ["edit 90 Newer"]);
}

#[tokio::test]
async fn a_newer_change_of_the_same_message_takes_the_place_of_a_waiting_one() {
    let shelf = Shelf::new().await;
    let maker = shelf.maker(1).await;
    let other = shelf.maker(2).await;
    shelf.says(other, [edit(Some("rows"), Some(60), "of the other maker")]).await;
    shelf.says(maker, [edit(Some("rows"), Some(60), "old"), new(None, "between")]).await;
    shelf.says(maker, [edit(None, Some(61), "another message")]).await;
    shelf.says(maker, [edit(Some("rows"), Some(60), "new")]).await;
    let expected =
        ["edit 60 of the other maker", "send between", "edit 61 another message", "edit 60 new"];
    assert_eq!(shelf.send_all(1).await, expected);
}

#[tokio::test]
async fn a_change_under_way_is_not_replaced_and_two_tapped_messages_say_the_same() {
    let shelf = Shelf::new().await;
    let maker = shelf.maker(1).await;
    shelf.says(maker, [edit(Some("rows"), Some(60), "first")]).await;
    let (under_way, said) = shelf.next().await.unwrap();
    assert_eq!(said, "edit 60 first");
    shelf.says(maker, [edit(Some("rows"), Some(61), "second")]).await;
    shelf.says(maker, [edit(Some("rows"), Some(62), "third")]).await;
    shelf.store.settle(under_way.id, Settled::Done).await.unwrap();
    assert_eq!(shelf.send_all(1).await, ["edit 61 third", "edit 62 third"]);
}

#[tokio::test]
async fn two_new_messages_that_change_nothing_are_both_sent() {
    let shelf = Shelf::new().await;
    let maker = shelf.maker(1).await;
    shelf.says(maker, [edit(None, None, "one"), edit(None, None, "two")]).await;
    assert_eq!(shelf.send_all(1).await, ["send one", "send two"]);
}

#[tokio::test]
async fn a_message_that_would_be_wrong_by_now_is_dropped_if_it_still_waits() {
    let shelf = Shelf::new().await;
    let maker = shelf.maker(1).await;
    let until = Some(noon() + TimeDelta::hours(7));
    shelf.says(maker, [Queued { until, ..question("2027-01-14") }, new(None, "stays")]).await;
    let late = noon() + TimeDelta::hours(7);
    let in_time = late - TimeDelta::milliseconds(1);
    let claimed = shelf.store.claim(in_time, &|_| false).await.unwrap().unwrap();
    assert_eq!(claimed.params, "How was 2027-01-14?");
    assert!(shelf.store.claim(late, &|_| false).await.unwrap().is_none());
    assert_eq!(shelf.store.pending().await.unwrap(), 2, "what is under way is not dropped");
    shelf.store.settle(claimed.id, Settled::Retry).await.unwrap();
    let claimed = shelf.store.claim(late, &|_| false).await.unwrap().unwrap();
    assert_eq!(claimed.params, "stays");
    assert_eq!(shelf.store.pending().await.unwrap(), 1);
}

#[tokio::test]
async fn after_each_crash_what_was_under_way_is_sent_once_more() {
    let shelf = Shelf::new().await;
    let maker = shelf.maker(1).await;
    shelf.says(maker, [new(None, "under way"), new(None, "next")]).await;
    for _ in 0..3 {
        let claimed = shelf.claim().await.unwrap();
        assert_eq!(claimed.params, "under way");
        let store = Store::open(&shelf.path(), Create::Never).await.unwrap();
        store.requeue_sending().await.unwrap();
        store.close().await;
    }
    assert_eq!(shelf.send_all(1).await.join(", "), "send under way, send next");
}

#[tokio::test]
async fn a_message_nobody_knows_of_is_sent_five_times_more_and_then_dropped() {
    let shelf = Shelf::new().await;
    let maker = shelf.maker(1).await;
    shelf.says(maker, [new(None, "timed out")]).await;
    for resend in [false, true, true, true, true, true] {
        let claimed = shelf.claim().await.unwrap();
        assert_eq!((claimed.resend, claimed.until), (resend, None));
        // The platform's refusals between do not count.
        shelf.store.settle(claimed.id, Settled::Retry).await.unwrap();
        let claimed = shelf.claim().await.unwrap();
        shelf.store.settle(claimed.id, Settled::Unclear).await.unwrap();
    }
    assert_eq!(shelf.store.pending().await.unwrap(), 0);
}

#[tokio::test]
async fn a_question_nobody_knows_of_is_sent_until_its_day_is_over() {
    let shelf = Shelf::new().await;
    let maker = shelf.maker(1).await;
    let until = noon() + TimeDelta::hours(7);
    shelf.says(maker, [Queued { until: Some(until), ..question("2027-01-14") }]).await;
    for _ in 0..20 {
        let claimed = shelf.claim().await.unwrap();
        assert_eq!(claimed.until, Some(until));
        shelf.store.settle(claimed.id, Settled::Unclear).await.unwrap();
    }
    assert_eq!(shelf.store.pending().await.unwrap(), 1);
    assert!(shelf.store.claim(until, &|_| false).await.unwrap().is_none());
    assert_eq!(shelf.store.pending().await.unwrap(), 0);
}

#[tokio::test]
async fn a_maker_who_blocked_the_bot_has_no_backlog_until_they_return() {
    use duskrow::store::Reach;
    let shelf = Shelf::new().await;
    let (maker, other) = (shelf.maker_with_blanket(1).await, shelf.maker(2).await);
    let wakes_at = Some(noon());
    let queue = vec![new(None, "one"), new(None, "two")];
    shelf.does(maker, Deed { queue, wakes_at, ..Deed::default() }).await;
    shelf.says(other, [new(None, "to the other")]).await;
    let (refused, _) = shelf.next().await.unwrap();
    shelf.store.settle(refused.id, Settled::Unreachable).await.unwrap();
    assert!(!shelf.stored(maker).await.reachable);
    assert_eq!(shelf.store.due(noon(), 10).await.unwrap(), []);
    assert_eq!(shelf.store.next_wake().await.unwrap(), None);
    shelf.says(maker, [question("2027-01-14")]).await;
    assert_eq!(shelf.send_all(1).await, ["send to the other"]);

    let queue = vec![new(None, "welcome back")];
    let reach = Some(Reach::Reachable);
    shelf.does(maker, Deed { queue, reach, wakes_at, ..Deed::default() }).await;
    assert_eq!(shelf.store.due(noon(), 10).await.unwrap(), [shelf.stored(maker).await.user]);
    shelf.does(maker, Deed { reach: Some(Reach::Unreachable), ..Deed::default() }).await;
    assert_eq!(shelf.store.pending().await.unwrap(), 0);
}

#[tokio::test]
async fn a_late_settlement_finds_nothing_of_somebody_else() {
    let shelf = Shelf::new().await;
    let (maker, other) = (shelf.maker(1).await, shelf.maker(2).await);
    shelf.says(maker, [new(Some("rows"), "Rows")]).await;
    let claimed = shelf.claim().await.unwrap();
    shelf.erases(maker).await;
    shelf.says(other, [new(Some("rows"), "Rows of the other")]).await;
    let (others, _) = shelf.next().await.unwrap();
    assert_ne!(others.id, claimed.id);
    let late = Settled::Sent { message: MessageId(70) };
    shelf.store.settle(claimed.id, late).await.unwrap();
    shelf.store.settle(others.id, Settled::Sent { message: MessageId(71) }).await.unwrap();
    shelf.says(other, [edit(Some("rows"), None, "New")]).await;
    assert_eq!(shelf.send_all(80).await, ["edit 71 New"]);
}

#[tokio::test]
async fn the_question_and_its_asking_are_kept_together() {
    let shelf = Shelf::new().await;
    let maker = shelf.maker_with_blanket(1).await;
    let asked = Change::Asked { day: day("2027-01-14"), at: noon() };
    let queue = vec![question("2027-01-14")];
    shelf.does(maker, Deed { changes: vec![asked], queue, ..Deed::default() }).await;
    let store = Store::open(&shelf.path(), Create::Never).await.unwrap();
    let book = store.load_by_id(maker).await.unwrap().unwrap().maker.book.unwrap();
    assert_eq!(book.asked(), Some((day("2027-01-14"), noon())));
    assert_eq!(store.pending().await.unwrap(), 1);
    store.close().await;
}

#[tokio::test]
async fn a_message_tells_its_slot_until_a_newer_one_stands_for_it() {
    let shelf = Shelf::new().await;
    let (maren, joao) = (shelf.maker(1).await, shelf.maker(2).await);
    let slot_of =
        async |maker, message| shelf.store.slot_of(maker, MessageId(message)).await.unwrap();
    shelf
        .says(maren, [question("2027-01-13"), new(None, "Hello"), new(Some("rows"), "Rows")])
        .await;
    shelf.says(joao, [new(Some("set-up"), "Where?")]).await;
    assert_eq!(slot_of(maren, 70).await, None);
    shelf.send_all(70).await;
    let mut slots = Vec::new();
    for maker in [maren, joao] {
        for message in 69..75 {
            slots.extend(slot_of(maker, message).await);
        }
    }
    assert_eq!(slots, ["question 2027-01-13", "rows", "set-up"]);

    let asked = shelf.message_of(maren, "question 2027-01-13").await;
    shelf.says(maren, [new(Some("question 2027-01-13"), "Again")]).await;
    shelf.send_all(80).await;
    assert_eq!(slot_of(maren, asked).await, None);
    assert_eq!(slot_of(maren, 80).await.as_deref(), Some("question 2027-01-13"));
    assert_eq!(slot_of(joao, 80).await, None);
}

#[tokio::test]
async fn a_question_nobody_has_seen_goes_once_its_day_is_put_off() {
    let shelf = Shelf::new().await;
    let maker = shelf.maker_with_blanket(1).await;
    shelf.says(maker, [question("2027-01-13"), question("2027-01-14")]).await;
    let put_off = Change::PutOff { day: day("2027-01-13"), until: Some(day("2027-01-16")) };
    let queue = vec![new(None, "Later")];
    shelf.does(maker, Deed { changes: vec![put_off], queue, ..Deed::default() }).await;
    assert_eq!(shelf.send_all(70).await, ["send How was 2027-01-14?", "send Later"]);
}
