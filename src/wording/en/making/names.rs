//! The names of stitches in English, in the terms of the US or the UK, and the terms said.

use crate::blanket::Terms;
use crate::blanket::stitch::{Craft, LinenEdge, Stitch};

/// "single crochet (US)" is "double crochet (UK)".
pub fn single(terms: Terms) -> &'static str {
    match terms {
        Terms::Us => "single crochet (US)",
        Terms::Uk => "double crochet (UK)",
    }
}

pub fn half_double(terms: Terms) -> &'static str {
    match terms {
        Terms::Us => "half double crochet (US)",
        Terms::Uk => "half treble crochet (UK)",
    }
}

pub fn double(terms: Terms) -> &'static str {
    match terms {
        Terms::Us => "double crochet (US)",
        Terms::Uk => "treble crochet (UK)",
    }
}

/// What a swatch measures.
pub fn gauge(terms: Terms) -> &'static str {
    match terms {
        Terms::Us => "gauge",
        Terms::Uk => "tension",
    }
}

pub fn terms(terms: Terms) -> &'static str {
    match terms {
        Terms::Us => "US",
        Terms::Uk => "UK",
    }
}

pub fn stitch(stitch: Stitch, terms: Terms) -> String {
    let counts = |counts: bool| if counts { "counts" } else { "does not count" };
    match stitch {
        Stitch::Linen(edge) => format!("linen stitch, {}", linen(edge, terms)),
        Stitch::SingleCrochet => single(terms).to_owned(),
        Stitch::HalfDouble { chain_counts } => {
            format!("{}, the turning chain {}", half_double(terms), counts(chain_counts))
        }
        Stitch::Double { chain_counts } => {
            format!("{}, the turning chain {}", double(terms), counts(chain_counts))
        }
        Stitch::Garter { day_is_ridge: true } => {
            "garter stitch, a ridge of 2 rows a day".to_owned()
        }
        Stitch::Garter { day_is_ridge: false } => "garter stitch, a row a day".to_owned(),
        Stitch::Stockinette => "stockinette".to_owned(),
        Stitch::Own { craft: Craft::Crochet, .. } => "your own, in crochet".to_owned(),
        Stitch::Own { craft: Craft::Knit, .. } => "your own, knitted".to_owned(),
    }
}

/// "chain-2 edge", "single crochet edges (US)".
pub fn linen(edge: LinenEdge, terms: Terms) -> String {
    let single = match terms {
        Terms::Us => ("single", "(US)"),
        Terms::Uk => ("double", "(UK)"),
    };
    match edge {
        LinenEdge::ChainTwo => "chain-2 edge".to_owned(),
        LinenEdge::Single => format!("{} crochet edges {}", single.0, single.1),
        LinenEdge::SingleAtEnd => format!("{} crochet at end {}", single.0, single.1),
    }
}
