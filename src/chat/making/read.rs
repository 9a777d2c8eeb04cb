//! What was typed about how the blanket is made. Parsers alone.

use crate::blanket::size::{Basis, Swatch, SwatchFault};
use crate::blanket::stitch::{Craft, Stitch};
use crate::chat::lexicon::MakingWords;
use crate::chat::typed;

/// The longest line with a number in it that is read.
const CHARS_MAX: usize = 60;

/// A whole number, perhaps with words that say what is counted: "33", "33 rows". More than
/// fits is the largest there is.
pub fn count(text: &str, words: &[&str]) -> Option<u16> {
    let parts = parts(text)?;
    let mut numbers = parts.iter().filter(|part| !words.contains(&part.as_str()));
    let number = typed::number(numbers.next()?, 6)?;
    numbers.next().is_none().then(|| u16::try_from(number).unwrap_or(u16::MAX))
}

/// "6 + 1", "6+1", "multiple of 6 plus 1", "6".
pub fn own(text: &str, craft: Craft, words: &MakingWords) -> Option<Stitch> {
    let parts = parts(text)?;
    let numbers: Vec<&str> =
        parts.iter().map(String::as_str).filter(|part| !words.multiple.contains(part)).collect();
    let (multiple, offset) = match numbers.as_slice() {
        [multiple] => (*multiple, "0"),
        [multiple, plus, offset] if words.plus.contains(plus) => (*multiple, *offset),
        [multiple, offset] => (*multiple, *offset),
        _ => return None,
    };
    let number = |text| typed::number(text, 4).and_then(|number| u16::try_from(number).ok());
    Some(Stitch::Own { multiple: number(multiple)?, offset: number(offset)?, craft })
}

/// "14 x 18", "14x18", "14 18", "14,5 18", "14.5 sts 18 rows", "18 rows 14 sts", "14 x 18 over
/// 4 in". Without a length it is over `basis`.
pub fn swatch(
    text: &str,
    basis: Basis,
    words: &MakingWords,
) -> Option<Result<Swatch, SwatchFault>> {
    let parts = parts(text)?;
    let parts: Vec<&str> = parts.iter().map(String::as_str).collect();
    let (counts, basis) = over(&parts, basis, words)?;
    let counts: Vec<&str> =
        counts.iter().copied().filter(|part| !words.by.contains(part)).collect();
    let of_stitches = |word: &str| words.stitches.contains(&word);
    let of_rows = |word: &str| words.rows.contains(&word);
    let (stitches, rows) = match counts.as_slice() {
        [stitches, rows] => (*stitches, *rows),
        [stitches, word, rows] if of_stitches(word) => (*stitches, *rows),
        [stitches, rows, word] if of_rows(word) => (*stitches, *rows),
        [stitches, word, rows, other] if of_stitches(word) && of_rows(other) => (*stitches, *rows),
        [rows, word, stitches, other] if of_rows(word) && of_stitches(other) => (*stitches, *rows),
        _ => return None,
    };
    Some(Swatch::new(decimal(stitches)?, decimal(rows)?, basis))
}

/// The counts without the length at the end, and what that length is.
fn over<'a, 'b>(
    parts: &'a [&'b str],
    basis: Basis,
    words: &MakingWords,
) -> Option<(&'a [&'b str], Basis)> {
    let is = |list: &[&str], word: &str| list.contains(&word);
    let (counts, basis) = match parts {
        [counts @ .., length, unit] if is(words.centimetres, unit) => {
            (*length == "10").then_some((counts, Basis::TenCentimetres))?
        }
        [counts @ .., length, unit] if is(words.inches, unit) => {
            (*length == "4").then_some((counts, Basis::FourInches))?
        }
        all => return Some((all, basis)),
    };
    match counts {
        [counts @ .., word] if is(words.over, word) => Some((counts, basis)),
        counts => Some((counts, basis)),
    }
}

/// "14", "14.5", "14,25".
fn decimal(text: &str) -> Option<f64> {
    let (whole, part) = text.split_once(['.', ',']).unwrap_or((text, "0"));
    typed::number(whole, 4)?;
    typed::number(part, 2)?;
    format!("{whole}.{part}").parse().ok()
}

/// Words and numbers in small letters, parted where letters and digits meet: "14sts" is two.
fn parts(text: &str) -> Option<Vec<String>> {
    if text.chars().count() > CHARS_MAX {
        return None;
    }
    let mut parts: Vec<String> = Vec::new();
    let mut joins = false;
    for c in text.trim().to_lowercase().chars() {
        let c = if matches!(c, '×' | '*' | '/') { 'x' } else { c };
        if c.is_whitespace() || matches!(c, ';' | ':') {
            joins = false;
            continue;
        }
        let c = if matches!(c, '"' | '″') { "in".to_owned() } else { c.to_string() };
        let digit = |text: &str| text.starts_with(|c: char| c.is_ascii_digit());
        let point = |text: &str| text == "." || text == ",";
        match parts.last_mut() {
            Some(last) if joins && digit(last) && (digit(&c) || point(&c)) => last.push_str(&c),
            Some(last) if joins && !digit(last) && !digit(&c) && last != "+" && c != "+" => {
                last.push_str(&c);
            }
            _ => parts.push(c),
        }
        joins = true;
    }
    // A comma or a full stop after a word or a number ends it.
    let trimmed = parts.iter().map(|part| part.trim_end_matches(['.', ',']).to_owned());
    Some(trimmed.filter(|part| !part.is_empty()).collect())
}
