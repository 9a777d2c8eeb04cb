//! What was typed as a label, a name or a colour. Parsers alone.

use chrono::NaiveDate;

use super::said::NameFault;
use crate::blanket::{Book, Label};
use crate::chat::lexicon::Lexicon;
use crate::chat::typed::{self, TypedDate};
use crate::chat::{many, place, worked_up_to, yarn};

/// A label or a name that, typed alone, means nothing else.
pub fn name(
    book: &Book,
    text: &str,
    today: NaiveDate,
    lexicon: &Lexicon,
) -> Result<Label, NameFault> {
    let label = Label::parse(text).map_err(NameFault::Label)?;
    let mut letters = label.as_str().chars().filter(|c| c.is_alphanumeric()).peekable();
    if letters.peek().is_some() && letters.all(char::is_numeric) {
        return Err(NameFault::Number);
    }
    match means(book, label.as_str(), today, lexicon) {
        true => Err(NameFault::Meant),
        false => Ok(label),
    }
}

/// Whether a typed line is taken for something before it is taken for a tier.
fn means(book: &Book, text: &str, today: NaiveDate, lexicon: &Lexicon) -> bool {
    let folded = text.trim_end_matches(['.', '!', ',']).to_lowercase();
    let words = [
        lexicon.today,
        lexicon.yesterday,
        lexicon.tomorrow,
        lexicon.yes,
        lexicon.no,
        lexicon.all,
        lexicon.worked,
        lexicon.worked_up_to,
        lexicon.where_am_i,
    ];
    let alone = words.into_iter().any(|words| words.contains(&folded.as_str()));
    let date = match typed::date(&folded, today, Some(book.plan()), lexicon) {
        TypedDate::Day(_) | TypedDate::NoSuchDay => true,
        TypedDate::NotADate => false,
    };
    alone
        || date
        || text.starts_with('/')
        || folded == lexicon.erase.to_lowercase()
        || typed::month_alone(&folded, lexicon).is_some()
        || many::read(book, text, today, lexicon).is_some()
        || place::read(book, text, lexicon).is_some()
        || worked_up_to::read(text, lexicon).is_some()
        || worked_up_to::read_row(text, lexicon).is_some()
        || yarn::read(book, text, lexicon).is_some()
}
