//! A palette that somebody cannot tell apart, mended by what the bot offers, through the whole bot:
//! kept over a restart, with the rows worked before it.

use duskrow::blanket::BlockNumber;
use duskrow::blanket::colours::{Rgb, bad_pairs, read_hex, written_hex};

use crate::world::World;

#[tokio::test]
async fn a_palette_with_two_colours_alike_is_mended_by_the_shade_the_bot_offers() {
    let mut world = World::begun("2027-01-14 12:00").await;
    world.play("@ evening\n[A bit rough]\n/rows\n[Worked]").await;
    assert_eq!(world.book().await.worked(BlockNumber(1)).len(), 1);
    // Brick is a moss green now, as far from Kelp as ever for most people.
    let said = world.play("/settings\n[Colours]\n[See or change a colour]\n[Brick]\n7a8b3c").await;
    for line in [
        "Brick is #7A8B3C now.",
        "Normal sight: each pair can be told apart.",
        "red and green and sees red as dark (protan): Kelp and Brick look the same.",
        "does not cure a pair that looks alike.",
        "For these four kinds of sight it is enough to change Kelp. Photos and",
    ] {
        assert!(said.contains(line), "{line} is not in {said}");
    }
    world = world.restart().await;
    let said = world.play("[Kelp]").await;
    for line in ["1 row is worked in it.", "For some eyes it is close to Brick."] {
        assert!(said.contains(line), "{line} is not in {said}");
    }
    assert_eq!(bad_pairs(&colours(&world).await).len(), 1);
    let said = world.play("[Darker: #7B6414]").await;
    for line in [
        "Kelp is #7B6414 now.",
        "1 worked row is shown in the new colour too. It stays worked.",
        "If you go on in another yarn instead, tap Undo.",
    ] {
        assert!(said.contains(line), "{line} is not in {said}");
    }
    assert!(!said.contains("For these four kinds of sight it is enough to change"), "{said}");
    assert_eq!(bad_pairs(&colours(&world).await), []);
    // The last change can be taken back after a restart too, and the row is worked throughout.
    world = world.restart().await;
    let said = world.play("[Undo]").await;
    assert!(said.contains("The colours are as they were before."), "{said}");
    assert_eq!(written_hex(colours(&world).await[2]), "#AC944B");
    assert_eq!(world.book().await.worked(BlockNumber(1)).len(), 1);
}

#[tokio::test]
async fn a_ready_palette_and_another_order_are_kept_over_a_restart() {
    let mut world = World::begun("2027-01-14 12:00").await;
    world.play("/settings\n[Colours]\n[Ready palettes]\n[Window]").await;
    world.play("[Other orders]\n[Order by lightness]").await;
    let before = world.book().await;
    world = world.restart().await;
    assert_eq!(world.book().await, before);
    let lowest = &before.scale().tiers()[0];
    assert_eq!(before.yarn_name(lowest.yarn).unwrap().as_str(), "Night Pane");
    let said = world.play("/settings\n[Colours]\n[See or change a colour]\n[Fern Leaf]").await;
    assert!(said.contains("Code: #4C662B."), "{said}");
    assert_eq!(read_hex("#4C662B"), colours(&world).await.last().copied());
}

async fn colours(world: &World) -> Vec<Rgb> {
    world.book().await.yarns().iter().map(|yarn| yarn.rgb).collect()
}
