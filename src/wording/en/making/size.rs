//! Swatch and sizes in English, in centimetres and inches.

use super::{Words, count, decimal, heading, names, plain};
use crate::blanket::size::{Basis, Layout, NearSquare, Size, Swatch};
use crate::blanket::stitch::{Craft, Width};
use crate::blanket::yarn_weight::Gauge;
use crate::blanket::{Cut, Fabric, Terms};
use crate::chat::making::{SizeSaid, SwatchSaid};

/// Exactly.
const CM_PER_INCH: f64 = 2.54;

/// Yarn for a join as a multiple of the seam: sewn in mattress stitch (published) or whip stitch
/// (common practice), slip stitch, and single crochet (derived).
const SEWN: f64 = 3.0;
const SLIPPED: f64 = 5.0;
const CROCHETED: (f64, f64) = (5.5, 8.0);
/// Two tails of 15 cm for each seam.
const TAILS_CM: f64 = 30.0;

/// "228.1 cm (89.8 in)"
pub fn length(cm: f64) -> String {
    format!("{cm:.1} cm ({:.1} in)", cm / CM_PER_INCH)
}

/// "25.7 cm wide and 18.3 cm high (10.1 by 7.2 in)"
pub fn size(size: Size) -> String {
    let Size { width_cm, height_cm } = size;
    let (wide, high) = (width_cm / CM_PER_INCH, height_cm / CM_PER_INCH);
    format!("{width_cm:.1} cm wide and {height_cm:.1} cm high ({wide:.1} by {high:.1} in)")
}

pub fn swatch_line(fabric: &Fabric) -> String {
    match fabric.swatch {
        Some(swatch) => format!("Swatch: {}.", swatch_counts(swatch)),
        None => "Swatch: none yet.".to_owned(),
    }
}

/// "14 stitches and 18 rows over 10 cm"
pub fn swatch_counts(swatch: Swatch) -> String {
    let (stitches, rows) = (swatch.stitches_per_10cm(), swatch.rows_per_10cm());
    let over = basis(swatch.basis);
    format!("{} stitches and {} rows over {over}", decimal(stitches), decimal(rows))
}

pub fn basis(basis: Basis) -> &'static str {
    match basis {
        Basis::TenCentimetres => "10 cm",
        Basis::FourInches => "4 in",
    }
}

pub fn swatch(said: &SwatchSaid) -> Words {
    let SwatchSaid { fabric, asks, rows, height_cm, block, near_square, categories } = said;
    let mut lines = vec![swatch_line(fabric)];
    if fabric.swatch.is_some_and(|swatch| swatch.basis == Basis::FourInches) {
        lines.push("I take 4 in as 10 cm, as yarn labels do. It is 1.6 % more.".to_owned());
    }
    let rows = count(*rows, "row");
    match (block, height_cm, fabric.width) {
        (Some(block), _, Some(Width(across))) => {
            lines.push(format!("A block of {across} stitches and {rows} is {}.", size(*block)));
        }
        (_, Some(height), _) => {
            lines.push(format!("A block of {rows} is {} high.", length(*height)))
        }
        (_, None, _) => {}
    }
    if !near_square.is_empty() {
        lines.push("Nearest to a square:".to_owned());
        lines.extend(near_square.iter().map(square));
    }
    lines.extend(self::categories(categories, fabric));
    if let Some(over) = asks {
        let over = basis(*over);
        lines.push(format!("Type the stitches and rows over {over}, like 14 x 18."));
    }
    plain(lines)
}

/// "26 stitches: 2.4 mm wider than high (1.3 %)."
fn square(near: &NearSquare) -> String {
    let NearSquare { width: Width(across), residual_mm, residual_percent } = *near;
    let (mm, percent) = (residual_mm.abs(), residual_percent.abs());
    let how = match residual_mm {
        _ if mm < 0.05 => return format!("{across} stitches: as wide as high."),
        wider if wider > 0.0 => "wider",
        _ => "narrower",
    };
    format!("{across} stitches: {mm:.1} mm {how} than high ({percent:.1} %).")
}

fn categories(categories: &[(u8, Gauge)], fabric: &Fabric) -> Option<String> {
    let tool = match fabric.stitch.craft() {
        Craft::Crochet => "hook",
        Craft::Knit => "needles",
    };
    let one = |(category, gauge): &(u8, Gauge)| {
        let (from, to) = gauge.tool_mm;
        format!("{category} ({tool} {from} to {to} mm)")
    };
    let all: Vec<String> = categories.iter().map(one).collect();
    let gauge = names::gauge(fabric.terms);
    match all.as_slice() {
        [] => None,
        [one] => Some(format!("Yarn category with this {gauge}: {one}.")),
        several => Some(format!("Yarn categories with this {gauge}: {}.", several.join(", "))),
    }
}

pub fn blanket(said: &SizeSaid) -> Words {
    let SizeSaid { fabric, cut, blocks, block, layout, whole, .. } = said;
    let mut lines = Vec::new();
    match (layout, cut) {
        (_, Cut::Strip) => lines.push("The blanket is one strip.".to_owned()),
        (Some(layout), _) => lines.push(laid_out(*layout, *blocks)),
        (None, _) => lines.push(format!("There is no layout yet for {}.", count(*blocks, "block"))),
    }
    lines.push(match fabric.border_rounds {
        0 => "Border: none.".to_owned(),
        rounds => format!("Border: {} of {}.", count(rounds, "round"), names::single(fabric.terms)),
    });
    match (block, fabric.swatch, fabric.width) {
        (Some(block), _, _) if *cut != Cut::Strip => {
            lines.push(format!("A block is {}.", size(*block)));
        }
        (_, None, None) => lines.push("For sizes I need a swatch and a width.".to_owned()),
        (_, None, Some(_)) => lines.push("For sizes I need a swatch.".to_owned()),
        (_, Some(_), None) => lines.push("For sizes I need a width.".to_owned()),
        (_, Some(_), Some(_)) => {}
    }
    if let Some(whole) = whole {
        lines.push(format!("The whole blanket is {}.", size(*whole)));
        lines.extend(yarn(said));
    }
    heading("Size of the blanket").and(plain(lines))
}

fn laid_out(layout: Layout, blocks: u16) -> String {
    let Layout { columns, rows } = layout;
    let wide = match columns {
        1 => format!("1 block wide, {rows} high."),
        _ => format!("{columns} blocks side by side, {rows} high."),
    };
    match blocks % columns {
        0 => wide,
        last => format!("{wide} The last line has {}.", count(last, "block")),
    }
}

/// Seams, edge and border, and the yarn they may take.
fn yarn(said: &SizeSaid) -> Vec<String> {
    let SizeSaid { fabric, blocks, seams_cm, edge_cm, .. } = said;
    let metres = |cm: f64| format!("{:.1} m", cm / 100.0);
    let mut lines = Vec::new();
    if *blocks > 1 {
        // Columns first: each block but one is joined by a seam of its own.
        let seams = f64::from(blocks.saturating_sub(1));
        let takes = |times: f64| metres(times * seams_cm + TAILS_CM * seams);
        lines.push(format!(
            "Seams: {} in all. If you join the columns first, there are {}.",
            metres(*seams_cm),
            count(*blocks - 1, "seam")
        ));
        lines.push(format!(
            "Yarn for them, as a guess: {} sewn, {} in slip stitch, {} to {} in {}.",
            takes(SEWN),
            takes(SLIPPED),
            takes(CROCHETED.0),
            takes(CROCHETED.1),
            names::single(fabric.terms)
        ));
    }
    let rounds = f64::from(fabric.border_rounds);
    if fabric.border_rounds > 0 {
        lines.push(format!(
            "The border takes about {} to {} of yarn. I count a round as high as one of your rows.",
            metres(rounds * CROCHETED.0 * edge_cm),
            metres(rounds * CROCHETED.1 * edge_cm)
        ));
    }
    lines.push(format!("The edge is {} long without a border.", metres(*edge_cm)));
    lines
}

/// Names of the terms, for the button that chooses them.
pub fn terms(terms: Terms) -> String {
    format!("{} names", names::terms(terms))
}
