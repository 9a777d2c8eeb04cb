//! Comma-separated values as in RFC 4180: CRLF after each record, cells quoted where they must be.
//!
//! A cell that a spreadsheet would take for a formula gets an apostrophe in front (OWASP
//! Application Security Verification Standard 5.0, 1.2.10, and "CSV Injection"): what begins with
//! `=`, `+`, `-`, `@`, a tab, an end of line or U+0000. So does a cell that looks as if it had been
//! given one: whoever takes one apostrophe off each of them has the cells as they were.

/// A table in the making.
pub struct Table(String);

impl Table {
    pub fn new(columns: &[&str]) -> Table {
        let mut table = Table(String::new());
        table.row(columns.iter().map(|column| (*column).to_owned()));
        table
    }

    pub fn row(&mut self, cells: impl IntoIterator<Item = String>) {
        for (index, cell) in cells.into_iter().enumerate() {
            if index > 0 {
                self.0.push(',');
            }
            self.0.push_str(&written(&cell));
        }
        self.0.push_str("\r\n");
    }

    pub fn text(self) -> String {
        self.0
    }
}

fn written(cell: &str) -> String {
    let bare = cell.trim_start_matches('\'');
    let formula = bare.starts_with(['=', '+', '-', '@', '\t', '\r', '\n', '\0']);
    let cell = if formula { format!("'{cell}") } else { cell.to_owned() };
    match cell.contains(['"', ',', '\r', '\n']) {
        true => format!("\"{}\"", cell.replace('"', "\"\"")),
        false => cell,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// RFC 4180, section 2, rules 1, 2, 5, 6 and 7, and their examples.
    #[test]
    fn records_are_written_as_the_standard_says() {
        let mut table = Table::new(&["aaa", "bbb", "ccc"]);
        table.row(["zzz", "b\r\nbb", "b\"bb"].map(str::to_owned));
        table.row(["", "a,b", " x "].map(str::to_owned));
        assert_eq!(table.text(), "aaa,bbb,ccc\r\nzzz,\"b\r\nbb\",\"b\"\"bb\"\r\n,\"a,b\", x \r\n");
    }

    /// OWASP, "CSV Injection": the characters that make a spreadsheet compute.
    #[test]
    fn what_a_spreadsheet_would_compute_is_made_text() {
        let check = |cell: &str, expected: &str| assert_eq!(written(cell), expected, "{cell:?}");
        check("=1+1", "'=1+1");
        check("+49", "'+49");
        check("-1", "'-1");
        check("@SUM(A1)", "'@SUM(A1)");
        check("\tx", "'\tx");
        check("\r=x", "\"'\r=x\"");
        check("=A1,x", "\"'=A1,x\"");
        check("a=1", "a=1");
        check("\0", "'\0");
        check("'quoted", "'quoted");
        check("'=1+1", "''=1+1");
    }
}
