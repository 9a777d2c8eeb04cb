//! All that can happen to a book, drawn at random and fitted to the book it meets.

use std::collections::BTreeSet;

use chrono::{DateTime, Days, NaiveDate, NaiveTime, TimeDelta, Utc, Weekday};
use duskrow::blanket::forecast::Common;
use duskrow::blanket::size::{Basis, Swatch};
use duskrow::blanket::stitch::{Craft, LinenEdge, Stitch, Width};
use duskrow::blanket::stock::{Ball, Decimetres, Entry, EntryKind, Tenths};
use duskrow::blanket::yarn::{BallLabel, Join, ScaleStep, Target, Units, YarnSettings};
use duskrow::blanket::{Beginning, BlockNumber, Book, Change, Hours, How, Label, Note, NoteId};
use duskrow::blanket::{Carry, Fabric, Faces, Finish, NoteText, Nudges, Pieces, Plan, Reminders};
use duskrow::blanket::{FirstRow, OnPaper, Paper};
use duskrow::blanket::{OwnQuestion, Scale, Side, Terms, Tier, TierId, TierLine, Yarn, YarnId};
use duskrow::blanket::{PersonId, PersonLine};
use proptest::collection::{btree_set, vec};
use proptest::prelude::*;
use proptest::sample::{Index, select};

use super::day;
use crate::fillers::pieces;

/// A change as numbers, to be fitted to the book it meets.
#[derive(Clone, Debug)]
pub enum Wish {
    Begin(Box<Beginning>),
    Ask { day: Date, at: i64 },
    Answer { day: Date, tier: Index, how: How, at: i64 },
    Reopen { day: Date },
    PutOff { day: Date, until: Option<Date> },
    Note { day: Date, note: Note },
    DeleteNote { note: NoteId },
    KeepPerson { id: PersonId, line: PersonLine },
    RemovePerson { id: PersonId },
    Work { block: Index, yarns: Vec<Index>, at: i64 },
    PullBack { block: Index, rows_left: u16 },
    Stock { yarn: Index, entry: Entry },
    Unstock { yarn: Index },
    Describe { tier: Index, line: Option<TierLine>, at: i64 },
    Shape { pieces: Pieces, fabric: Box<Fabric> },
    MoveDays { later: i16, days: u16 },
    Rescale { tier: Index, how: Rescale },
    AddYarn { rgb: [u8; 3], after: Option<Index> },
    JoinIn { yarn: Index },
    RemoveYarn { yarn: Index },
    AskSo { question: Option<OwnQuestion> },
    Finish { block: Index, finish: Finish, done: bool },
    NameYarn { yarn: Index, name: Label, rgb: [u8; 3] },
    MoveTiers { tiers: Vec<(Index, Index)> },
    SetHours(Hours),
    SetYarn(Box<YarnSettings>),
    SetPaper(OnPaper),
    SetReminders(Reminders),
    Nudge { on: Date },
    Recap { on: Date },
}

/// What becomes of a tier, or beside it.
#[derive(Clone, Copy, Debug)]
pub enum Rescale {
    Rename,
    Move(Index),
    Add(Index),
    Remove,
    Default,
}

impl Rescale {
    /// The scale of the book after that; `None` where it cannot be so.
    fn of(self, book: &Book, tier: TierId, yarn: YarnId) -> Option<Scale> {
        let scale = book.scale();
        let tiers = scale.tiers().len();
        let id = book.fresh_tier_id()?;
        let label = Label::parse(&format!("New {} ñ", id.0)).unwrap();
        match self {
            Rescale::Rename => scale.renamed(tier, &label).ok(),
            Rescale::Move(to) => Some(scale.moved(tier, to.index(tiers))),
            Rescale::Add(at) => scale.with(Tier { id, label, yarn }, at.index(tiers + 1)).ok(),
            Rescale::Remove => scale.without(tier).ok(),
            Rescale::Default => scale.with_default(tier).ok(),
        }
    }
}

/// A day of a book: any, or one of its first, so that days meet again.
#[derive(Clone, Copy, Debug)]
pub struct Date {
    first: bool,
    index: Index,
}

impl Date {
    fn of(self, plan: &Plan) -> NaiveDate {
        let days = usize::try_from((plan.last_day() - plan.first_day()).num_days()).unwrap() + 1;
        let days = if self.first { days.min(3) } else { days };
        plan.first_day() + TimeDelta::days(self.index.index(days) as i64)
    }
}

fn dates() -> impl Strategy<Value = Date> {
    (prop::bool::weighted(0.8), any::<Index>()).prop_map(|(first, index)| Date { first, index })
}

fn instants() -> impl Strategy<Value = i64> {
    0_i64..4_000_000_000_000
}

fn instant(ms: i64) -> DateTime<Utc> {
    DateTime::from_timestamp_millis(ms).unwrap()
}

fn times() -> impl Strategy<Value = NaiveTime> {
    (0_u32..24, 0_u32..60).prop_map(|(h, m)| NaiveTime::from_hms_opt(h, m, 0).unwrap())
}

fn hours() -> impl Strategy<Value = Hours> {
    let zones = select(vec![
        chrono_tz::Europe::Lisbon,
        chrono_tz::America::Nuuk,
        chrono_tz::Pacific::Apia,
        chrono_tz::America::Argentina::Buenos_Aires,
    ]);
    let turns = (0_u32..12, 0_u32..60);
    (zones, times(), turns).prop_map(|(zone, ask_at, (hour, minute))| Hours {
        zone,
        ask_at,
        day_turns_at: NaiveTime::from_hms_opt(hour, minute, 0).unwrap(),
    })
}

fn reminders() -> impl Strategy<Value = Reminders> {
    let nudges = select(vec![Nudges::NotAsked, Nudges::Off, Nudges::On]);
    let weekdays = (0_u8..7).prop_map(|day| Weekday::try_from(day).unwrap());
    let recap_on = prop::option::of(weekdays);
    (nudges, times(), recap_on, times(), any::<bool>(), any::<bool>()).prop_map(
        |(nudges, nudge_at, recap_on, recap_at, recap_whole, paused)| Reminders {
            nudges,
            nudge_at,
            recap_on,
            recap_at,
            recap_whole,
            paused,
        },
    )
}

/// Few numbers, so that notes are edited and deleted; the lowest is not always the first.
fn note_ids() -> impl Strategy<Value = NoteId> {
    select(vec![NoteId(1), NoteId(2), NoteId(3), NoteId(i64::MAX)])
}

fn notes() -> impl Strategy<Value = Note> {
    let texts = vec(select(vec!["rain", " ", "\n", "'\"", "ñ", "\u{1F9F6}"]), 0..120);
    (note_ids(), texts).prop_map(|(id, words)| {
        let text = NoteText::parse(&format!("x{}", words.concat())).unwrap();
        Note { id, text }
    })
}

fn entries() -> impl Strategy<Value = Entry> {
    let tenths = prop_oneof![0_u32..=Tenths::MAX.0, Just(u32::MAX)].prop_map(Tenths);
    let rows = prop_oneof![0_u32..400, Just(u32::MAX)];
    let lots = prop::option::of(select(vec!["4471", "A 7/b", "ñ'\""]));
    let lengths = prop::option::of(any::<u32>().prop_map(Decimetres));
    let ball = (tenths.clone(), any::<u16>(), lengths, lots, prop::option::of(tenths.clone()))
        .prop_map(|(each, count, length_each, lot, weighed)| {
            let lot = lot.map(|lot| Label::parse(lot).unwrap());
            EntryKind::Ball(Ball { count, each, length_each, lot, weighed })
        });
    let tried = (tenths.clone(), tenths.clone(), any::<u16>())
        .prop_map(|(before, after, rows)| EntryKind::Tried { before, after, rows });
    let kinds = prop_oneof![
        2 => tenths.clone().prop_map(|each| EntryKind::Ball(Ball::of(each))),
        2 => ball,
        3 => tenths.clone().prop_map(EntryKind::Weighing),
        1 => tenths.prop_map(EntryKind::Correction),
        1 => tried,
    ];
    (kinds, rows, instants()).prop_map(|(kind, rows, at)| Entry { kind, rows, at: instant(at) })
}

fn yarn_settings() -> impl Strategy<Value = YarnSettings> {
    let units = select(Units::ALL.to_vec());
    let scales = select(ScaleStep::ALL.to_vec());
    let targets = select(Target::ALL.to_vec());
    let joins = prop::option::of(select(Join::ALL.to_vec()));
    let balls = prop::option::of((any::<u32>(), prop::option::of(any::<u32>()))).prop_map(|ball| {
        ball.map(|(each, length)| BallLabel {
            each: Tenths(each),
            length_each: length.map(Decimetres),
        })
    });
    let guesses = prop::collection::btree_map(
        any::<u8>().prop_map(TierId),
        select(Common::ALL.to_vec()),
        0..5,
    );
    (units, scales, targets, any::<bool>(), joins, balls, guesses).prop_map(
        |(units, scale, target, whole_blanket, join, ball, guess)| YarnSettings {
            units,
            scale,
            target,
            whole_blanket,
            join,
            ball,
            guess,
        },
    )
}

fn on_paper() -> impl Strategy<Value = OnPaper> {
    let first_rows = select(FirstRow::ALL.to_vec());
    (select(Paper::ALL.to_vec()), first_rows)
        .prop_map(|(paper, first_row)| OnPaper { paper, first_row })
}

/// Of every kind of stitch, and never what cannot be worked.
fn fabrics() -> impl Strategy<Value = Fabric> {
    let stitches = select(vec![
        Stitch::Linen(LinenEdge::ChainTwo),
        Stitch::Linen(LinenEdge::Single),
        Stitch::Linen(LinenEdge::SingleAtEnd),
        Stitch::SingleCrochet,
        Stitch::HalfDouble { chain_counts: true },
        Stitch::Double { chain_counts: false },
        Stitch::Garter { day_is_ridge: true },
        Stitch::Stockinette,
        Stitch::Own { multiple: 6, offset: 1, craft: Craft::Crochet },
    ]);
    let swatches = (20..800_u16, 20..1200_u16, any::<bool>()).prop_map(|(stitches, rows, cm)| {
        let basis = if cm { Basis::TenCentimetres } else { Basis::FourInches };
        Swatch::new(f64::from(stitches) / 10.0, f64::from(rows) / 10.0, basis).unwrap()
    });
    let carries = select(vec![Carry::Never, Carry::Three, Carry::Five]);
    let flags = any::<[bool; 4]>();
    let layouts = (prop::option::of(1..=40_u16), 0..=30_u16);
    (stitches, 0..=200_u16, carries, flags, prop::option::of(swatches), layouts).prop_map(
        |(stitch, width, carry, [turned, right, us, left_handed], swatch, layout)| Fabric {
            stitch,
            width: Some(Width(width)).filter(|width| stitch.allows(*width)),
            turned: turned || !stitch.may_stay_unturned(),
            first_side: if right { Side::Right } else { Side::Wrong },
            carry,
            terms: if us { Terms::Us } else { Terms::Uk },
            left_handed,
            swatch,
            columns: layout.0,
            border_rounds: layout.1,
        },
    )
}

fn beginnings() -> impl Strategy<Value = Beginning> {
    let plans = (0_u64..4000, 0_u64..732, pieces()).prop_map(|(start, days, pieces)| {
        let first = day("2020-01-01") + Days::new(start);
        Plan::new(first, first + Days::new(days), pieces, Faces::DEFAULT).unwrap()
    });
    let yarns = (btree_set(any::<u8>(), 1..=24), any::<[u8; 3]>());
    let tiers = (btree_set(any::<u8>(), 2..=12), any::<Index>(), any::<Index>());
    (plans, fabrics(), hours(), yarns, tiers).prop_map(
        |(plan, fabric, hours, (yarn_ids, rgb), (tier_ids, default, yarn))| {
            let name = |what: &str, id: u8| Label::parse(&format!("{what} {id} ñ'\"")).unwrap();
            let yarns: Vec<Yarn> = yarn_ids
                .iter()
                .rev()
                .map(|&id| Yarn { id: YarnId(id), name: name("Yarn", id), rgb, after: None })
                .collect();
            let yarn = yarns[yarn.index(yarns.len())].id;
            let tiers: Vec<Tier> = tier_ids
                .iter()
                .rev()
                .map(|&id| Tier { id: TierId(id), label: name("Tier", id), yarn })
                .collect();
            let default = tiers[default.index(tiers.len())].id;
            let scale = Scale::new(tiers, default).unwrap();
            Beginning { plan, fabric, scale, yarns, joining: yarn, hours }
        },
    )
}

fn tier_lines() -> impl Strategy<Value = Option<TierLine>> {
    let line = |text: String| TierLine::parse(&text).ok();
    prop_oneof![Just(None), "[a-zäß ,]{1,40}".prop_map(line)]
}

fn rescales() -> impl Strategy<Value = Rescale> {
    prop_oneof![
        Just(Rescale::Rename),
        any::<Index>().prop_map(Rescale::Move),
        any::<Index>().prop_map(Rescale::Add),
        Just(Rescale::Remove),
        Just(Rescale::Default),
    ]
}

fn questions() -> impl Strategy<Value = Option<OwnQuestion>> {
    prop_oneof![Just(None), "[a-zäß'\"]{1,20}\\?".prop_map(|text| OwnQuestion::parse(&text).ok())]
}

pub fn wishes() -> impl Strategy<Value = Wish> {
    let hows = select(vec![How::Answered, How::ForNow, How::Assumed]);
    let answers = (dates(), any::<Index>(), hows, instants());
    let put_off = (dates(), prop::option::of(dates()));
    let works = (any::<Index>(), vec(any::<Index>(), 0..6), instants());
    prop_oneof![
        1 => beginnings().prop_map(|beginning| Wish::Begin(Box::new(beginning))),
        3 => (dates(), instants()).prop_map(|(day, at)| Wish::Ask { day, at }),
        8 => answers.prop_map(|(day, tier, how, at)| Wish::Answer { day, tier, how, at }),
        4 => dates().prop_map(|day| Wish::Reopen { day }),
        4 => put_off.prop_map(|(day, until)| Wish::PutOff { day, until }),
        6 => (dates(), notes()).prop_map(|(day, note)| Wish::Note { day, note }),
        2 => note_ids().prop_map(|note| Wish::DeleteNote { note }),
        2 => (1..6_i64, "[a-zäß ,0-9]{1,40}[0-9]").prop_map(|(id, line)| Wish::KeepPerson {
            id: PersonId(id),
            line: PersonLine::parse(&line).unwrap(),
        }),
        1 => (1..6_i64).prop_map(|id| Wish::RemovePerson { id: PersonId(id) }),
        4 => works.prop_map(|(block, yarns, at)| Wish::Work { block, yarns, at }),
        3 => (any::<Index>(), 0_u16..8)
            .prop_map(|(block, rows_left)| Wish::PullBack { block, rows_left }),
        2 => any::<Index>().prop_map(|yarn| Wish::Unstock { yarn }),
        2 => (any::<Index>(), tier_lines(), instants())
            .prop_map(|(tier, line, at)| Wish::Describe { tier, line, at }),
        4 => (any::<Index>(), entries()).prop_map(|(yarn, entry)| Wish::Stock { yarn, entry }),
        1 => (pieces(), fabrics())
            .prop_map(|(pieces, fabric)| Wish::Shape { pieces, fabric: Box::new(fabric) }),
        1 => (any::<i16>(), 0_u16..732).prop_map(|(later, days)| Wish::MoveDays { later, days }),
        4 => (any::<Index>(), rescales()).prop_map(|(tier, how)| Wish::Rescale { tier, how }),
        2 => (any::<[u8; 3]>(), prop::option::of(any::<Index>()))
            .prop_map(|(rgb, after)| Wish::AddYarn { rgb, after }),
        1 => any::<Index>().prop_map(|yarn| Wish::JoinIn { yarn }),
        2 => any::<Index>().prop_map(|yarn| Wish::RemoveYarn { yarn }),
        1 => questions().prop_map(|question| Wish::AskSo { question }),
        3 => (any::<Index>(), select(vec![Finish::Woven, Finish::Joined]), any::<bool>())
            .prop_map(|(block, finish, done)| Wish::Finish { block, finish, done }),
        3 => ("[a-zA-Zäß🧶'\"]{1,24}", any::<Index>(), any::<[u8; 3]>()).prop_map(|(name, yarn, rgb)| {
            Wish::NameYarn { yarn, name: Label::parse(&name).unwrap(), rgb }
        }),
        3 => vec(any::<(Index, Index)>(), 1..12).prop_map(|tiers| Wish::MoveTiers { tiers }),
        1 => hours().prop_map(Wish::SetHours),
        2 => yarn_settings().prop_map(|settings| Wish::SetYarn(Box::new(settings))),
        2 => on_paper().prop_map(Wish::SetPaper),
        2 => reminders().prop_map(Wish::SetReminders),
        1 => dates().prop_map(|on| Wish::Nudge { on }),
        1 => dates().prop_map(|on| Wish::Recap { on }),
    ]
}

/// The wish as a change that this book can meet; `None` for a day asked about already.
#[expect(clippy::too_many_lines, reason = "an arm for each wish, and nothing else")]
pub fn change(wish: &Wish, book: &Book, asked: &mut BTreeSet<NaiveDate>) -> Option<Change> {
    let plan = book.plan();
    let date = |day: &Date| day.of(plan);
    let yarn = |yarn: &Index| book.yarns()[yarn.index(book.yarns().len())].id;
    let tier = |tier: &Index| {
        let tiers = book.scale().tiers();
        tiers[tier.index(tiers.len())].id
    };
    let block = |block: &Index| {
        let blocks: Vec<BlockNumber> = plan.blocks().map(|block| block.number).collect();
        blocks[block.index(blocks.len())]
    };
    Some(match wish {
        Wish::Begin(beginning) => Change::Began(beginning.clone()),
        Wish::Ask { day, at } if asked.insert(date(day)) => {
            Change::Asked { day: date(day), at: instant(*at) }
        }
        Wish::Ask { .. } => return None,
        Wish::Answer { day, tier: index, how, at } => {
            Change::Answered { day: date(day), tier: tier(index), how: *how, at: instant(*at) }
        }
        Wish::Work { block: index, yarns, at } => {
            let yarns = yarns.iter().map(yarn).collect();
            Change::Worked { block: block(index), yarns, at: instant(*at) }
        }
        Wish::PullBack { block: index, rows_left } => {
            Change::PulledBack { block: block(index), rows_left: *rows_left }
        }
        Wish::Reopen { day } => Change::Reopened { day: date(day) },
        Wish::PutOff { day, until } => {
            Change::PutOff { day: date(day), until: until.as_ref().map(date) }
        }
        Wish::Note { day, note } => Change::Noted { day: date(day), note: note.clone() },
        Wish::KeepPerson { id, line } => Change::PersonKept { id: *id, line: line.clone() },
        Wish::RemovePerson { id } => Change::PersonRemoved { id: *id },
        Wish::DeleteNote { note } => Change::NoteDeleted { note: *note },
        Wish::Describe { tier: index, line, at } => {
            Change::Described { tier: tier(index), line: line.clone(), at: instant(*at) }
        }
        Wish::Unstock { yarn: index } => Change::Unstocked { yarn: yarn(index) },
        Wish::Stock { yarn: index, entry } => {
            Change::Stocked { yarn: yarn(index), entry: entry.clone() }
        }
        Wish::Shape { pieces, fabric } => {
            Change::Shaped { pieces: *pieces, fabric: fabric.clone() }
        }
        Wish::MoveDays { later, days } => {
            let first_day = plan.first_day() + TimeDelta::days(i64::from(*later));
            let last_day = first_day + TimeDelta::days(i64::from(*days));
            Change::DaysMoved { first_day, last_day }
        }
        Wish::Rescale { tier: index, how } => {
            let (tier, yarn) = (tier(index), yarn(index));
            Change::Scaled(Box::new(how.of(book, tier, yarn)?))
        }
        Wish::AddYarn { rgb, after } => {
            let id = book.fresh_yarn_id()?;
            let name = Label::parse(&format!("New yarn {}", id.0)).unwrap();
            Change::YarnAdded(Yarn { id, name, rgb: *rgb, after: after.as_ref().map(yarn) })
        }
        Wish::JoinIn { yarn: index } => Change::JoiningMoved { yarn: yarn(index) },
        Wish::RemoveYarn { yarn: index } => {
            let yarn = Some(yarn(index)).filter(|yarn| !book.is_used(*yarn))?;
            Change::YarnRemoved { yarn }
        }
        Wish::AskSo { question } => Change::QuestionSet(question.clone()),
        Wish::Finish { block: index, finish, done } => {
            Change::Finished { block: block(index), finish: *finish, done: *done }
        }
        Wish::SetYarn(settings) => Change::YarnSet(settings.clone()),
        Wish::NameYarn { yarn: index, name, rgb } => {
            let id = yarn(index);
            Change::YarnNamed(Yarn { id, name: name.clone(), rgb: *rgb, after: None })
        }
        Wish::MoveTiers { tiers } => Change::TiersMoved {
            yarns: tiers.iter().map(|(one, other)| (tier(one), yarn(other))).collect(),
        },
        Wish::SetHours(hours) => Change::HoursSet(*hours),
        Wish::SetPaper(on_paper) => Change::PaperSet(*on_paper),
        Wish::SetReminders(reminders) => Change::RemindersSet(*reminders),
        Wish::Nudge { on } => Change::Nudged { on: date(on) },
        Wish::Recap { on } => Change::Recapped { on: date(on) },
    })
}
