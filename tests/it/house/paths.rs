//! Every path a source names, with the branches of its `use` trees written out.

use super::pieces::Piece;

/// `a::b::c` as `["a", "b", "c"]`; a word alone is a path of one. Names after a dot are methods
/// and fields, and no paths.
pub fn paths(pieces: &[Piece]) -> Vec<Vec<String>> {
    let (mut found, mut at) = (Vec::new(), 0);
    while at < pieces.len() {
        let after_dot = at > 0 && pieces[at - 1] == Piece::Mark('.');
        match &pieces[at] {
            Piece::Word(_) if !after_dot => at = path(pieces, at, &[], &mut found),
            Piece::Word(_) | Piece::Text(_) | Piece::Mark(_) => at += 1,
        }
    }
    found
}

/// One path, or tree of paths, below `root`; where it ends.
fn path(pieces: &[Piece], from: usize, root: &[String], found: &mut Vec<Vec<String>>) -> usize {
    let (mut names, mut at) = (root.to_vec(), from);
    while let Some(Piece::Word(name)) = pieces.get(at) {
        names.push(name.clone());
        at += 1;
        if pieces.get(at..at + 2) != Some(&[Piece::Mark(':'), Piece::Mark(':')]) {
            break;
        }
        at += 2;
        if pieces.get(at) == Some(&Piece::Mark('{')) {
            return branches(pieces, at + 1, &names, found);
        }
    }
    found.push(names);
    at
}

fn branches(pieces: &[Piece], from: usize, root: &[String], found: &mut Vec<Vec<String>>) -> usize {
    let mut at = from;
    while at < pieces.len() && pieces[at] != Piece::Mark('}') {
        at = match &pieces[at] {
            Piece::Word(_) => path(pieces, at, root, found),
            Piece::Text(_) | Piece::Mark(_) => at + 1,
        };
    }
    at + 1
}

#[test]
fn use_trees_are_written_out() {
    let check = |source: &str, expected: &[&str]| {
        let found = paths(&super::pieces::pieces(source));
        let found: Vec<String> = found.iter().map(|names| names.join("::")).collect();
        assert_eq!(found, expected, "{source}");
    };
    check("use a::{b::{c, d}, e};", &["use", "a::b::c", "a::b::d", "a::e"]);
    check("use a::{self, b as c}; f", &["use", "a::self", "a::b", "a::as", "a::c", "f"]);
    check("x.now() + y::now()", &["x", "y::now"]);
    check("use super::super::*;", &["use", "super::super"]);
    check("a::<B>()", &["a", "B"]);
}
