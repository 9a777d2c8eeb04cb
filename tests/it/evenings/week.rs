//! A week as it goes: a pasted month, two days left open, one of them for later, a doubt, a note,
//! the recap. `duskrow rehearse --empty --start 2027-02-01 --script` plays the same lines.

use super::answers;
use crate::world::World;

const WEEK: &str = include_str!("week.txt");

#[tokio::test]
async fn a_week_with_a_pasted_month_two_open_days_and_a_later() {
    let mut world = World::new("2027-02-01 20:14").await;
    let week = world.play(WEEK).await;
    insta::assert_snapshot!(week);
    let days = answers(&world).await;
    assert_eq!(days.len(), 31 + 6);
    assert_eq!(days[0], "2027-01-01 Ordinary");
    assert_eq!(days[30], "2027-01-31 Ordinary");
    let february = [
        "2027-02-01 Smooth",
        "2027-02-02 Ordinary",
        "2027-02-03 Smooth",
        "2027-02-04 Ordinary",
        "2027-02-05 A bit rough",
        "2027-02-06 Ordinary",
    ];
    assert_eq!(days[31..], february);
}

#[tokio::test]
async fn nothing_is_said_of_a_day_before_the_day_it_was_put_off_to() {
    let mut world = World::new("2027-02-01 20:14").await;
    let week = world.play(WEEK).await;
    let put_off = week.find("I will ask about Wed 3 Feb on Sat 6 Feb").unwrap();
    let asked = week.find("bot: Wednesday 3 February is open.").unwrap();
    assert!(put_off < asked);
    let between = week[put_off..asked].split_once('\n').unwrap().1;
    assert!(!between.contains("3 Feb"), "{between}");
}
