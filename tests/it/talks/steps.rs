//! The steps of a row in words: each stitch, with counts worked out by hand.

use duskrow::blanket::stitch::{Craft, LinenEdge, Stitch, Width};
use duskrow::blanket::{Fabric, Terms};

use super::talker::Talker;

/// The set-up line and the steps of rows 1, 2 and 3 of a block that is so wide.
fn steps(stitch: Stitch, width: u16, terms: Terms) -> [String; 4] {
    let fabric = Fabric { stitch, width: Some(Width(width)), terms, ..Fabric::DEFAULT };
    assert_eq!(fabric.check(), Ok(()));
    let mut maren = Talker::working_in("2027-02-01 03:00", fabric).answering("4444");
    maren.types("/rows");
    let cards = ["Row by row", "Worked", "Worked"].map(|label| maren.taps(label));
    let line = |card: &str, index: usize| card.lines().nth(index).unwrap().to_owned();
    [line(&cards[0], 2), line(&cards[0], 3), line(&cards[1], 3), line(&cards[2], 3)]
}

fn check(stitch: Stitch, width: u16, set_up: &str, expected: [&str; 3]) {
    let said = steps(stitch, width, Terms::Us);
    assert_eq!(said[0], set_up);
    assert_eq!(said[1..], expected.map(str::to_owned));
}

#[test]
fn rows_of_one_stitch_have_as_many_stitches_as_they_are_wide() {
    let single = "Chain 1, turn. 1 single crochet in each stitch: 36. US terms.";
    check(
        Stitch::SingleCrochet,
        36,
        "Chain 37 with Shingle.",
        [
            "1 single crochet in the 2nd chain from the hook and in each chain after it: 36. US terms.",
            single,
            single,
        ],
    );
    let half = "Chain 2, turn. 1 half double crochet in each stitch: 36. US terms.";
    check(
        Stitch::HalfDouble { chain_counts: false },
        36,
        "Chain 38 with Shingle.",
        [
            "1 half double crochet in the 3rd chain from the hook and in each chain after it: 36. \
         US terms.",
            half,
            half,
        ],
    );
    let double = "Chain 3, turn: this is the first stitch. 1 double crochet in each stitch after \
        the first, the last one in the chain of the row below: 35, and the first stitch. US terms.";
    check(
        Stitch::Double { chain_counts: true },
        36,
        "Chain 38 with Shingle.",
        [
            "The first 3 chains are the first stitch. 1 double crochet in the 4th chain from the hook \
         and in each chain after it: 35, and the first stitch. US terms.",
            double,
            double,
        ],
    );
}

#[test]
fn linen_says_where_every_stitch_goes_and_counts_stitches_and_spaces() {
    let two = "Chain 2, turn. 1 single crochet in the first space. Chain 1 and 1 single crochet in \
        each space after it, the last one in the space at the edge: 12 single crochet, 12 spaces. \
        US terms.";
    check(
        Stitch::Linen(LinenEdge::ChainTwo),
        24,
        "Chain 26 with Shingle.",
        [
            "1 single crochet in the 4th chain from the hook. Chain 1 and 1 single crochet in every \
         second chain after it: 12 single crochet, 12 spaces. US terms.",
            two,
            two,
        ],
    );
    // 25 = 2 x 12 + 1: odd rows 13 and 12, even rows 14 and 11.
    check(
        Stitch::Linen(LinenEdge::Single),
        25,
        "Chain 26 with Shingle.",
        [
            "1 single crochet in the 2nd chain from the hook. Chain 1 and 1 single crochet in every \
         second chain after it: 13 single crochet, 12 spaces. US terms.",
            "Chain 1, turn. 1 single crochet in the first stitch and 1 in the first space. Chain 1 and \
         1 single crochet in each space after it. 1 single crochet in the last stitch: \
         14 single crochet, 11 spaces. US terms.",
            "Chain 1, turn. 1 single crochet in the first stitch. Chain 1 and 1 single crochet in each \
         space. Chain 1 and 1 single crochet in the last stitch: 13 single crochet, 12 spaces. \
         US terms.",
        ],
    );
    let end = "Chain 1, turn. 1 single crochet in the first space. Chain 1 and 1 single crochet in \
        each space after it. Chain 1 and 1 single crochet in the last stitch: 13 single crochet, \
        12 spaces. US terms.";
    check(
        Stitch::Linen(LinenEdge::SingleAtEnd),
        25,
        "Chain 26 with Shingle.",
        [
            "1 single crochet in the 2nd chain from the hook. Chain 1 and 1 single crochet in every \
         second chain after it: 13 single crochet, 12 spaces. US terms.",
            end,
            end,
        ],
    );
}

#[test]
fn knitting_is_cast_on_and_the_makers_own_pattern_is_named_by_row() {
    check(
        Stitch::Garter { day_is_ridge: false },
        36,
        "Cast on 36 stitches with Shingle.",
        ["Knit every stitch: 36.", "Knit every stitch: 36.", "Knit every stitch: 36."],
    );
    check(
        Stitch::Stockinette,
        36,
        "Cast on 36 stitches with Shingle.",
        ["Knit every stitch: 36.", "Purl every stitch: 36.", "Knit every stitch: 36."],
    );
    let own = Stitch::Own { multiple: 6, offset: 1, craft: Craft::Crochet };
    check(
        own,
        37,
        "Begin the block with Shingle, as your pattern says.",
        [
            "Work row 1 of your pattern.",
            "Turn. Work row 2 of your pattern.",
            "Turn. Work row 3 of your pattern.",
        ],
    );
}

/// US and UK words for one stitch: sc is dc, hdc is htr, dc is tr (common practice of the trade).
#[test]
fn one_stitch_has_two_names_and_the_terms_are_said() {
    for (stitch, us, uk) in [
        (Stitch::SingleCrochet, "1 single crochet in", "1 double crochet in"),
        (
            Stitch::HalfDouble { chain_counts: true },
            "1 half double crochet in",
            "1 half treble crochet in",
        ),
        (Stitch::Double { chain_counts: false }, "1 double crochet in", "1 treble crochet in"),
    ] {
        for (terms, name, said) in [(Terms::Us, us, "US terms."), (Terms::Uk, uk, "UK terms.")] {
            for line in &steps(stitch, 36, terms)[1..] {
                assert!(line.contains(name) && line.ends_with(said), "{line}");
            }
        }
    }
}
