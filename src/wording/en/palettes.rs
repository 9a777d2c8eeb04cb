//! Sets of colours to take in one tap, for 2 to 12 tiers and the joining colour.
//!
//! All invented here, and searched so that no two of the thirteen are nearer than 10 in any view,
//! nor any two of the eight that seven tiers and the joining colour take nearer than 14.5.

use crate::chat::lexicon::Palette;

pub const PALETTES: [Palette; 3] = [
    Palette {
        name: "Kitchen",
        tiers: [
            ("Burnt Pan", [0x21, 0x17, 0x09]),
            ("Gas Flame", [0x13, 0x04, 0x7F]),
            ("Beetroot Jar", [0x51, 0x09, 0x3F]),
            ("Paprika Box", [0xA1, 0x31, 0x04]),
            ("Cocoa Tin", [0x8E, 0x58, 0x48]),
            ("Fish Plate", [0x2F, 0x8A, 0xAF]),
            ("Olive Dish", [0x8D, 0x8D, 0x1E]),
            ("Egg Cup", [0xFF, 0xB7, 0x27]),
            ("Violet Cup", [0xD1, 0xC1, 0xEF]),
            ("Tea Towel", [0xC9, 0xE2, 0xE1]),
            ("Mint Bowl", [0x80, 0xFB, 0x87]),
            ("Milk Jug", [0xF5, 0xF0, 0xCA]),
        ],
        joining: ("Enamel Mug", [0x3D, 0x54, 0x7E]),
    },
    Palette {
        name: "Shed",
        tiers: [
            ("Peat Sack", [0x39, 0x25, 0x25]),
            ("Work Coat", [0x13, 0x26, 0x48]),
            ("Rust Nail", [0x7A, 0x19, 0x0B]),
            ("Sky Tarp", [0x36, 0x99, 0xE2]),
            ("Blue Bucket", [0x3A, 0x7B, 0xAD]),
            ("Berry Crate", [0xA4, 0x3C, 0x81]),
            ("Sage Pot", [0x86, 0x98, 0x6D]),
            ("Orange Twine", [0xC6, 0x76, 0x04]),
            ("Zinc Can", [0x8A, 0xB6, 0xB3]),
            ("Straw Hat", [0xD4, 0xD5, 0xA8]),
            ("Frost Glass", [0xC4, 0xF0, 0xE7]),
            ("Marigold Tray", [0xE6, 0xB5, 0x00]),
        ],
        joining: ("Green Door", [0x17, 0x57, 0x5D]),
    },
    Palette {
        name: "Window",
        tiers: [
            ("Night Pane", [0x30, 0x2C, 0x48]),
            ("Velvet Tie", [0x99, 0x54, 0x69]),
            ("Plum Curtain", [0x71, 0x51, 0x80]),
            ("Dark Frame", [0x5F, 0x39, 0x3A]),
            ("Blue Vase", [0x34, 0x8C, 0xBD]),
            ("Ink Bottle", [0x55, 0x5E, 0xC0]),
            ("Thin Cloud", [0xB9, 0xD7, 0xEC]),
            ("Pink Blind", [0xF7, 0xC5, 0xBA]),
            ("Lace Edge", [0xB7, 0xA3, 0xAE]),
            ("Street Lamp", [0xFF, 0x7A, 0x15]),
            ("Garden Tree", [0x78, 0xB7, 0x77]),
            ("Lemon Bowl", [0xFE, 0xFF, 0x83]),
        ],
        joining: ("Fern Leaf", [0x4C, 0x66, 0x2B]),
    },
];
