//! Which characters turn the text around them, which show nothing, and which only join others.
//!
//! Together with the joining ones, what shows nothing is all that Unicode calls ignorable by
//! default (UAX #44, `Default_Ignorable_Code_Point`), and the fillers and marks beside it.

/// A control character, one that turns the text around it, or one that shows nothing.
pub fn hides(c: char) -> bool {
    c.is_control() || turns_direction(c) || shows_nothing(c)
}

/// Embeddings, overrides and isolates of the Unicode bidirectional algorithm (UAX #9, table 4).
fn turns_direction(c: char) -> bool {
    matches!(c, '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}')
}

/// Zero-width spaces, marks of direction, fillers, annotations, marks of shorthand and music, tags.
fn shows_nothing(c: char) -> bool {
    matches!(c, '\u{AD}' | '\u{61C}' | '\u{115F}' | '\u{1160}' | '\u{180E}' | '\u{200B}'
        | '\u{200E}' | '\u{200F}' | '\u{2028}' | '\u{2029}' | '\u{2060}'..='\u{2065}'
        | '\u{206A}'..='\u{206F}' | '\u{2800}' | '\u{3164}' | '\u{FEFF}' | '\u{FFA0}'
        | '\u{FFF0}'..='\u{FFFB}' | '\u{1BCA0}'..='\u{1BCA3}' | '\u{1D173}'..='\u{1D17A}'
        | '\u{E0000}'..='\u{E00FF}' | '\u{E01F0}'..='\u{E0FFF}')
}

/// What emoji and some scripts need between characters, and what shows nothing alone.
pub fn joins(c: char) -> bool {
    matches!(c, '\u{34F}' | '\u{17B4}' | '\u{17B5}' | '\u{180B}'..='\u{180D}' | '\u{180F}'
        | '\u{200C}' | '\u{200D}' | '\u{FE00}'..='\u{FE0F}' | '\u{E0100}'..='\u{E01EF}')
}

/// Whether anything of a text shows.
pub fn shows(text: &str) -> bool {
    text.chars().any(|c| !(c.is_whitespace() || hides(c) || joins(c)))
}

/// The text without what hides in it.
pub fn shown(text: &str) -> String {
    text.chars().filter(|c| !hides(*c)).collect()
}

/// Many marks on one letter reach over the lines above and below it. No language needs more.
const MARKS_ON_A_LETTER_MAX: usize = 3;

/// Whether more marks stand on one letter than any language needs.
pub fn piles_up(text: &str) -> bool {
    let mut marks = 0;
    text.chars().any(|c| {
        marks = if is_mark(c) { marks + 1 } else { 0 };
        marks > MARKS_ON_A_LETTER_MAX
    })
}

/// The blocks of combining marks that go with any script (Unicode code charts).
fn is_mark(c: char) -> bool {
    matches!(c, '\u{300}'..='\u{36F}' | '\u{483}'..='\u{489}' | '\u{1AB0}'..='\u{1AFF}'
        | '\u{1DC0}'..='\u{1DFF}' | '\u{20D0}'..='\u{20FF}' | '\u{FE20}'..='\u{FE2F}')
}
