//! Rust source cut into words, texts and marks, so that no rule mistakes a comment for code.

#[derive(Clone, PartialEq, Debug)]
pub enum Piece {
    Word(String),
    /// What stands between the quotation marks, escapes as written.
    Text(String),
    Mark(char),
}

/// Comments, spaces, characters in single quotes and lifetimes are left out.
pub fn pieces(source: &str) -> Vec<Piece> {
    let letters: Vec<char> = source.chars().collect();
    let (mut found, mut at) = (Vec::new(), 0);
    while let Some(&letter) = letters.get(at) {
        let next = letters.get(at + 1).copied().unwrap_or(' ');
        if letter == '/' && next == '/' {
            at = past(&letters, at, |letter| letter != '\n');
        } else if letter == '/' && next == '*' {
            at = past_block(&letters, at);
        } else if letter == '"' {
            at = text(&letters, at, &mut found);
        } else if letter == '\'' {
            at = past_quote(&letters, at);
        } else if is_of_word(letter) {
            let end = past(&letters, at, is_of_word);
            let word: String = letters[at..end].iter().collect();
            let raw = ["r", "br", "cr"].contains(&word.as_str());
            at = match letters.get(end) {
                Some('#' | '"') if raw => raw_text(&letters, end, &mut found),
                _ => {
                    found.push(Piece::Word(word));
                    end
                }
            };
        } else {
            if !letter.is_whitespace() {
                found.push(Piece::Mark(letter));
            }
            at += 1;
        }
    }
    found
}

fn is_of_word(letter: char) -> bool {
    letter.is_alphanumeric() || letter == '_'
}

fn past(letters: &[char], from: usize, fits: impl Fn(char) -> bool) -> usize {
    letters[from..].iter().position(|letter| !fits(*letter)).map_or(letters.len(), |n| from + n)
}

/// Block comments may stand in one another.
fn past_block(letters: &[char], from: usize) -> usize {
    let (mut depth, mut at) = (0, from);
    while at < letters.len() {
        match (letters[at], letters.get(at + 1)) {
            ('/', Some('*')) => (depth, at) = (depth + 1, at + 2),
            ('*', Some('/')) => (depth, at) = (depth - 1, at + 2),
            _ => at += 1,
        }
        if depth == 0 {
            break;
        }
    }
    at
}

fn text(letters: &[char], from: usize, found: &mut Vec<Piece>) -> usize {
    let mut at = from + 1;
    while at < letters.len() && letters[at] != '"' {
        at += if letters[at] == '\\' { 2 } else { 1 };
    }
    let end = at.min(letters.len());
    found.push(Piece::Text(letters[from + 1..end].iter().collect()));
    end + 1
}

/// From the `#` or `"` after the `r`. A raw name such as `r#type` is left out.
fn raw_text(letters: &[char], from: usize, found: &mut Vec<Piece>) -> usize {
    let open = past(letters, from, |letter| letter == '#');
    if letters.get(open) != Some(&'"') {
        return past(letters, open, is_of_word);
    }
    let hashes = open - from;
    let closes = |at: &usize| {
        letters[*at] == '"'
            && letters[at + 1..].iter().take_while(|it| **it == '#').count() >= hashes
    };
    let close = (open + 1..letters.len()).find(closes).unwrap_or(letters.len() - 1);
    found.push(Piece::Text(letters[open + 1..close].iter().collect()));
    close + 1 + hashes
}

/// A character, or only the mark before a lifetime.
fn past_quote(letters: &[char], from: usize) -> usize {
    match (letters.get(from + 1), letters.get(from + 2)) {
        (Some('\\'), _) => past(letters, from + 3, |letter| letter != '\'') + 1,
        (Some(_), Some('\'')) => from + 3,
        _ => from + 1,
    }
}

#[test]
fn only_code_is_cut_into_pieces() {
    let check = |source: &str, expected: &[&str]| {
        let shown = |piece: Piece| match piece {
            Piece::Word(word) => word,
            Piece::Text(text) => format!("\"{text}\""),
            Piece::Mark(mark) => mark.to_string(),
        };
        let found: Vec<String> = pieces(source).into_iter().map(shown).collect();
        assert_eq!(found, expected, "{source}");
    };
    check("use a::b; // use c", &["use", "a", ":", ":", "b", ";"]);
    check("//! tokio\n/// sqlx\nx", &["x"]);
    check("a /* b /* c */ d */ e", &["a", "e"]);
    check(r#"f("a \" // b") g"#, &["f", "(", "\"a \\\" // b\"", ")", "g"]);
    check("r#\"a \" b\"# c r\"d\"", &["\"a \" b\"", "c", "\"d\""]);
    check("'\"' a '\\'' b &'c d", &["a", "b", "&", "c", "d"]);
    check("let r#type = b\"x\";", &["let", "=", "b", "\"x\"", ";"]);
    check("\"unclosed", &["\"unclosed\""]);
}
