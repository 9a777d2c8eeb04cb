//! How the blanket is made, said through the whole bot: kept over a restart, half-way too.

use crate::world::World;

#[tokio::test]
async fn how_the_blanket_is_made_is_kept_and_a_step_waits_over_a_restart() {
    let mut world = World::begun("2027-01-14 12:00").await;
    let said = world
        .play(
            "/settings\n[Blocks and stitch]\n[Stitch]\n[Linen stitch]\n[Chain-2 edge]\n/stitch\n\
             [Blocks]\n[Filler rows]\n[First and last]\n/stitch\n[Width]",
        )
        .await;
    assert!(said.contains("Type the number of stitches, like 36."), "{said}");
    world = world.restart().await;
    let said = world.play("41").await;
    assert!(said.contains("The nearest widths are 40 and 42."), "{said}");
    let said = world.play("[Take 40 stitches]").await;
    assert!(said.contains("chain 42. The first stitch goes in the 4th chain"), "{said}");
    world.play("/stitch\n[Swatch]\n[Measured over 4 in]").await;
    world = world.restart().await;
    world.play("14,5 x 18").await;
    world = world.restart().await;
    let said = world.play("/stitch").await;
    for line in [
        "Stitch: linen stitch, chain-2 edge.",
        "Width: 40 stitches.",
        "Swatch: 14.5 stitches and 18 rows over 4 in.",
    ] {
        assert!(said.contains(line), "{line} is not in {said}");
    }
    let said = world.play("[Blocks]").await;
    assert!(said.contains("One filler row comes first, the others after the last day."), "{said}");
}
