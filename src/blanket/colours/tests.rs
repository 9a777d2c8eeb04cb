//! Worked values, each by its source.

use super::*;

fn hexes(text: &str) -> Vec<Rgb> {
    text.split_whitespace().map(|hex| read_hex(hex).unwrap()).collect()
}

fn near(got: f64, expected: f64, what: &str) {
    assert!((got - expected).abs() < 5.1e-5, "{what}: {got}, not {expected}");
}

const BRIGHT: &str = "#2E4057 #048A81 #54C6EB #8FC93A #E4CC37 #E18335";
const SOFT: &str = "#5B2A86 #7785AC #9AC6C5 #A5E6BA #C7B7A3 #A0C4A8";

#[test]
fn differences_in_every_view_are_those_of_independent_implementations() {
    let cases = [
        ("#D62728 #2CA02C", [71.8283, 24.9157, 4.6115, 55.4059, 11.0516]),
        ("#8B1A1A #3B2F2F", [22.4224, 13.2027, 19.8756, 21.6072, 9.4619]),
        ("#A0C4A8 #C7B7A3", [20.0410, 1.8583, 2.6897, 21.5076, 0.6979]),
        ("#E4D96F #F2B5D4", [47.0483, 36.4268, 29.4617, 6.9379, 5.6399]),
        ("#1F3A5F #22304A", [5.0133, 4.8614, 4.6700, 5.1409, 4.3042]),
        ("#F4C2C2 #F7CAC9", [2.1009, 1.7418, 1.5077, 2.0166, 2.3547]),
    ];
    for (colours, [expected @ .., grey]) in cases {
        let pair = hexes(colours);
        for (view, expected) in View::ALL.into_iter().zip(expected) {
            near(in_view(&pair, view)[0].apart, expected, &format!("{colours} {view:?}"));
        }
        near(in_grey(&pair)[0].apart, grey, colours);
        let least = expected.into_iter().fold(f64::INFINITY, f64::min);
        near(worst(pair[0], pair[1]), least, colours);
    }
}

#[test]
fn colour_spaces_have_their_published_values() {
    for (hex, expected, l) in [
        ("#D62728", [0.566991, 0.186371, 0.094625], 46.8498),
        ("#1F3A5F", [0.346703, -0.016827, -0.071124], 24.1395),
    ] {
        let rgb = read_hex(hex).unwrap();
        for (got, expected) in oklab(rgb).into_iter().zip(expected) {
            assert!((got - expected).abs() < 1.1e-6, "{hex}: {got}");
        }
        near(lightness(rgb), l, hex);
    }
    // WCAG 2.1: black is 0, white is 1, and their contrast is 21.
    let (black, white, grey) = ([0; 3], [255; 3], [0x77; 3]);
    assert!(luminance(black) == 0.0 && (luminance(white) - 1.0).abs() < 1e-12);
    assert!((contrast(black, white) - 21.0).abs() < 1e-9 && contrast(grey, grey) == 1.0);
    near(contrast(grey, white), 4.4781, "#777 on white");
    assert!(dim_lightness(black).abs() < 1e-9 && (dim_lightness(white) - 100.08).abs() < 0.01);
}

#[test]
fn a_bright_palette_is_mended_by_one_lighter_colour() {
    let colours = hexes(BRIGHT);
    let bad = bad_pairs(&colours);
    assert_eq!(bad.iter().map(|pair| (pair.one, pair.other)).collect::<Vec<_>>(), [(3, 4), (3, 5)]);
    near(in_view(&colours, View::Protan)[0].apart, 3.3360, "protan");
    near(in_view(&colours, View::Deutan)[0].apart, 5.6833, "deutan");
    assert_eq!(to_change(&colours), [3]);
    assert_eq!(shades(&colours, 3).lighter, read_hex("#CCFE92"));
    let mended = mend(&colours).unwrap();
    let mut after = colours.clone();
    mended.changes.iter().for_each(|(index, rgb)| after[*index] = *rgb);
    assert!(bad_pairs(&after).is_empty(), "{mended:?}");
    let light = by_lightness(&colours);
    assert_eq!(light.order, [0, 1, 5, 3, 2, 4]);
    near(light.smallest_step, 0.2202, "step");
    let path = smooth(&colours);
    assert_eq!(path.order, [0, 1, 2, 3, 4, 5]);
    assert!((path.length - 151.195470).abs() < 1e-6, "{}", path.length);
}

#[test]
fn a_soft_palette_is_mended_by_two_colours() {
    let colours = hexes(SOFT);
    let bad: Vec<_> = bad_pairs(&colours).iter().map(|pair| (pair.one, pair.other)).collect();
    assert_eq!(bad, [(4, 5), (2, 5), (2, 3), (3, 4), (3, 5)]);
    for (view, one, other, apart) in [
        (View::Tritan, 2, 3, 6.3465),
        (View::Tritan, 2, 5, 3.6793),
        (View::Deutan, 3, 4, 6.3620),
        (View::Deutan, 3, 5, 7.2030),
        (View::Protan, 4, 5, 1.8583),
    ] {
        let pairs = in_view(&colours, view);
        let found = pairs.iter().find(|pair| (pair.one, pair.other) == (one, other)).unwrap();
        near(found.apart, apart, &format!("{view:?} {one} {other}"));
    }
    assert_eq!(to_change(&colours), [3, 5]);
    let rest: Vec<Rgb> = [0, 1, 2, 4].map(|index| colours[index]).to_vec();
    let least =
        rest.iter().enumerate().flat_map(|(i, a)| rest[i + 1..].iter().map(|b| worst(*a, *b)));
    near(least.fold(f64::INFINITY, f64::min), 11.8003, "rest");
    assert_eq!(shades(&colours, 3).lighter, read_hex("#B5F7CA"));
    assert_eq!(shades(&colours, 5).darker, read_hex("#53745B"));
    near(by_lightness(&colours).smallest_step, 0.6979, "step");
    let path = smooth(&colours);
    assert_eq!(path.order, [0, 1, 4, 2, 5, 3]);
    assert!((path.length - 100.467236).abs() < 1e-6, "{}", path.length);
}

#[test]
fn two_colours_alike_are_mended_by_the_lower_one_and_many_by_none_too_few() {
    // Ties: either of a pair is enough, and the lower is named.
    let twins = hexes("#808080 #808080");
    assert_eq!(to_change(&twins), [0]);
    let Shade { darker, lighter } = shades(&twins, 0);
    for shade in [darker.unwrap(), lighter.unwrap()] {
        assert!(worst(shade, twins[1]) >= APART);
        // The nearest: a shade half as far is not far enough.
        let half = shade.map(|byte| u8::midpoint(byte, 0x80));
        assert!(worst(half, twins[1]) < APART);
    }
    assert!(lightness(darker.unwrap()) < lightness(twins[0]));
    assert!(lightness(lighter.unwrap()) > lightness(twins[0]));
    // Of several that are one, all but one are to be changed.
    assert_eq!(to_change(&hexes("#123 #123 #123 #FFF")), [0, 1]);
    assert_eq!(to_change(&hexes("#000 #FFF")), [] as [usize; 0]);
    assert_eq!(to_change(&[]), [] as [usize; 0]);
    let all = mend(&hexes("#123 #123 #123 #FFF")).unwrap().changes;
    assert_eq!(all.len(), 2);
    // Thirteen steps of one colour leave no room.
    let steps: Vec<Rgb> = (0..13).map(|step| [100 + step * 3, 50, 60]).collect();
    assert_eq!((to_change(&steps).len(), mend(&steps)), (12, None));
}

#[test]
fn lightness_runs_in_the_direction_that_turns_fewer_pairs_round() {
    let order = |text: &str| by_lightness(&hexes(text)).order;
    assert_eq!(order("#222 #444 #888 #666"), [0, 1, 3, 2]);
    assert_eq!(order("#888 #666 #222 #444"), [0, 1, 3, 2]);
    assert_eq!(smooth(&hexes("#888 #222 #666")).order, [0, 2, 1]);
    assert_eq!(smooth(&hexes("#222 #888 #666")).order, [0, 2, 1]);
    assert_eq!(smooth(&hexes("#222")), Path { order: vec![0], length: 0.0 });
}

#[test]
fn a_view_shown_to_anybody_is_the_view_within_a_byte_of_rounding() {
    for rgb in hexes("#D62728 #2CA02C #1F3A5F #E4D96F #F2B5D4 #000000 #FFFFFF #0000FF") {
        for view in View::ALL {
            let apart = difference(lab(view.rgb(rgb)), view.lab(rgb));
            assert!(apart < 1.0, "{rgb:?} {view:?}: {apart}");
        }
        let [as_it_is, grey, protan, deutan, tritan] = seen(rgb);
        assert_eq!((as_it_is, grey[0], grey[1]), (rgb, grey[1], grey[2]));
        assert!((lightness(grey) - lightness(rgb)).abs() < 0.5, "{rgb:?}: {grey:?}");
        let views = [View::Protan, View::Deutan, View::Tritan].map(|view| view.rgb(rgb));
        assert_eq!([protan, deutan, tritan], views);
    }
    // Red and green, by what each view is known for: red is dark without the long cones.
    let [red, green] = [[0xD6, 0x27, 0x28], [0x2C, 0xA0, 0x2C]];
    let darker = |view: View| lightness(view.rgb(red)) < lightness(red) - 8.0;
    assert!(darker(View::Protan) && !darker(View::Deutan) && !darker(View::Tritan));
    let apart = |view: View| difference(lab(view.rgb(red)), lab(view.rgb(green)));
    assert!(apart(View::Deutan) < 10.0 && apart(View::Tritan) > 40.0);
}
