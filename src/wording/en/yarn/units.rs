//! Weights and lengths of yarn in the maker's units, chances and lists, in English.

use crate::blanket::forecast::{ounces_in_grams, yards_in_metres};
use crate::blanket::stock::Decimetres;
use crate::blanket::yarn::{BallLabel, Target, Units};

/// "83", "83.5": as it was typed. A half of a tenth is rounded up.
pub fn number(value: f64) -> String {
    decimals(value, 1)
}

/// At most so many digits after the point, and no zeros at the end.
fn decimals(value: f64, digits: usize) -> String {
    let power = if digits == 1 { 10.0 } else { 100.0 };
    let text = format!("{:.digits$}", (value * power).round() / power);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// "83.5 g", "2.95 oz".
pub fn weight(grams: f64, units: Units) -> String {
    match units {
        Units::Grams => format!("{} g", number(grams)),
        Units::Ounces => format!("{} oz", decimals(grams / ounces_in_grams(1.0), 2)),
    }
}

/// What a row takes: "1.19 g", "0.042 oz".
pub fn row_weight(grams: f64, units: Units) -> String {
    format!("{} {}", row_number(grams, units), unit(units))
}

/// "1.09 to 1.28 g".
pub fn row_range(low: f64, high: f64, units: Units) -> String {
    format!("{} to {} {}", row_number(low, units), row_number(high, units), unit(units))
}

fn row_number(grams: f64, units: Units) -> String {
    match units {
        Units::Grams => decimals(grams, 2),
        Units::Ounces => format!("{:.3}", grams / ounces_in_grams(1.0)),
    }
}

fn unit(units: Units) -> &'static str {
    match units {
        Units::Grams => "g",
        Units::Ounces => "oz",
    }
}

/// "115 m", "126 yd".
fn length(length: Decimetres, units: Units) -> String {
    match units {
        Units::Grams => format!("{} m", number(length.metres())),
        Units::Ounces => format!("{} yd", (length.metres() / yards_in_metres(1.0)).round()),
    }
}

/// "50 g", "50 g and 115 m".
pub fn label(ball: BallLabel, units: Units) -> String {
    let grams = weight(ball.each.grams(), units);
    match ball.length_each {
        None => grams,
        Some(metres) => format!("{grams} and {}", length(metres, units)),
    }
}

/// "in about 62 of 100 cases".
pub fn cases(chance: f64) -> String {
    match (100.0 * chance).round() {
        ..1.0 => "in fewer than 1 of 100 cases".to_owned(),
        100.0.. => "in more than 99 of 100 cases".to_owned(),
        percent => format!("in about {percent} of 100 cases"),
    }
}

/// A chance in words, as in M. D. Mastrandrea and others, "Guidance Note for Lead Authors of the
/// IPCC Fifth Assessment Report on Consistent Treatment of Uncertainties", 2010, table 1.
pub fn in_words(chance: f64) -> &'static str {
    match chance {
        ..0.01 => "almost impossible",
        ..0.1 => "very unlikely",
        ..0.33 => "unlikely",
        ..0.66 => "about as likely as not",
        ..0.9 => "likely",
        ..0.99 => "very likely",
        _ => "almost certain",
    }
}

pub fn share(target: Target) -> &'static str {
    match target {
        Target::Eighty => "80 of 100 cases",
        Target::Ninety => "90 of 100 cases",
        Target::NinetyFive => "95 of 100 cases",
    }
}

pub fn rows(count: u32) -> String {
    if count == 1 { "1 row".to_owned() } else { format!("{count} rows") }
}

pub fn balls(count: u32) -> String {
    if count == 1 { "1 ball".to_owned() } else { format!("{count} balls") }
}

/// "a", "a and b", "a, b and c".
pub fn list(items: &[String]) -> String {
    match items {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn weights_are_said_in_the_units_of_the_maker() {
        assert_eq!(weight(83.0, Units::Grams), "83 g");
        assert_eq!(weight(83.25, Units::Grams), "83.3 g");
        // 100 g are 3.527 oz.
        assert_eq!(weight(100.0, Units::Ounces), "3.53 oz");
        assert_eq!(weight(0.0, Units::Ounces), "0 oz");
        assert_eq!(row_range(1.1, 1.196, Units::Grams), "1.1 to 1.2 g");
        assert_eq!(row_weight(1.19, Units::Ounces), "0.042 oz");
        assert_eq!(length(Decimetres(2_103), Units::Ounces), "230 yd");
    }

    #[test]
    fn no_chance_is_said_as_certain() {
        assert_eq!(cases(0.004), "in fewer than 1 of 100 cases");
        assert_eq!(cases(0.006), "in about 1 of 100 cases");
        assert_eq!(cases(0.62), "in about 62 of 100 cases");
        assert_eq!(cases(0.994), "in about 99 of 100 cases");
        assert_eq!(cases(1.0), "in more than 99 of 100 cases");
        let words = [0.0, 0.05, 0.2, 0.5, 0.7, 0.95, 1.0].map(in_words);
        assert_eq!(words[3], "about as likely as not");
        assert!(words.windows(2).all(|pair| pair[0] != pair[1]));
    }
}
