//! Yarn as it stands: every colour in brief, one of them whole, and what to buy.

use super::entering::advice;
use super::said::{Basis, Buy, BuySaid, First, LastsSaid, RowSaid, TargetSaid, ToBuy};
use super::said::{TwoLotsSaid, WhenSaid};
use super::said::{YarnCaption, YarnDetail, YarnLine, YarnSaid};
use super::{colours, said, yarn_key};
use crate::blanket::yarn::estimate::grams_per_row;
use crate::blanket::yarn::outlook::used_yarns;
use crate::blanket::yarn::{Ahead, Edging, Outlook, Purchase, When, two_lots};
use crate::blanket::{Book, Label, YarnId};
use crate::chat::button::YarnButton;
use crate::chat::caption::Caption;
use crate::chat::drawn;
use crate::chat::enclosed::Drawn;
use crate::chat::outcome::Reply;
use crate::chat::say::BlockSaid;

/// Every colour that something is known of, with a button for each.
pub fn list(book: &Book) -> Reply {
    let all = Ahead::of(book).all();
    let known = |it: &&Outlook| it.status.on_hand_grams.is_some() || it.status.need.waiting > 0;
    let lines = all.iter().filter(known).filter_map(|it| line(book, it)).collect();
    // Every scale has a tier, and every tier a yarn.
    let default = book.scale().default_tier();
    let example = book.yarn_name(default.yarn).unwrap_or(&default.label).clone();
    let reply = said(book, YarnSaid::List { lines, example }).keys([
        yarn_key(YarnCaption::AddBall, YarnButton::ChooseBall),
        yarn_key(YarnCaption::Weigh, YarnButton::ChooseWeighing),
    ]);
    colours(book, reply, |yarn| YarnButton::Detail { yarn })
        .keys([
            yarn_key(YarnCaption::ToBuy, YarnButton::ToBuy),
            yarn_key(YarnCaption::Settings, YarnButton::Settings),
        ])
        .keys([drawn::key(Caption::Picture, Drawn::Yarn)])
}

pub fn line(book: &Book, outlook: &Outlook) -> Option<YarnLine> {
    let status = &outlook.status;
    Some(YarnLine {
        yarn: book.yarn_name(status.yarn)?.clone(),
        on_hand_grams: status.on_hand_grams,
        rows_possible: status.rows_possible(),
        waiting_rows: status.need.waiting,
        runs_short: status.runs_short(),
        lasts: outlook.lasts.map(|lasts| LastsSaid {
            chance: lasts.chance,
            basis: outlook.expected_rows.map(|_| basis(book)),
        }),
    })
}

/// All that is known of one colour.
pub fn detail(book: &Book, yarn: YarnId) -> Option<Reply> {
    let ahead = Ahead::of(book);
    let outlook = ahead.one(yarn)?;
    let status = &outlook.status;
    let ledger = book.ledger(yarn);
    let row = match status.per_row {
        Some(per_row) => RowSaid::Known { per_row, advice: advice(book, Some(per_row)) },
        None => RowSaid::Lacking(grams_per_row(book, yarn).err().unwrap_or_default()),
    };
    let when = |when: Option<When>| when.map(|when| when_said(book, when));
    let detail = YarnDetail {
        line: line(book, &outlook)?,
        balls: ledger.balls().map(|ball| u32::from(ball.count)).sum(),
        lots: ledger.lots().into_iter().map(|(lot, balls)| (lot.clone(), balls)).collect(),
        two_lots: two_lots(book, &outlook).map(|lots| TwoLotsSaid {
            until: lots.until.map(|block| BlockSaid::of(book, block)),
            lots,
        }),
        row,
        fillers_to_come: status.need.fillers_to_come,
        edging: status.need.edging.clone(),
        expected_rows: outlook.expected_rows,
        early: when(outlook.lasts.and_then(|lasts| lasts.early)),
        likely: when(outlook.lasts.and_then(|lasts| lasts.likely)),
        buy: buy_said(book, &ahead, yarn)?,
        target: target_said(book),
    };
    let reply = said(book, YarnSaid::Detail(Box::new(detail)));
    Some(
        reply
            .keys([
                yarn_key(YarnCaption::AddBall, YarnButton::Ball { yarn }),
                yarn_key(YarnCaption::Weigh, YarnButton::Weigh { yarn }),
            ])
            .keys([
                yarn_key(YarnCaption::BeforeAndAfter, YarnButton::Before { yarn }),
                yarn_key(YarnCaption::Correct, YarnButton::AskCorrection { yarn }),
            ])
            .keys([yarn_key(YarnCaption::All, YarnButton::List)]),
    )
}

/// What to buy of every colour of the blanket.
pub fn to_buy(book: &Book) -> Reply {
    let ahead = Ahead::of(book);
    let mut all = ahead.all();
    let used: Vec<YarnId> = used_yarns(book).collect();
    all.retain(|outlook| used.contains(&outlook.status.yarn));
    let colours: Vec<BuySaid> =
        all.iter().filter_map(|it| buy_said(book, &ahead, it.status.yarn)).collect();
    let bought = |said: &BuySaid| matches!(said.what, Buy::Balls { .. });
    let several = colours.iter().filter(|said| bought(said)).count() > 1;
    let first = all.iter().zip(&colours).find(|(_, said)| several && bought(said));
    let first = first.map(|(outlook, said)| match outlook.lasts {
        Some(_) => First::RunsOut(said.yarn.clone()),
        None => First::MostRows(said.yarn.clone()),
    });
    let mut lacking: Vec<_> = all
        .iter()
        .filter(|outlook| outlook.status.per_row.is_none())
        .flat_map(|outlook| grams_per_row(book, outlook.status.yarn).err().unwrap_or_default())
        .collect();
    lacking.sort_unstable();
    lacking.dedup();
    let joining = all.iter().find(|outlook| outlook.status.yarn == book.joining());
    let edging = joining.map_or(Edging::Nothing, |outlook| outlook.status.need.edging.clone());
    let basis = basis(book);
    let name = book.yarn_name(book.joining()).unwrap_or(&book.scale().default_tier().label);
    let edging: (Label, Edging) = (name.clone(), edging);
    let to_buy = ToBuy { target: target_said(book), basis, colours, first, lacking, edging };
    said(book, YarnSaid::ToBuy(to_buy))
        .keys([yarn_key(YarnCaption::Guess, YarnButton::Guess)])
        .keys([
            yarn_key(YarnCaption::Label, YarnButton::AskLabel),
            yarn_key(YarnCaption::Settings, YarnButton::Settings),
        ])
        .keys([yarn_key(YarnCaption::All, YarnButton::List)])
}

fn buy_said(book: &Book, ahead: &Ahead<'_>, yarn: YarnId) -> Option<BuySaid> {
    let what = match ahead.purchase(yarn) {
        Purchase::Nothing => Buy::Nothing,
        Purchase::Balls { balls, ball } => Buy::Balls { balls, ball },
        Purchase::TooMany { .. } => Buy::TooMany,
        Purchase::BallUnknown => Buy::BallUnknown,
        Purchase::RowUnknown => Buy::RowUnknown,
    };
    let lot = book.ledger(yarn).lots().first().map(|(lot, _)| (*lot).clone());
    Some(BuySaid { yarn: book.yarn_name(yarn)?.clone(), what, lot })
}

/// What an expectation rests on.
fn basis(book: &Book) -> Basis {
    match (book.answers().is_empty(), book.yarn_settings().guess.is_empty()) {
        (true, true) => Basis::Nothing,
        (true, false) => Basis::Guess,
        (false, _) => Basis::Days,
    }
}

pub fn target_said(book: &Book) -> TargetSaid {
    let settings = book.yarn_settings();
    TargetSaid { target: settings.target, whole_blanket: settings.whole_blanket }
}

fn when_said(book: &Book, when: When) -> WhenSaid {
    match when {
        When::Row(block, row) => WhenSaid::Row { block: BlockSaid::of(book, block), row },
        When::Day(day) => WhenSaid::Day(day),
        When::Edging => WhenSaid::Edging,
    }
}
