//! Samples about yarn: what is on hand, balls, weighings, what to buy, what a maker says once.

use duskrow::blanket::forecast::{Amount, Common, LotPlan, RowWeight};
use duskrow::blanket::stock::{Decimetres, Tenths};
use duskrow::blanket::yarn::{BallLabel, Edging, Join, Lacking, ScaleStep, Target};
use duskrow::blanket::yarn::{TwoLots, Units};
use duskrow::blanket::{BlockNumber, KnownBy, PerRow, RowNumber, Terms};
use duskrow::chat::caption::Caption;
use duskrow::chat::say::{BlockSaid, Say};
use duskrow::chat::yarn::said::{
    AskGrams, Basis, Buy, BuySaid, Entered, First, LastsSaid, RowSaid, TargetSaid, ToBuy,
    TwoLotsSaid, WhenSaid, YarnCaption, YarnDetail, YarnLine, YarnRefusal, YarnSaid,
    YarnSettingsSaid,
};

use super::{date, day, label};

pub fn every_say() -> Vec<Say> {
    let units = Units::ALL.into_iter();
    let said = units.clone().flat_map(|units| {
        every_said().into_iter().map(move |said| Say::Yarn(units, Box::new(said)))
    });
    let refused = units.flat_map(|units| {
        every_refusal().into_iter().map(move |refusal| Say::YarnRefused(units, refusal))
    });
    said.chain(refused).collect()
}

/// Every sentence about yarn that repeats what was typed.
pub fn quoting(typed: &str) -> Vec<Say> {
    let typed = || typed.to_owned();
    let names = vec![label("Shingle"), label("Kelp")];
    let nearest = Some(label("Kelp"));
    let refusals = [
        YarnRefusal::Colour { typed: typed(), names: names.clone(), nearest: None },
        YarnRefusal::Colour { typed: typed(), names, nearest },
        YarnRefusal::Weight { typed: typed() },
        YarnRefusal::Ball { typed: typed() },
        YarnRefusal::Rows { typed: typed(), max: 1000 },
        YarnRefusal::Lot { typed: typed() },
        YarnRefusal::TwoLots { typed: typed() },
    ];
    refusals.map(|refusal| Say::YarnRefused(Units::Grams, refusal)).into()
}

pub fn every_refusal() -> Vec<YarnRefusal> {
    let quoted = quoting("smoothish").into_iter().filter_map(|say| match say {
        Say::YarnRefused(_, refusal) => Some(refusal),
        _ => None,
    });
    let mut all: Vec<YarnRefusal> = quoted.collect();
    all.extend([
        YarnRefusal::BallTooHeavy { max: 2000.0 },
        YarnRefusal::Heavier { yarn: label("Shingle"), now: 90.0, before: 83.5 },
        YarnRefusal::NothingUsed { before: 83.5, after: 90.0 },
        YarnRefusal::TooManyBalls { max: 200 },
        YarnRefusal::TooManyWeighings { max: 500 },
    ]);
    all
}

fn line() -> YarnLine {
    YarnLine {
        yarn: label("Shingle"),
        on_hand_grams: Some(83.5),
        rows_possible: Some(73),
        waiting_rows: 1,
        runs_short: false,
        lasts: Some(LastsSaid { chance: 0.62, basis: Some(Basis::Days) }),
    }
}

fn unknown() -> YarnLine {
    YarnLine {
        yarn: label("Brick"),
        on_hand_grams: None,
        rows_possible: None,
        waiting_rows: 3,
        runs_short: false,
        lasts: None,
    }
}

fn per_row(by: KnownBy) -> PerRow {
    PerRow { weight: RowWeight { grams: 1.134, se_grams: 0.06 }, by }
}

const WEIGHED: KnownBy = KnownBy::Weighings { pairs: 2, disagree: false };
const DISAGREE: KnownBy = KnownBy::Weighings { pairs: 2, disagree: true };
const BALL: BallLabel = BallLabel { each: Tenths(500), length_each: Some(Decimetres(1150)) };
const NINETY: TargetSaid = TargetSaid { target: Target::Ninety, whole_blanket: false };
const WHOLE: TargetSaid = TargetSaid { target: Target::NinetyFive, whole_blanket: true };

fn buy(yarn: &str, what: Buy) -> BuySaid {
    BuySaid { yarn: label(yarn), what, lot: Some(label("4471")) }
}

fn edging() -> Edging {
    let amount = |grams| Amount { grams, se_grams: grams / 20.0 };
    Edging::Known { joins: amount(40.0), border: amount(0.0) }
}

fn details() -> Vec<YarnDetail> {
    let (early, likely) = (date(2027, 9, 3), date(2027, 10, 20));
    let lots = vec![(label("9002"), 1), (label("4471"), 2)];
    let lacking = vec![Lacking::Width, Lacking::Swatch, Lacking::Metres];
    let block = BlockSaid { number: BlockNumber(1), month: Some(day()) };
    let detail = YarnDetail {
        line: line(),
        balls: 3,
        lots,
        two_lots: None,
        row: RowSaid::Known { per_row: per_row(WEIGHED), advice: None },
        fillers_to_come: 0,
        edging: Edging::Nothing,
        expected_rows: Some(81.4),
        early: Some(WhenSaid::Day(early)),
        likely: Some(WhenSaid::Day(likely)),
        buy: buy("Shingle", Buy::Balls { balls: 2, ball: BALL }),
        target: NINETY,
    };
    let with = |row, by: Option<KnownBy>| match by {
        None => RowSaid::Lacking(row),
        Some(by) => RowSaid::Known { per_row: per_row(by), advice: Some(16) },
    };
    let of_balls = |lots: Vec<_>, row, what| YarnDetail {
        lots,
        row,
        buy: buy("Shingle", what),
        ..detail.clone()
    };
    let plans = [
        (LotPlan::One { lot: 1 }, None),
        (LotPlan::WholeBlocks { lot: 0, blocks: 2 }, Some(block)),
        (LotPlan::Alternate, None),
        (LotPlan::TooLittle, None),
    ];
    let planned = plans.map(|(plan, until)| {
        let lots = [(label("4471"), 55.1), (label("9002"), 50.0)];
        let lots = TwoLots { lots, plan, until: until.map(|block| block.number) };
        YarnDetail { two_lots: Some(TwoLotsSaid { lots, until }), ..detail.clone() }
    });
    let mut all = vec![
        detail.clone(),
        of_balls(vec![], with(vec![], Some(KnownBy::OtherColours)), Buy::Nothing),
        of_balls(vec![(label("4471"), 3)], with(vec![], Some(KnownBy::Fabric)), Buy::TooMany),
        of_balls(vec![(label("4471"), 1)], with(vec![], Some(DISAGREE)), Buy::BallUnknown),
        YarnDetail { balls: 0, ..of_balls(vec![], with(lacking, None), Buy::RowUnknown) },
        YarnDetail { line: unknown(), target: WHOLE, ..detail.clone() },
        of_balls(vec![], with(vec![Lacking::Measurement], None), Buy::RowUnknown),
        YarnDetail { balls: 1, likely: None, ..detail.clone() },
        YarnDetail { likely: Some(WhenSaid::Day(early)), ..detail.clone() },
        YarnDetail {
            expected_rows: None,
            line: YarnLine { lasts: Some(LastsSaid { chance: 0.97, basis: None }), ..line() },
            fillers_to_come: 26,
            edging: edging(),
            early: Some(WhenSaid::Row { block, row: RowNumber(33) }),
            likely: Some(WhenSaid::Edging),
            ..detail.clone()
        },
        YarnDetail { edging: Edging::Unknown(vec![Lacking::Columns, Lacking::Join]), ..detail },
    ];
    all.extend(planned);
    all
}

fn to_buys() -> Vec<ToBuy> {
    let balls = |balls| Buy::Balls { balls, ball: BALL };
    let to_buy = ToBuy {
        target: NINETY,
        basis: Basis::Days,
        colours: vec![buy("Shingle", balls(2)), buy("Kelp", balls(1)), buy("Brick", Buy::Nothing)],
        first: Some(First::RunsOut(label("Shingle"))),
        lacking: vec![],
        edging: (label("Harbour Blue"), edging()),
    };
    vec![
        to_buy.clone(),
        ToBuy {
            first: Some(First::MostRows(label("Kelp"))),
            basis: Basis::Guess,
            ..to_buy.clone()
        },
        ToBuy { first: None, basis: Basis::Nothing, target: WHOLE, ..to_buy.clone() },
        ToBuy {
            colours: vec![
                buy("Shingle", Buy::RowUnknown),
                buy("Kelp", Buy::BallUnknown),
                buy("Brick", Buy::TooMany),
            ],
            lacking: vec![Lacking::Width, Lacking::Metres],
            edging: (label("Harbour Blue"), Edging::Unknown(vec![Lacking::Join])),
            ..to_buy
        },
    ]
}

fn everything_entered() -> Vec<Entered> {
    let lot = |count| Some((label("4471"), count));
    let measured = Some(per_row(WEIGHED));
    vec![
        Entered::Balls { balls: 1, lot: None, weighed: false },
        Entered::Balls { balls: 1, lot: lot(1), weighed: true },
        Entered::Balls { balls: 3, lot: lot(4), weighed: false },
        Entered::Balls { balls: 2, lot: None, weighed: true },
        Entered::Weighed { rows: None, per_row: None, advice: None },
        Entered::Weighed { rows: None, per_row: None, advice: Some(16) },
        Entered::Weighed { rows: Some(0), per_row: measured, advice: None },
        Entered::Weighed { rows: Some(1), per_row: None, advice: None },
        Entered::Weighed { rows: Some(8), per_row: Some(per_row(DISAGREE)), advice: None },
        Entered::Corrected,
        Entered::Tried { rows: 6, per_row: measured },
    ]
}

fn settings() -> Vec<YarnSettingsSaid> {
    let settings = YarnSettingsSaid {
        units: Units::Grams,
        scale: ScaleStep::Gram,
        target: NINETY,
        join: None,
        terms: Terms::Us,
        ball: None,
    };
    let joined = Join::ALL.map(|join| YarnSettingsSaid {
        units: Units::Ounces,
        scale: ScaleStep::TenthOfGram,
        target: WHOLE,
        join: Some(join),
        terms: Terms::Uk,
        ball: Some(BALL),
    });
    joined.into_iter().chain([settings]).collect()
}

pub fn every_said() -> Vec<YarnSaid> {
    let yarn = || label("Shingle");
    let short = YarnLine { runs_short: true, waiting_rows: 90, ..line() };
    let unweighed = YarnLine { rows_possible: None, lasts: None, ..line() };
    let lines = vec![line(), short, unweighed, unknown()];
    let asks = [
        AskGrams::All,
        AskGrams::Before,
        AskGrams::After { rows: 1 },
        AskGrams::After { rows: 6 },
        AskGrams::Correction,
    ];
    let tiers = Common::ALL.map(|common| (label("A bit smooth"), Some(common)));
    let mut tiers = tiers.to_vec();
    tiers.push((label("Smooth"), None));
    let mut all = vec![
        YarnSaid::List { lines: vec![], example: yarn() },
        YarnSaid::List { lines, example: yarn() },
        YarnSaid::WhichColour,
        YarnSaid::AskBall { yarn: yarn() },
        YarnSaid::AskRows { yarn: yarn() },
        YarnSaid::AskLabel { now: None },
        YarnSaid::AskLabel { now: Some(BALL) },
        YarnSaid::AskJoin { now: None, terms: Terms::Us },
        YarnSaid::AskJoin { now: Some(Join::SingleCrochet), terms: Terms::Uk },
        YarnSaid::Guess { tiers },
        YarnSaid::AskCommon { tier: label("Smooth") },
    ];
    all.extend(asks.map(|ask| YarnSaid::AskGrams { yarn: yarn(), ask }));
    all.extend(details().into_iter().map(|detail| YarnSaid::Detail(Box::new(detail))));
    all.extend(to_buys().into_iter().map(YarnSaid::ToBuy));
    all.extend(settings().into_iter().map(YarnSaid::Settings));
    let entered = |entered| YarnSaid::Entered { line: line(), entered };
    all.extend(everything_entered().into_iter().map(entered));
    all
}

pub fn every_yarn_caption() -> Vec<YarnCaption> {
    let mut all = vec![
        YarnCaption::AddBall,
        YarnCaption::Weigh,
        YarnCaption::BeforeAndAfter,
        YarnCaption::Correct,
        YarnCaption::Corrected { grams: 10_000.0, units: Units::Grams },
        YarnCaption::Corrected { grams: 9_999.9, units: Units::Ounces },
        YarnCaption::All,
        YarnCaption::ToBuy,
        YarnCaption::Settings,
        YarnCaption::WholeBlanket(true),
        YarnCaption::WholeBlanket(false),
        YarnCaption::AskJoin,
        YarnCaption::Label,
        YarnCaption::Guess,
    ];
    all.extend(Units::ALL.map(YarnCaption::Units));
    all.extend(ScaleStep::ALL.map(YarnCaption::Scale));
    all.extend(Target::ALL.map(YarnCaption::Target));
    let joins = |terms| Join::ALL.map(|join| YarnCaption::Join(join, terms));
    all.extend([Terms::Us, Terms::Uk].into_iter().flat_map(joins));
    all.extend(Common::ALL.map(YarnCaption::Common));
    all.push(YarnCaption::NoGuess);
    all
}

pub fn every_caption() -> Vec<Caption> {
    every_yarn_caption().into_iter().map(Caption::Yarn).collect()
}
