//! A strict reader of small XML 1.0 documents, for what is drawn: no declarations, no entities but
//! the five, no comments. What is not well formed is refused.

/// An element with its own text, in the order in which elements open.
#[derive(Debug)]
pub struct Element {
    pub name: String,
    pub attributes: Vec<(String, String)>,
    pub text: String,
}

impl Element {
    pub fn get(&self, name: &str) -> Option<&str> {
        let found = self.attributes.iter().find(|(known, _)| known == name);
        found.map(|(_, value)| value.as_str())
    }

    pub fn has(&self, name: &str, value: &str) -> bool {
        self.get(name) == Some(value)
    }
}

pub fn read(document: &str) -> Result<Vec<Element>, String> {
    let (mut elements, mut open): (Vec<Element>, Vec<usize>) = (Vec::new(), Vec::new());
    if let Some(c) = document.chars().find(|c| !is_char(*c)) {
        return Err(format!("{c:?} is no character of XML"));
    }
    let mut rest = document;
    while let Some(start) = rest.find('<') {
        let text = unescaped(&rest[..start])?;
        match open.last() {
            Some(&inside) => elements[inside].text.push_str(&text),
            None if text.trim().is_empty() => {}
            None => return Err(format!("{text:?} is outside")),
        }
        let (tag, after) = tag(&rest[start + 1..])?;
        rest = after;
        if let Some(name) = tag.strip_prefix('/') {
            let ended = open.pop().map(|index| elements[index].name.clone());
            if ended.as_deref() != Some(name) {
                return Err(format!("{name} ends {ended:?}"));
            }
            continue;
        }
        let (tag, empty) = tag.strip_suffix('/').map_or((tag, false), |tag| (tag, true));
        if open.is_empty() && !elements.is_empty() {
            return Err("a second root".to_owned());
        }
        elements.push(element(tag)?);
        if !empty {
            open.push(elements.len() - 1);
        }
    }
    if !open.is_empty() || !rest.trim().is_empty() {
        return Err(format!("{} are open at {rest:?}", open.len()));
    }
    // Line ends between elements are no text of theirs.
    elements.iter_mut().filter(|it| it.text.trim().is_empty()).for_each(|it| it.text.clear());
    Ok(elements)
}

/// Production 2.
fn is_char(c: char) -> bool {
    matches!(c, '\t' | '\n' | '\r' | ' '..='\u{D7FF}' | '\u{E000}'..='\u{FFFD}' | '\u{10000}'..)
}

/// Up to the `>` that is not within quotes; a `<` is nowhere in a tag (production 10).
fn tag(rest: &str) -> Result<(&str, &str), String> {
    let mut quoted = false;
    for (at, c) in rest.char_indices() {
        match c {
            '"' => quoted = !quoted,
            '>' if !quoted => return Ok((&rest[..at], &rest[at + 1..])),
            '<' => break,
            _ => {}
        }
    }
    Err(format!("a tag without an end: {:?}", rest.chars().take(40).collect::<String>()))
}

fn element(tag: &str) -> Result<Element, String> {
    let (name, mut rest) = tag.split_once(' ').unwrap_or((tag, ""));
    let is_name = |name: &str| {
        let begins = name.starts_with(|c: char| c.is_ascii_alphabetic());
        begins && name.chars().all(|c| c.is_ascii_alphanumeric() || "-_:".contains(c))
    };
    if !is_name(name) {
        return Err(format!("{name:?} is no name"));
    }
    let mut attributes: Vec<(String, String)> = Vec::new();
    while !rest.trim().is_empty() {
        let (key, after) = rest.split_once("=\"").ok_or_else(|| format!("{rest:?} in {name}"))?;
        let (value, after) = after.split_once('"').ok_or_else(|| format!("{after:?} in {name}"))?;
        let key = key.trim_start();
        if !is_name(key) || attributes.iter().any(|(known, _)| known == key) {
            return Err(format!("{key:?} in {name}"));
        }
        if !after.is_empty() && !after.starts_with([' ', '/']) {
            return Err(format!("{after:?} follows {key}"));
        }
        attributes.push((key.to_owned(), unescaped(value)?));
        rest = after;
    }
    Ok(Element { name: name.to_owned(), attributes, text: String::new() })
}

/// Productions 14 and 67: no bare `&`, and no `]]>` in text.
fn unescaped(text: &str) -> Result<String, String> {
    if text.contains("]]>") {
        return Err("]]> in text".to_owned());
    }
    let mut parts = text.split('&');
    let mut plain = parts.next().unwrap_or_default().to_owned();
    for part in parts {
        let (name, after) = part.split_once(';').ok_or_else(|| format!("a bare & in {text:?}"))?;
        plain.push_str(match name {
            "amp" => "&",
            "lt" => "<",
            "gt" => ">",
            "quot" => "\"",
            "apos" | "#39" => "'",
            _ => return Err(format!("&{name}; is not known")),
        });
        plain.push_str(after);
    }
    Ok(plain)
}

#[test]
fn what_is_not_well_formed_is_refused() {
    for sound in ["<a/>", "<a b=\"c&amp;\">d<e/></a>\n"] {
        assert!(read(sound).is_ok(), "{sound}");
    }
    for wrong in [
        "<a>",
        "</a>",
        "<a></b>",
        "<a>&</a>",
        "<a>&nope;</a>",
        "<a b=c/>",
        "<a b=\"c\" b=\"d\"/>",
        "<a/><b/>",
        "<a>]]></a>",
        "<a>\u{1}</a>",
        "<a b=\"<\"/>",
        "x<a/>",
        "<1/>",
        "<a b=\"c\"d=\"e\"/>",
        "<a>\u{FFFE}</a>",
    ] {
        assert!(read(wrong).is_err(), "{wrong}");
    }
}
