//! Can this be the host's own line under the caution? One line of plain text that shows as it is.
//!
//! Never changes what the host wrote: what does not fit is refused before the bot starts.

/// The longest line, in characters.
const CHARS_MAX: usize = 160;

/// The line without white space at its ends.
pub fn read(given: &str) -> Result<String, String> {
    let line = given.trim();
    let problem = if line.is_empty() {
        "there is no text in it"
    } else if line.chars().count() > CHARS_MAX {
        "it has more than 160 characters"
    } else if line.contains(['<', '>', '`']) {
        "it is shown as it is written, so it must not hold markup: < > or `"
    } else if line.contains(|c: char| c.is_control() || shows_nothing(c)) {
        "it has to be one line, without characters that are not shown"
    } else {
        return Ok(line.to_owned());
    };
    Err(problem.to_owned())
}

/// What a maker's label must not hold either: what turns the text around it (Unicode UAX #9), and
/// what shows nothing.
fn shows_nothing(c: char) -> bool {
    matches!(c, '\u{AD}' | '\u{61C}' | '\u{115F}' | '\u{1160}' | '\u{180E}'
        | '\u{200B}' | '\u{200E}' | '\u{200F}' | '\u{2028}'..='\u{202E}'
        | '\u{2060}'..='\u{206F}' | '\u{2800}' | '\u{3164}' | '\u{FEFF}' | '\u{FFA0}'
        | '\u{FFF0}'..='\u{FFFB}' | '\u{1BCA0}'..='\u{1BCA3}' | '\u{1D173}'..='\u{1D17A}'
        | '\u{E0000}'..='\u{E00FF}' | '\u{E01F0}'..='\u{E0FFF}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_local_line_is_one_short_line_of_plain_text() {
        let long = "x".repeat(CHARS_MAX);
        let cases = [
            (" Crisis line here: 555 0142. ", Ok("Crisis line here: 555 0142.")),
            ("*100# by day & night", Ok("*100# by day & night")),
            (&long, Ok(long.as_str())),
            (" ", Err("there is no text in it")),
            (&format!("{long}y"), Err("it has more than 160 characters")),
            ("<b>555</b>", Err("markup")),
            ("call\n555", Err("one line")),
            ("call \u{202E}555", Err("one line")),
        ];
        for (given, expected) in cases {
            match (read(given), expected) {
                (Ok(line), Ok(kept)) => assert_eq!(line, kept),
                (Err(why), Err(part)) => assert!(why.contains(part), "{given:?}: {why}"),
                (got, _) => panic!("{given:?}: {got:?}"),
            }
        }
    }
}
