//! Colours as people write them: "#D2CDA4", "d2cda4", "#dca", with spaces or without.

use super::Rgb;

/// Six or three hexadecimal digits, with or without `#`; white space counts for nothing.
pub fn read_hex(text: &str) -> Option<Rgb> {
    let dense: String = text.split_whitespace().collect();
    let digits = dense.strip_prefix('#').unwrap_or(&dense);
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
            ("rgb(1,2,3)", None),
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
