//! How it is said: every sentence, every label on a button, every command's description, and the
//! words people type. One file a language. Spans, never markup.

pub mod en;

/// A message in words: lines of spans. Only the wire counts and escapes.
#[derive(Clone, PartialEq, Eq, Default, Debug)]
pub struct Words {
    pub lines: Vec<Vec<Span>>,
}

#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Span {
    Plain(String),
    Bold(String),
}

impl Words {
    /// These lines, then others.
    #[must_use]
    pub fn and(mut self, more: Words) -> Words {
        self.lines.extend(more.lines);
        self
    }

    /// The text without any emphasis.
    pub fn plain(&self) -> String {
        let line = |spans: &Vec<Span>| spans.iter().map(Span::text).collect::<String>();
        self.lines.iter().map(line).collect::<Vec<_>>().join("\n")
    }
}

impl Span {
    pub fn text(&self) -> &str {
        match self {
            Span::Plain(text) | Span::Bold(text) => text,
        }
    }
}
