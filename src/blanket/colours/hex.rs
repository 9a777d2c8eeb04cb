//! Colours as people write them: "#D2CDA4", "d2cda4", "#dca", "0xD2CDA4", "rgb(210, 205, 164)", with
//! spaces or without.

use super::Rgb;

/// Six or three hexadecimal digits, with or without `#` or `0x`, or `rgb(…)` of three numbers; white
/// space and a mark at the end count for nothing.
pub fn read_hex(text: &str) -> Option<Rgb> {
    let dense: String = text.split_whitespace().collect::<String>().to_ascii_lowercase();
    let dense = dense.trim_end_matches(['.', ',', ';']);
    if let Some(list) = dense.strip_prefix("rgb(").and_then(|rest| rest.strip_suffix(')')) {
        return read_rgb(list);
    }
    let bare = ["#", "0x"].iter().find_map(|prefix| dense.strip_prefix(prefix));
    let digits = bare.unwrap_or(dense);
    let values: Vec<u8> = digits
        .chars()
        .map(|c| c.to_digit(16).and_then(|digit| u8::try_from(digit).ok()))
        .collect::<Option<_>>()?;
    match *values.as_slice() {
        [red, green, blue] => Some([red, green, blue].map(|digit| digit * 17)),
        [a, b, c, d, e, f] => Some([a * 16 + b, c * 16 + d, e * 16 + f]),
        _ => None,
    }
}

/// "210,205,164"
fn read_rgb(list: &str) -> Option<Rgb> {
    let part = |part: &str| {
        let plain = (1..=3).contains(&part.len()) && part.bytes().all(|b| b.is_ascii_digit());
        plain.then(|| part.parse().ok()).flatten()
    };
    let parts: Vec<u8> = list.split(',').map(part).collect::<Option<_>>()?;
    parts.try_into().ok()
}

/// "#D2CDA4"
pub fn written_hex([red, green, blue]: Rgb) -> String {
    format!("#{red:02X}{green:02X}{blue:02X}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_colour_is_read_in_any_usual_form_and_nothing_else_is() {
        let shingle = Some([0xD2, 0xCD, 0xA4]);
        let cases = [
            ("#d2cda4", shingle),
            ("D2CDA4", shingle),
            ("  # D2 cd A4 ", shingle),
            ("#dca", Some([0xDD, 0xCC, 0xAA])),
            ("DCA", Some([0xDD, 0xCC, 0xAA])),
            ("#000", Some([0, 0, 0])),
            ("#12345", None),
            ("#1234567", None),
            ("#12345G", None),
            ("##12345", None),
            ("#", None),
            ("", None),
            ("0xD2CDA4", shingle),
            ("#D2CDA4.", shingle),
            ("rgb(210, 205, 164)", shingle),
            ("RGB(210,205,164);", shingle),
            ("rgb(1,2,256)", None),
            ("rgb(1,2)", None),
            ("rgb(1,2,+3)", None),
            ("rgb(1,2,3", None),
            ("#0xD2CDA4", None),
            ("0x", None),
            ("-12345", None),
            ("#\u{FF11}23456", None),
            ("red", None),
        ];
        for (text, expected) in cases {
            assert_eq!(read_hex(text), expected, "{text:?}");
        }
        assert_eq!(written_hex([0xD2, 0xCD, 0xA4]), "#D2CDA4");
    }

    #[test]
    fn what_is_written_is_read_back() {
        for value in (0..=u32::from(u8::MAX) * 65_793).step_by(4_099) {
            let [_, red, green, blue] = value.to_be_bytes();
            assert_eq!(read_hex(&written_hex([red, green, blue])), Some([red, green, blue]));
        }
    }
}
