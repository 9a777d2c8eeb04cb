//! Which text and which formatting does a piece of HTML mean to the platform?
//!
//! As strict as the real parser and in its words; offsets in errors are bytes of the source,
//! offsets of entities are UTF-16 units of the text. Never guesses: what it cannot read is refused.

use super::entities::Entity;

/// The plain text and its entities, or what the real server says after "can't parse entities: ".
pub fn parse(source: &str) -> Result<(String, Vec<Entity>), String> {
    let mut reader = Reader { source, at: 0, text: String::new(), units: 0, open: vec![] };
    let mut entities = Vec::new();
    while reader.at < source.len() {
        match reader.byte() {
            b'&' => reader.reference()?,
            b'<' if reader.peek(1) == b'/' => entities.extend(reader.end_tag(&entities)?),
            b'<' => reader.start_tag()?,
            _ => reader.character(),
        }
    }
    if let Some(open) = reader.open.last() {
        return Err(format!("Can't find end tag corresponding to start tag \"{}\"", open.tag));
    }
    Ok((reader.text, settled(entities)))
}

struct Reader<'a> {
    source: &'a str,
    at: usize,
    text: String,
    units: usize,
    open: Vec<Open>,
}

struct Open {
    tag: String,
    argument: Option<String>,
    units: usize,
    bytes: usize,
}

const TAGS: [&str; 16] = [
    "b",
    "strong",
    "i",
    "em",
    "u",
    "ins",
    "s",
    "strike",
    "del",
    "tg-spoiler",
    "span",
    "a",
    "code",
    "pre",
    "blockquote",
    "tg-emoji",
];

impl Reader<'_> {
    fn byte(&self) -> u8 {
        self.peek(0)
    }

    fn peek(&self, ahead: usize) -> u8 {
        self.source.as_bytes().get(self.at + ahead).copied().unwrap_or(0)
    }

    /// At the end of the source this is a space too, as in the real parser.
    fn at_space(&self) -> bool {
        matches!(self.byte(), b' ' | b'\t' | b'\r' | b'\n' | 0 | 0x0b)
    }

    fn skip_spaces(&mut self) {
        while self.byte() != 0 && self.at_space() {
            self.at += 1;
        }
    }

    fn character(&mut self) {
        if let Some(character) = self.source[self.at..].chars().next() {
            self.at += character.len_utf8();
            self.push(character);
        }
    }

    fn push(&mut self, character: char) {
        self.units += character.len_utf16();
        self.text.push(character);
    }

    fn reference(&mut self) -> Result<(), String> {
        match decode(&self.source[self.at..])? {
            Some((character, length)) => {
                self.at += length;
                self.push(character);
            }
            None => self.character(),
        }
        Ok(())
    }

    fn start_tag(&mut self) -> Result<(), String> {
        let begin = self.at;
        self.at += 1;
        while !self.at_space() && self.byte() != b'>' {
            self.at += 1;
        }
        if self.byte() == 0 {
            return Err(format!("Unclosed start tag at byte offset {begin}"));
        }
        let tag = self.source[begin + 1..self.at].to_lowercase();
        if !TAGS.contains(&tag.as_str()) {
            return Err(format!("Unsupported start tag \"{tag}\" at byte offset {begin}"));
        }
        let argument = self.attributes(&tag, begin)?;
        if tag == "span" && argument.is_none() {
            let why = "must have class \"tg-spoiler\"";
            return Err(format!("Tag \"span\" {why} at byte offset {begin}"));
        }
        self.at += 1;
        self.open.push(Open { tag, argument, units: self.units, bytes: self.text.len() });
        Ok(())
    }

    fn attributes(&mut self, tag: &str, begin: usize) -> Result<Option<String>, String> {
        let mut argument = None;
        while self.byte() != b'>' {
            self.skip_spaces();
            if self.byte() == b'>' {
                break;
            }
            let from = self.at;
            while !self.at_space() && self.byte() != b'=' && self.byte() != b'>' {
                self.at += 1;
            }
            let name = self.source[from..self.at].to_lowercase();
            if self.byte() == 0 {
                return Err(format!("Unclosed start tag \"{tag}\" at byte offset {begin}"));
            }
            if name.is_empty() {
                let why = "Empty attribute name in the tag";
                return Err(format!("{why} \"{tag}\" at byte offset {begin}"));
            }
            self.skip_spaces();
            if self.byte() != b'=' {
                if tag == "blockquote" && name == "expandable" {
                    argument = Some(name);
                    continue;
                }
                let why = "Expected equal sign in declaration of an attribute of the tag";
                return Err(format!("{why} \"{tag}\" at byte offset {begin}"));
            }
            let value = self.value(tag, begin)?;
            argument = meaning(tag, &name, value).or(argument);
        }
        Ok(argument)
    }

    fn value(&mut self, tag: &str, begin: usize) -> Result<String, String> {
        self.at += 1;
        self.skip_spaces();
        let quote = self.byte();
        let mut value = String::new();
        match quote {
            0 => return Err(format!("Unclosed start tag \"{tag}\" at byte offset {begin}")),
            b'"' | b'\'' => {
                self.at += 1;
                while self.byte() != quote && self.byte() != 0 {
                    let rest = &self.source[self.at..];
                    let (character, length) = match decode(rest)? {
                        Some(found) => found,
                        None => rest.chars().next().map_or((' ', 1), |c| (c, c.len_utf8())),
                    };
                    value.push(character);
                    self.at += length;
                }
                self.at += usize::from(self.byte() == quote);
            }
            _ => {
                let from = self.at;
                while self.byte().is_ascii_alphanumeric() || matches!(self.byte(), b'.' | b'-') {
                    self.at += 1;
                }
                value = self.source[from..self.at].to_lowercase();
                if !self.at_space() && self.byte() != b'>' {
                    return Err(format!("Unexpected end of name token at byte offset {from}"));
                }
            }
        }
        if self.byte() == 0 {
            return Err(format!("Unclosed start tag at byte offset {begin}"));
        }
        Ok(value)
    }

    fn end_tag(&mut self, before: &[Entity]) -> Result<Option<Entity>, String> {
        let begin = self.at;
        let Some(open) = self.open.pop() else {
            return Err(format!("Unexpected end tag at byte offset {begin}"));
        };
        self.at += 2;
        while !self.at_space() && self.byte() != b'>' {
            self.at += 1;
        }
        let found = self.source[begin + 2..self.at].to_lowercase();
        self.skip_spaces();
        if self.byte() != b'>' {
            return Err(format!("Unclosed end tag at byte offset {begin}"));
        }
        if !found.is_empty() && found != open.tag {
            return Err(format!(
                "Unmatched end tag at byte offset {begin}, \
                 expected \"</{}>\", found \"</{found}>\"",
                open.tag
            ));
        }
        self.at += 1;
        Ok(self.entity(open, before))
    }

    fn entity(&self, open: Open, before: &[Entity]) -> Option<Entity> {
        let length = self.units - open.units;
        if length == 0 {
            return None;
        }
        let mut entity = Entity::new(kind(&open), open.units, length);
        match open.tag.as_str() {
            "a" => entity.url = Some(open.argument.unwrap_or(self.text[open.bytes..].to_owned())),
            "code" => entity.language = open.argument,
            "tg-emoji" => entity.custom_emoji_id = open.argument,
            "pre" => {
                let inner = before.iter().find(|inner| inner.same_place(&entity));
                entity.language = inner.and_then(|inner| inner.language.clone());
            }
            _ => {}
        }
        Some(entity)
    }
}

/// A language belongs to a whole block of code, not to the piece inside it.
fn settled(mut entities: Vec<Entity>) -> Vec<Entity> {
    let blocks: Vec<Entity> =
        entities.iter().filter(|e| e.kind == "pre" && e.language.is_some()).cloned().collect();
    entities.retain(|e| e.kind != "code" || !blocks.iter().any(|block| block.same_place(e)));
    for entity in entities.iter_mut().filter(|e| e.kind == "code") {
        entity.language = None;
    }
    entities.sort_by_key(|e| (e.offset, usize::MAX - e.length));
    entities
}

fn kind(open: &Open) -> &'static str {
    match open.tag.as_str() {
        "b" | "strong" => "bold",
        "i" | "em" => "italic",
        "u" | "ins" => "underline",
        "s" | "strike" | "del" => "strikethrough",
        "tg-spoiler" | "span" => "spoiler",
        "a" => "text_link",
        "code" => "code",
        "pre" => "pre",
        "tg-emoji" => "custom_emoji",
        _ if open.argument.is_some() => "expandable_blockquote",
        _ => "blockquote",
    }
}

fn meaning(tag: &str, name: &str, value: String) -> Option<String> {
    match (tag, name) {
        ("a", "href") | ("tg-emoji", "emoji-id") | ("blockquote", "expandable") => Some(value),
        ("code", "class") => value.strip_prefix("language-").map(str::to_owned),
        ("span", "class") => (value == "tg-spoiler").then_some(value),
        _ => None,
    }
}

/// The character a `&…;` stands for and the bytes it takes; none when it is a plain ampersand.
fn decode(rest: &str) -> Result<Option<(char, usize)>, String> {
    let Some(name) = rest.strip_prefix('&') else { return Ok(None) };
    let length = name.bytes().take_while(|b| b.is_ascii_alphanumeric() || *b == b'#').count();
    let name = &name[..length];
    let taken = 1 + length + usize::from(rest.as_bytes().get(1 + length) == Some(&b';'));
    let code = match (name.strip_prefix("#x"), name.strip_prefix('#')) {
        (Some(hex), _) => u32::from_str_radix(hex, 16).unwrap_or(0),
        (None, Some(digits)) => digits.parse().unwrap_or(0),
        (None, None) => match name {
            "lt" => u32::from('<'),
            "gt" => u32::from('>'),
            "amp" => u32::from('&'),
            "quot" => u32::from('"'),
            _ => 0,
        },
    };
    if (0xd800..0xe000).contains(&code) {
        return Err("Text contains invalid Unicode characters after decoding HTML entities, \
                    check for unmatched surrogate code units"
            .to_owned());
    }
    Ok(char::from_u32(code).filter(|_| code != 0).map(|character| (character, taken)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn markup_becomes_entities_in_utf16_units() {
        let (text, entities) =
            parse("🧶 <b>Row <i>14</i></b> &lt;&amp;&#33; & <CODE>x</CODE>").unwrap();
        assert_eq!(text, "🧶 Row 14 <&! & x");
        assert_eq!(
            entities,
            [Entity::new("bold", 3, 6), Entity::new("italic", 7, 2), Entity::new("code", 16, 1)]
        );
    }

    #[test]
    fn links_languages_and_quotes_keep_their_arguments() {
        let source = "<a href=\"https://e.org/?a&amp;b\">l</a><pre><code class=\"language-rust\">f\
                      </code></pre><blockquote expandable>q</blockquote>\
                      <span class='tg-spoiler'>s</span><b></b>";
        let (text, entities) = parse(source).unwrap();
        assert_eq!(text, "lfqs");
        assert_eq!(entities[0].url.as_deref(), Some("https://e.org/?a&b"));
        assert_eq!(
            (entities[1].kind.as_str(), entities[1].language.as_deref()),
            ("pre", Some("rust"))
        );
        assert_eq!(entities[2].kind, "expandable_blockquote");
        assert_eq!(entities[3].kind, "spoiler");
        assert_eq!(entities.len(), 4);
    }

    #[test]
    fn what_cannot_be_read_is_refused_in_the_words_of_the_platform() {
        for (source, expected) in [
            ("a < b", "Unsupported start tag \"\" at byte offset 2"),
            ("é<br>", "Unsupported start tag \"br\" at byte offset 2"),
            ("<b", "Unclosed start tag at byte offset 0"),
            ("<a href=\"x", "Unclosed start tag at byte offset 0"),
            ("<a href", "Unclosed start tag \"a\" at byte offset 0"),
            ("<a =x>y</a>", "Empty attribute name in the tag \"a\" at byte offset 0"),
            ("<a href=x/y>z</a>", "Unexpected end of name token at byte offset 8"),
            (
                "<i hue>x</i>",
                "Expected equal sign in declaration of an attribute of the tag \"i\" \
                 at byte offset 0",
            ),
            ("<span>x</span>", "Tag \"span\" must have class \"tg-spoiler\" at byte offset 0"),
            ("x</b>", "Unexpected end tag at byte offset 1"),
            ("<b>x</b", "Unclosed end tag at byte offset 4"),
            ("<b>x</i>", "Unmatched end tag at byte offset 4, expected \"</b>\", found \"</i>\""),
            ("<b>x<i>y</i>", "Can't find end tag corresponding to start tag \"b\""),
            (
                "&#xd800;",
                "Text contains invalid Unicode characters after decoding HTML entities, \
                          check for unmatched surrogate code units",
            ),
        ] {
            assert_eq!(parse(source).unwrap_err(), expected, "{source}");
        }
    }
}
