//! The English words people type, and the names a new scale begins with.

use crate::chat::lexicon::{FirstScale, Lexicon};

pub static LEXICON: Lexicon = Lexicon {
    months: [
        &["january", "jan"],
        &["february", "feb"],
        &["march", "mar"],
        &["april", "apr"],
        &["may"],
        &["june", "jun"],
        &["july", "jul"],
        &["august", "aug"],
        &["september", "sep", "sept"],
        &["october", "oct"],
        &["november", "nov"],
        &["december", "dec"],
    ],
    weekdays: [
        &["monday", "mon", "mo"],
        &["tuesday", "tue", "tues", "tu"],
        &["wednesday", "wed", "we"],
        &["thursday", "thu", "thur", "thurs", "th"],
        &["friday", "fri", "fr"],
        &["saturday", "sat", "sa"],
        &["sunday", "sun", "su"],
    ],
    today: &["today", "tonight"],
    yesterday: &["yesterday", "last night"],
    tomorrow: &["tomorrow"],
    yes: &["yes", "y", "right", "ok", "correct"],
    no: &["no", "n", "wrong", "not right"],
    before_noon: &["am"],
    after_noon: &["pm"],
    worked_up_to: &["already worked up to", "worked up to"],
    block: &["block"],
    row: &["row"],
    erase: "ERASE",
    first_scale: FirstScale {
        tiers: &[
            ("Very rough", "Mussel", [0x3D, 0x20, 0x78]),
            ("Rough", "Tarred Rope", [0x52, 0x3B, 0x0F]),
            ("A bit rough", "Kelp", [0xAC, 0x94, 0x4B]),
            ("Ordinary", "Shingle", [0xD2, 0xCD, 0xA4]),
            ("A bit smooth", "Net Float", [0xEC, 0xB9, 0x36]),
            ("Smooth", "Brick", [0xA0, 0x5E, 0x41]),
            ("Very smooth", "Rosehip", [0x92, 0x1A, 0x4C]),
        ],
        default: 3,
        joining: ("Harbour Blue", [0x4F, 0x7F, 0xB0]),
    },
};
