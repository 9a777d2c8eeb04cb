//! The colours of yarn against published values and an independent library: the 34 pairs of Sharma,
//! Wu and Dalal 2005, and 400 random pairs as `colours.py` compares them with colour-science, which
//! CI does anew.

use duskrow::blanket::colours::{Rgb, View, contrast, difference, in_grey, in_view, read_hex};

#[test]
fn all_34_published_differences_are_reproduced_both_ways_round() {
    let table = include_str!("ciede2000.csv");
    let rows = table.lines().filter(|line| !line.starts_with('#')).skip(1);
    let mut compared = 0;
    for row in rows {
        let numbers: Vec<f64> = row.split(',').map(|field| field.parse().unwrap()).collect();
        let [_, l, a, b, l2, a2, b2, expected] = numbers.try_into().unwrap();
        for (one, other) in [([l, a, b], [l2, a2, b2]), ([l2, a2, b2], [l, a, b])] {
            let got = difference(one, other);
            assert!((got - expected).abs() < 1e-4, "{row}: {got}");
            compared += 1;
        }
    }
    assert_eq!(compared, 68);
}

#[test]
fn four_hundred_random_pairs_are_as_an_independent_library_sees_them() {
    let mut compared = 0;
    for row in include_str!("colours.csv").lines().skip(1) {
        let fields: Vec<&str> = row.split(',').collect();
        let pair: [Rgb; 2] = [read_hex(fields[0]).unwrap(), read_hex(fields[1]).unwrap()];
        let mut ours: Vec<f64> = View::ALL.map(|view| in_view(&pair, view)[0].apart).to_vec();
        ours.extend([in_grey(&pair)[0].apart, contrast(pair[0], pair[1])]);
        assert_eq!(ours.len(), fields.len() - 2, "{row}");
        for (ours, theirs) in ours.iter().zip(&fields[2..]) {
            let theirs: f64 = theirs.parse().unwrap();
            assert!((ours - theirs).abs() < 1e-3, "{row}: {ours}");
            compared += 1;
        }
    }
    assert_eq!(compared, 2400);
}
