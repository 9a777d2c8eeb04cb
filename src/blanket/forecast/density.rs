//! How heavy is a length of yarn? Linear density in the units labels use, and exact units.
//!
//! Tex is grams per kilometre (ISO 1144, *Textiles: Universal system for designating linear
//! density (Tex System)*); a denier is a gram per 9 km, the metric number is metres per gram. The
//! yard is 0.9144 m and the pound 0.453 592 37 kg exactly (international yard and pound agreement,
//! 1959), so that an ounce is 28.349 523 125 g and an inch 2.54 cm.

const GRAMS_PER_POUND: f64 = 453.592_37;
const METRES_PER_YARD: f64 = 0.9144;

/// Grams per kilometre, more than none.
#[derive(Clone, Copy, PartialEq, PartialOrd, Debug)]
pub struct Density {
    tex: f64,
}

impl Density {
    /// `None` for what no yarn has: nothing, less, or no number.
    pub fn from_tex(tex: f64) -> Option<Density> {
        (tex.is_finite() && tex > 0.0).then_some(Density { tex })
    }

    /// A tenth of a tex, as fine yarns are told.
    pub fn from_decitex(decitex: f64) -> Option<Density> {
        Density::from_tex(decitex / 10.0)
    }

    pub fn from_denier(denier: f64) -> Option<Density> {
        Density::from_tex(denier / 9.0)
    }

    /// Metres per gram, written Nm.
    pub fn from_metric_number(metres_per_gram: f64) -> Option<Density> {
        Density::from_tex(1000.0 / metres_per_gram)
    }

    pub fn from_yards_per_pound(yards: f64) -> Option<Density> {
        Density::from_tex(1000.0 * GRAMS_PER_POUND / (yards * METRES_PER_YARD))
    }

    /// By a ball's label.
    pub fn of_ball(grams: f64, metres: f64) -> Option<Density> {
        Density::from_tex(1000.0 * grams / metres)
    }

    pub fn tex(self) -> f64 {
        self.tex
    }

    pub fn denier(self) -> f64 {
        9.0 * self.tex
    }

    pub fn metric_number(self) -> f64 {
        1000.0 / self.tex
    }

    pub fn yards_per_pound(self) -> f64 {
        1000.0 * GRAMS_PER_POUND / (self.tex * METRES_PER_YARD)
    }

    /// The weight of so much yarn.
    pub fn grams(self, length_cm: f64) -> f64 {
        self.tex * length_cm / 100_000.0
    }
}

pub fn ounces_in_grams(ounces: f64) -> f64 {
    ounces * GRAMS_PER_POUND / 16.0
}

pub fn yards_in_metres(yards: f64) -> f64 {
    yards * METRES_PER_YARD
}

pub fn inches_in_cm(inches: f64) -> f64 {
    inches * 2.54
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_yarn_is_the_same_in_every_unit() {
        // 250 m in 100 g.
        let yarn = Density::of_ball(100.0, 250.0).unwrap();
        assert_eq!(yarn.tex(), 400.0);
        assert_eq!((yarn.denier(), yarn.metric_number()), (3600.0, 2.5));
        assert!((yarn.grams(25_000.0) - 100.0).abs() < 1e-12);
        // The usual 496,055 divided by tex is rounded to six digits.
        assert!((yarn.yards_per_pound() * 400.0 - 496_055.0).abs() < 0.5);
        let same = [
            Density::from_decitex(4000.0),
            Density::from_denier(3600.0),
            Density::from_metric_number(2.5),
            Density::from_yards_per_pound(yarn.yards_per_pound()),
        ];
        for other in same {
            assert!((other.unwrap().tex() - 400.0).abs() < 1e-9);
        }
    }

    #[test]
    fn ounces_yards_and_inches_are_exact() {
        assert_eq!(ounces_in_grams(1.0), 28.349_523_125);
        assert_eq!(yards_in_metres(1.0), 0.9144);
        assert_eq!(inches_in_cm(1.0), 2.54);
        assert!((36.0 * inches_in_cm(1.0) / 100.0 - yards_in_metres(1.0)).abs() < 1e-12);
    }

    #[test]
    fn what_no_yarn_has_is_no_density() {
        for nothing in [0.0, -4.0, f64::NAN, f64::INFINITY] {
            assert_eq!(Density::from_tex(nothing), None, "{nothing}");
            assert_eq!(Density::from_metric_number(nothing), None, "{nothing}");
            assert_eq!(Density::of_ball(nothing, 250.0), None, "{nothing}");
        }
        assert_eq!(Density::of_ball(100.0, 0.0), None);
    }
}
