//! Playing a script against a bot of three lines: acts, settling, turning, and what goes wrong.

use anyhow::Result;
use chrono::{DateTime, FixedOffset, NaiveDateTime, TimeDelta, Utc};
use duskrow::rehearsal::player::{Stage, play};
use duskrow::rehearsal::script;
use duskrow::rehearsal::transcript::{Form, Transcript};
use serde_json::json;

use super::{MAREN, World};

/// An hour east of Greenwich, asked at nine in the evening.
struct Parrot<'a>(&'a World);

fn zone() -> FixedOffset {
    FixedOffset::east_opt(3600).unwrap()
}

impl Stage for Parrot<'_> {
    async fn settle(&mut self) -> Result<()> {
        for update in self.0.take().await {
            let heard = match (&update["message"]["text"], &update["callback_query"]["data"]) {
                (serde_json::Value::String(text), _) => text.clone(),
                (_, data) => format!("tapped {}", data.as_str().unwrap()),
            };
            let keyboard = json!([[{ "text": "Smooth", "callback_data": "s" }]]);
            let params = json!({
                "chat_id": MAREN, "text": heard, "reply_markup": { "inline_keyboard": keyboard },
            });
            self.0.ok("sendMessage", params).await;
            self.0.turn(1);
        }
        Ok(())
    }

    async fn turn_to(&mut self, at: DateTime<Utc>) -> Result<()> {
        self.0.clock.turn_to(at);
        self.0.say("the clock was turned").await;
        Ok(())
    }

    async fn turn_towards(&mut self, _user: i64) -> Result<()> {
        Ok(())
    }

    async fn invitation(&mut self, _user: i64, text: &str) -> Result<Option<String>> {
        Ok((text == "knock knock").then(|| "k7Q2".to_owned()))
    }

    fn local(&self, at: DateTime<Utc>) -> DateTime<FixedOffset> {
        at.with_timezone(&zone())
    }

    fn instant(&self, local: NaiveDateTime) -> DateTime<Utc> {
        local.and_local_timezone(zone()).unwrap().to_utc()
    }

    fn next_evening(&self) -> DateTime<Utc> {
        let local = self.local(self.0.clock.now()).naive_local();
        let today = self.instant(local.date().and_hms_opt(21, 0, 0).unwrap());
        if today > self.0.clock.now() { today } else { today + TimeDelta::days(1) }
    }
}

async fn played(script: &str) -> (String, Result<()>) {
    let world = World::new().await;
    world.take().await;
    let lines = script::read(script).unwrap();
    let form = Form::Text { bot: "Parrot".into(), maker: "Maren".into() };
    let transcript = Transcript::new(|at: DateTime<Utc>| at.with_timezone(&zone()), form, None);
    let mut out = String::new();
    let mut parrot = Parrot(&world);
    let result = play(&lines, (MAREN, "Maren"), &world.platform, &mut parrot, |_, _, seen| {
        out.push_str(&transcript.render(seen)?);
        Ok(())
    });
    let result = result.await;
    (out, result)
}

#[tokio::test]
async fn a_script_is_played_line_by_line() {
    let (out, result) = played("hello\n# no act\n@ evening\n[Smooth]\n@ +1d").await;
    result.unwrap();
    insta::assert_snapshot!(out, @r"
    2027-01-14 22:00  Maren
        hello
    2027-01-14 22:00  Parrot
        hello
        [Smooth]
    2027-01-15 21:00  Parrot
        the clock was turned
    2027-01-15 21:00  Maren
        [Smooth]
    2027-01-15 21:00  Parrot
        tapped s
        [Smooth]
    2027-01-16 21:00  Parrot
        the clock was turned
    ");
}

#[tokio::test]
async fn a_label_that_is_not_there_ends_the_script_and_the_error_says_which_are() {
    let (out, result) = played("hello\n[Smoth]\nnever said").await;
    let why = format!("{:#}", result.unwrap_err());
    assert_eq!(why, "line 2: no button [Smoth] here; there are [Smooth]");
    assert!(out.contains("hello") && !out.contains("never said"));
}

#[tokio::test]
async fn the_clock_is_never_turned_back() {
    for back in ["@ 2027-01-14 21:59", "@ 2027-01-14 22:00"] {
        let (out, result) = played(back).await;
        let why = format!("{:#}", result.unwrap_err());
        assert_eq!(why, "line 1: the clock only turns forward; it is 2027-01-14 22:00 already");
        assert_eq!(out, "");
    }
    played("@ 2027-01-14 22:01").await.1.unwrap();
    played("@ +1m").await.1.unwrap();
}

#[tokio::test]
async fn a_line_that_stands_for_a_link_opens_it_and_shows_no_code() {
    let world = World::new().await;
    let lines = script::read("knock knock").unwrap();
    let (mut shown, mut parrot) = (Vec::new(), Parrot(&world));
    let played = play(&lines, (MAREN, "Maren"), &world.platform, &mut parrot, |_, _, seen| {
        shown.push(seen.text.clone());
        Ok(())
    });
    played.await.unwrap();
    // The parrot repeats what reached it: Maren's first word of before, then the link.
    assert_eq!(shown, ["/start", "/start", "/start k7Q2"]);
}
