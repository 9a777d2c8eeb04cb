//! How an entry of a yarn is written in columns, and read back: its kind, a weight, and what only
//! some entries have as one JSON object.

use serde::{Deserialize, Serialize};

use super::error::{Result, StoreError};
use crate::blanket::Label;
use crate::blanket::stock::{Ball, Decimetres, EntryKind, Tenths};

/// Of balls: how many, the length of each in tenths of a metre, the lot, and what all weigh in
/// tenths of a gram. Of a try: what was left, and its rows.
#[derive(Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Detail {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    count: Option<u16>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    length: Option<u32>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    lot: Option<String>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    weighed: Option<u32>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    after: Option<u32>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    rows: Option<u16>,
}

/// The kind, its weight in tenths of a gram, and what else there is to it.
pub fn columns(kind: &EntryKind) -> (&'static str, u32, Option<Detail>) {
    match kind {
        EntryKind::Ball(ball) => {
            let detail = Detail {
                count: (ball.count != 1).then_some(ball.count),
                length: ball.length_each.map(|length| length.0),
                lot: ball.lot.as_ref().map(|lot| lot.as_str().to_owned()),
                weighed: ball.weighed.map(|weighed| weighed.0),
                ..Detail::default()
            };
            ("ball", ball.each.0, (detail != Detail::default()).then_some(detail))
        }
        EntryKind::Weighing(tenths) => ("weighing", tenths.0, None),
        EntryKind::Correction(tenths) => ("correction", tenths.0, None),
        EntryKind::Tried { before, after, rows } => {
            let (after, rows) = (Some(after.0), Some(*rows));
            ("tried", before.0, Some(Detail { after, rows, ..Detail::default() }))
        }
    }
}

/// # Errors
/// Where no version of the program wrote this.
pub fn read(kind: &str, tenths: u32, detail: Option<Detail>) -> Result<EntryKind> {
    let impossible = || StoreError::impossible("what happened to a yarn");
    let (tenths, detail) = (Tenths(tenths), detail.unwrap_or_default());
    match kind {
        "ball" => Ok(EntryKind::Ball(Ball {
            count: detail.count.unwrap_or(1),
            each: tenths,
            length_each: detail.length.map(Decimetres),
            lot: detail.lot.map(Label::kept),
            weighed: detail.weighed.map(Tenths),
        })),
        "weighing" => Ok(EntryKind::Weighing(tenths)),
        "correction" => Ok(EntryKind::Correction(tenths)),
        "tried" => {
            let (after, rows) = detail.after.zip(detail.rows).ok_or_else(impossible)?;
            Ok(EntryKind::Tried { before: tenths, after: Tenths(after), rows })
        }
        _ => Err(impossible()),
    }
}
