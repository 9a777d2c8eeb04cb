//! A scale of the maker's own: three tiers out of seven with names of hers, a question of hers,
//! four evenings, one tier more in a new yarn, and one that goes with its days and comes back.
//! `duskrow rehearse --empty --start 2027-02-01 --script` plays the same lines.

use duskrow::blanket::{BlockNumber, TierId};

use super::answers;
use crate::world::World;

const SCALE: &str = include_str!("scale.txt");

#[tokio::test]
async fn a_maker_makes_her_own_scale_answers_by_it_and_changes_it() {
    let mut world = World::new("2027-02-01 20:14").await;
    let played = world.play(SCALE).await;
    insta::assert_snapshot!(played);
    let book = world.book().await;
    let tiers: Vec<(u8, &str)> =
        book.scale().tiers().iter().map(|tier| (tier.id.0, tier.label.as_str())).collect();
    assert_eq!(tiers, [(2, "Stormy"), (4, "Fair"), (6, "Flat calm"), (8, "Glassy")]);
    let retired: Vec<TierId> = book.scale().retired().map(|tier| tier.id).collect();
    assert_eq!(retired, [1, 3, 5, 7].map(TierId));
    assert_eq!(book.yarns().last().map(|yarn| yarn.rgb), Some([0x66, 0xCC, 0xBB]));
    assert_eq!(book.question().map(|asks| asks.as_str()), Some("How was the sea?"));
    assert_eq!(book.worked(BlockNumber(1)).len(), 3);
    let days =
        ["2027-02-01 Flat calm", "2027-02-02 Stormy", "2027-02-03 Flat calm", "2027-02-04 Fair"];
    assert_eq!(answers(&world).await, days);
}

#[tokio::test]
async fn a_removal_is_taken_back_after_a_restart() {
    let mut world = World::begun("2027-01-14 12:00").await;
    world.play("14 Jan Smooth\n[No]\n/settings\n[Scale]\n[Smooth]\n[Remove]\n[Ordinary]").await;
    assert_eq!(answers(&world).await, ["2027-01-14 Ordinary"]);
    let mut world = world.restart().await;
    let said = world.play("[Undo]\n/today 14 Jan").await;
    assert!(said.contains("Smooth is in your scale, and its 1 day has it."), "{said}");
    assert!(said.contains("Kept: Thursday 14 January, Smooth."), "{said}");
    assert_eq!(answers(&world).await, ["2027-01-14 Smooth"]);
}
