//! Which yarn categories fit a gauge, and which hooks and needles go with them?
//!
//! Craft Yarn Council, *Standard Yarn Weight System* and its hook and needle charts, as seen in
//! reprints. Gauges are counted over 4 inches, in single crochet (crochet) or stockinette (knit);
//! the ranges overlap, so that a gauge has a list of categories. There is no row gauge in it.

use super::stitch::Craft;

/// A category, and its gauges.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct YarnWeight {
    pub category: u8,
    /// Stitches of stockinette over 4 inches, and needles in millimetres.
    pub knit: Gauge,
    /// Single crochet over 4 inches, and hooks in millimetres; lace is counted in another stitch.
    pub crochet: Option<Gauge>,
}

#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Gauge {
    pub stitches: (u16, u16),
    pub tool_mm: (f64, f64),
}

impl YarnWeight {
    pub const ALL: [YarnWeight; 6] = [
        YarnWeight { category: 0, knit: Gauge::new(33, 40, 1.5, 2.25), crochet: None },
        YarnWeight::both(1, Gauge::new(27, 32, 2.25, 3.25), Gauge::new(21, 32, 2.25, 3.5)),
        YarnWeight::both(2, Gauge::new(23, 26, 3.25, 3.75), Gauge::new(16, 20, 3.5, 4.5)),
        YarnWeight::both(3, Gauge::new(21, 24, 3.75, 4.5), Gauge::new(12, 17, 4.5, 5.5)),
        YarnWeight::both(4, Gauge::new(16, 20, 4.5, 5.5), Gauge::new(11, 14, 5.5, 6.5)),
        YarnWeight::both(5, Gauge::new(12, 15, 5.5, 8.0), Gauge::new(8, 11, 6.5, 9.0)),
    ];

    const fn both(category: u8, knit: Gauge, crochet: Gauge) -> YarnWeight {
        YarnWeight { category, knit, crochet: Some(crochet) }
    }

    pub fn gauge(&self, craft: Craft) -> Option<Gauge> {
        match craft {
            Craft::Knit => Some(self.knit),
            Craft::Crochet => self.crochet,
        }
    }

    /// The categories whose gauge has so many stitches, rounded, with that gauge.
    pub fn of(stitches: f64, craft: Craft) -> Vec<(u8, Gauge)> {
        let rounded = stitches.round();
        let has = |gauge: &Gauge| {
            (f64::from(gauge.stitches.0)..=f64::from(gauge.stitches.1)).contains(&rounded)
        };
        let found = YarnWeight::ALL.iter().filter_map(|weight| {
            weight.gauge(craft).filter(has).map(|gauge| (weight.category, gauge))
        });
        found.collect()
    }
}

impl Gauge {
    const fn new(fewest: u16, most: u16, from_mm: f64, to_mm: f64) -> Gauge {
        Gauge { stitches: (fewest, most), tool_mm: (from_mm, to_mm) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Craft Yarn Council, *Standard Yarn Weight System* (numbers seen in reprints).
    #[test]
    fn a_gauge_has_every_category_whose_range_has_it() {
        let check = |stitches: f64, craft, expected: &[u8]| {
            let found = YarnWeight::of(stitches, craft);
            let categories: Vec<u8> = found.into_iter().map(|(category, _)| category).collect();
            assert_eq!(categories, expected, "{stitches} {craft:?}");
        };
        check(13.0, Craft::Crochet, &[3, 4]);
        check(16.0, Craft::Crochet, &[2, 3]);
        check(11.0, Craft::Crochet, &[4, 5]);
        check(24.0, Craft::Crochet, &[1]);
        check(18.4, Craft::Crochet, &[2]);
        check(7.0, Craft::Crochet, &[]);
        check(50.0, Craft::Crochet, &[]);
        check(18.0, Craft::Knit, &[4]);
        check(24.0, Craft::Knit, &[2, 3]);
        check(36.0, Craft::Knit, &[0]);
    }

    /// Craft Yarn Council, hook and needle size charts: a category begins where the one before
    /// ends.
    #[test]
    fn hooks_and_needles_go_up_with_the_category() {
        for craft in [Craft::Crochet, Craft::Knit] {
            let tools: Vec<(f64, f64)> = YarnWeight::ALL
                .iter()
                .filter_map(|weight| Some(weight.gauge(craft)?.tool_mm))
                .collect();
            assert!(tools.iter().all(|(from, to)| from < to));
            assert!(tools.windows(2).all(|pair| pair[0].0 < pair[1].0 && pair[0].1 < pair[1].1));
        }
        let hook = |category: usize| YarnWeight::ALL[category].crochet.unwrap().tool_mm;
        let needle = |category: usize| YarnWeight::ALL[category].knit.tool_mm;
        assert_eq!([hook(1), hook(3), hook(5)], [(2.25, 3.5), (4.5, 5.5), (6.5, 9.0)]);
        assert_eq!([needle(1), needle(3), needle(5)], [(2.25, 3.25), (3.75, 4.5), (5.5, 8.0)]);
    }
}
