//! A blanket in linen stitch from its set-up to two finished blocks: its own swatch and width,
//! three months answered at once, two blocks worked with breaks, a place lost and found, an answer
//! changed after its row was worked. `duskrow rehearse --empty --start 2027-04-01 --script` plays
//! the same lines.

use duskrow::blanket::stitch::{LinenEdge, Stitch, Width};
use duskrow::blanket::{BlockNumber, Carry, Fillers, Finish, RowNumber, ends};

use crate::world::World;

const LINEN: &str = include_str!("linen.txt");

#[tokio::test]
async fn a_linen_blanket_is_set_up_worked_lost_found_and_finished_by_two_blocks() {
    let mut world = World::new("2027-04-01 21:14").await;
    let played = world.play(LINEN).await;
    insta::assert_snapshot!(played);
    let book = world.book().await;
    let fabric = book.fabric();
    assert_eq!(fabric.stitch, Stitch::Linen(LinenEdge::ChainTwo));
    assert_eq!((fabric.width, fabric.carry), (Some(Width(38)), Carry::Three));
    assert_eq!(book.plan().pieces().fillers, Fillers::FirstAndLast);
    let (january, february) = (BlockNumber(1), BlockNumber(2));
    assert_eq!(book.worked(january).len() + book.worked(february).len(), 66);
    for (block, joined) in [(january, false), (february, true)] {
        assert!(book.is_finished(block, Finish::Woven));
        assert_eq!(book.is_finished(block, Finish::Joined), joined);
    }
    // Counted by hand: January has 20 runs, of which rows 16 and 28 are carried; February has 18,
    // of which row 20 is.
    let ends_of = |number| ends(&book, &book.plan().block(number).unwrap()).ends;
    assert_eq!((ends_of(january), ends_of(february)), (2 * (20 - 2), 2 * (18 - 1)));
    // 14 January was left as it is worked, and 20 February pulled back and worked anew.
    let stitched = |block, row| {
        let yarn = book.worked_row(block, RowNumber(row)).unwrap().yarn;
        book.yarn_name(yarn).unwrap().to_string()
    };
    assert_eq!(stitched(january, 15), "Net Float");
    assert_eq!(stitched(february, 21), "Tarred Rope");
}
