//! The platform is away for three hours, or takes no messages: nothing is lost, nobody is flooded,
//! and only the poller knocks.

use duskrow::chat::event::UserId;
use duskrow::rehearsal::{ANY, Fault};

use super::{Serving, hours};

/// The waits of 1, 2, 4, 8, 16 and 32 seconds, then one a minute, for three hours: 185. The jitter
/// only lengthens them.
const KNOCKS_MAX: usize = 190;

#[tokio::test]
async fn an_outage_of_three_hours_loses_no_question_floods_nobody_and_is_knocked_at_gently() {
    let makers = [
        (1, hours("21:00", "04:00")),
        (2, hours("22:00", "04:00")),
        (3, hours("23:00", "04:00")),
        (4, hours("00:15", "04:00")),
        // Whose day is over before the platform is back.
        (5, hours("23:30", "00:00")),
    ];
    let serving = Serving::new("2027-01-14 20:30", makers.into_iter()).await;
    let night = async {
        serving.turn_to("2027-01-14 21:50:00").await;
        serving.stand_in.stop().await;
        serving.rests().await;
        serving.stand_in.fail_next(ANY, Fault::status(502, "Bad Gateway"), u32::MAX);
        serving.stand_in.restart().await.unwrap();
        let before = serving.stand_in.requests().len();
        serving.stand_in.send_text(1, "Smooth");
        serving.turn_to("2027-01-15 00:50:00").await;
        let asked = serving.stand_in.requests().split_off(before);
        serving.stand_in.heal();
        serving.turn_to("2027-01-15 20:00:00").await;
        asked
    };
    let knocks = serving.during(night).await;
    assert!((100..=KNOCKS_MAX).contains(&knocks.len()), "{} requests", knocks.len());
    assert!(knocks.iter().all(|asked| asked.method == "getMe"), "{knocks:?}");

    for (user, times) in [(1, 1), (2, 1), (3, 1), (4, 1), (5, 0)] {
        let mut said = serving.said_to(user);
        // Of the others, nobody hears anything else.
        said.retain(|(_, line)| user != 1 || line == "Thursday 14 January");
        assert_eq!(said.len(), times, "maker {user}: {said:?}");
        for (at, _) in said {
            // The last knock in vain is waited out for 75 seconds at most.
            let back = ["2027-01-15 00:50", "2027-01-15 00:51"].contains(&at.as_str());
            assert!(if user == 1 { at == "2027-01-14 21:00" } else { back }, "{user} at {at}");
        }
    }
    let first = serving.app.store().load(UserId(1)).await.unwrap().unwrap();
    assert_eq!(first.maker.book.unwrap().answers().len(), 1, "what was typed meanwhile");
}

#[tokio::test]
async fn messages_refused_for_ten_minutes_while_getme_answers_lose_no_question() {
    let makers = [
        (1, hours("21:00", "04:00")),
        (2, hours("21:00", "04:00")),
        (3, hours("21:05", "04:00")),
        // Who asks for something meanwhile.
        (4, hours("23:00", "04:00")),
    ];
    let serving = Serving::new("2027-01-14 20:30", makers.into_iter()).await;
    let story = async {
        serving.turn_to("2027-01-14 20:59:30").await;
        let trouble = Fault::status(500, "Internal Server Error");
        serving.stand_in.fail_next("sendMessage", trouble, u32::MAX);
        serving.turn_to("2027-01-14 21:02:00").await;
        serving.stand_in.send_text(4, "/help");
        serving.turn_to("2027-01-14 21:10:00").await;
        serving.stand_in.heal();
        serving.turn_to("2027-01-14 21:30:00").await;
    };
    serving.during(story).await;
    for (user, line) in [(1, "Thursday"), (2, "Thursday"), (3, "Thursday"), (4, "/today")] {
        let said = serving.said_to(user);
        assert_eq!(said.len(), 1, "maker {user}: {said:?}");
        assert!(said[0].1.starts_with(line), "{said:?}");
        // What was refused last is tried within a minute, and others follow.
        let back = ["2027-01-14 21:10", "2027-01-14 21:11", "2027-01-14 21:12"];
        assert!(back.contains(&said[0].0.as_str()), "maker {user} at {}", said[0].0);
    }
    let refused = serving.answered("sendMessage", 500).len();
    assert!((5..=60).contains(&refused), "{refused} requests in ten minutes");
}

#[tokio::test]
async fn a_question_under_way_when_an_outage_begins_is_not_lost_to_a_refusal_when_it_ends() {
    let makers = [(1, hours("21:00", "04:00"))];
    let serving = Serving::new("2027-01-14 20:30", makers.into_iter()).await;
    let night = async {
        serving.turn_to("2027-01-14 20:59:50").await;
        serving.stand_in.fail_next("sendMessage", Fault::DropRequest, 1);
        serving.stand_in.fail_next("getMe", Fault::status(502, "Bad Gateway"), u32::MAX);
        serving.turn_to("2027-01-15 00:00:00").await;
        assert_eq!(serving.requests("sendMessage"), 1);
        serving.stand_in.heal();
        serving.stand_in.fail_next("sendMessage", Fault::status(502, "Bad Gateway"), 2);
        serving.turn_to("2027-01-15 00:10:00").await;
    };
    serving.during(night).await;
    assert_eq!(serving.answered("sendMessage", 502).len(), 2);
    let said = serving.said_to(1);
    assert_eq!(said.len(), 1, "{said:?}");
}

/// Each copy arrives, and the bot hears of none: it cannot know, and does not flood.
#[tokio::test]
async fn a_question_nobody_hears_of_all_evening_comes_few_times_and_the_next_one_once() {
    let makers = [(1, hours("21:00", "04:00"))];
    let serving = Serving::new("2027-01-14 20:30", makers.into_iter()).await;
    let story = async {
        serving.turn_to("2027-01-14 20:59:50").await;
        serving.stand_in.fail_next("sendMessage", Fault::DropReply, u32::MAX);
        serving.turn_to("2027-01-15 04:10:00").await;
        serving.stand_in.heal();
        serving.turn_to("2027-01-15 22:00:00").await;
    };
    serving.during(story).await;
    let said = serving.said_to(1);
    let count = |line: &str| said.iter().filter(|(_, said)| said == line).count();
    assert_eq!((count("Thursday 14 January"), count("Friday 15 January")), (12, 1), "{said:?}");
}
