//! One maker, whole: the books of all blankets, the one logged now apart, and the talk.
//!
//! A year is at most 366 answers, so nothing is ever loaded in part: one statement, so that no
//! commit falls between two of its parts, and one row a blanket, in which each table is a JSON
//! array. A row for each day would cost several times as much, and SQLite sorts an array through a
//! table of its own, so they are put in order here. A book is built the way it changes: begun, then
//! every kept change applied.

use chrono::{NaiveDate, NaiveTime};
use serde::Deserialize;

use super::codes::{Date, instant, read_finish, read_how, read_nudges, read_rgb, read_weekday};
use super::entries::{self, Detail};
use super::error::{Result, StoreError};
use super::open::Store;
use super::{ChatId, MakerId};
use crate::blanket::stock::Entry;
use crate::blanket::{Beginning, BlockNumber, Book, Change, Fabric, Hours, Label, Note, NoteId};
use crate::blanket::{
    NoteText, OnPaper, OwnQuestion, PersonId, PersonLine, Pieces, Plan, Reminders, Scale, Tier,
    TierId, TierLine, Yarn, YarnId, YarnSettings,
};
use crate::chat::Maker;
use crate::chat::event::UserId;

/// A maker as kept.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Stored {
    pub id: MakerId,
    pub user: UserId,
    pub chat_id: ChatId,
    /// Whether messages arrive: false from the first refusal until the maker returns.
    pub reachable: bool,
    /// Counts commits; a commit names the one it was made from.
    pub revision: i64,
    pub maker: Maker,
}

impl Store {
    /// # Errors
    /// Those of the file.
    pub async fn load(&self, user: UserId) -> Result<Option<Stored>> {
        let rows = sqlx::query_as!(
            Row,
            r#"SELECT makers.id AS "id!", chat_id, owner AS "owner: bool",
                reachable AS "reachable: bool", talk, revision,
                (b.id IS NOT NULL AND b.id = makers.blanket) AS "logged!: bool",
                CASE WHEN b.id IS NULL THEN NULL ELSE json_object(
                    'first_day', first_day, 'last_day', last_day,
                    'pieces', json(pieces), 'fabric', json(fabric),
                    'default_tier', default_tier, 'joining_yarn', joining_yarn,
                    'zone', zone, 'ask_at', ask_at, 'day_turns_at', day_turns_at,
                    'nudges', nudges, 'nudge_at', nudge_at, 'recap_on', recap_on,
                    'recap_at', recap_at, 'recap_whole', recap_whole, 'paused', paused,
                    'nudged', nudged, 'recapped', recapped, 'question', question,
                    'yarn_settings', json(yarn_settings), 'paper', json(paper)
                ) END AS "blanket: String",
                (SELECT json_group_array(json_array(position, id, label, yarn, removed))
                FROM tiers WHERE blanket = b.id) AS "tiers!: String",
                (SELECT json_group_array(json_array(position, id, name, rgb, comes_after,
                    removed))
                FROM yarns WHERE blanket = b.id) AS "yarns!: String",
                (SELECT json_group_array(json_array(day, tier, how, at))
                FROM days WHERE blanket = b.id) AS "days!: String",
                (SELECT json_group_array(json_array(day, until))
                FROM put_off WHERE blanket = b.id) AS "put_off!: String",
                (SELECT json_array(day, at) FROM asked WHERE blanket = b.id
                ORDER BY number DESC LIMIT 1) AS "asked: String",
                (SELECT json_group_array(json_array(day, position, note, text))
                FROM notes WHERE blanket = b.id) AS "notes!: String",
                (SELECT json_group_array(json_array(block, row, yarn, at))
                FROM worked WHERE blanket = b.id) AS "worked!: String",
                (SELECT json_group_array(json_array(yarn, number, kind, tenths, rows, at,
                    json(detail)))
                FROM stock WHERE blanket = b.id) AS "stock!: String",
                (SELECT json_group_array(json_array(block, finish))
                FROM finished WHERE blanket = b.id) AS "finished!: String",
                (SELECT json_group_array(json_array(id, tier, line, at))
                FROM tier_lines WHERE blanket = b.id) AS "tier_lines!: String",
                (SELECT json_group_array(json_array(id, line))
                FROM people WHERE blanket = b.id) AS "people!: String"
            FROM makers LEFT JOIN blankets AS b ON b.maker = makers.id WHERE user_id = ?"#,
            user.0
        );
        stored(rows.fetch_all(&self.readers).await?, user)
    }

    /// # Errors
    /// Those of the file.
    pub async fn load_by_id(&self, id: MakerId) -> Result<Option<Stored>> {
        let user = sqlx::query_scalar!("SELECT user_id FROM makers WHERE id = ?", id.0);
        let Some(user) = user.fetch_optional(&self.readers).await? else { return Ok(None) };
        // Somebody who was erased and came back meanwhile is another maker.
        Ok(self.load(UserId(user)).await?.filter(|stored| stored.id == id))
    }
}

/// A blanket and its maker in one row. Holds what they wrote, so it has no `Debug`.
struct Row {
    id: i64,
    chat_id: i64,
    owner: bool,
    reachable: bool,
    talk: String,
    revision: i64,
    logged: bool,
    blanket: Option<String>,
    tiers: String,
    yarns: String,
    days: String,
    put_off: String,
    asked: Option<String>,
    notes: String,
    worked: String,
    finished: String,
    stock: String,
    tier_lines: String,
    people: String,
}

#[derive(Deserialize)]
struct Blanket<'a> {
    first_day: NaiveDate,
    last_day: NaiveDate,
    pieces: Pieces,
    fabric: Fabric,
    default_tier: u8,
    joining_yarn: u8,
    zone: &'a str,
    ask_at: NaiveTime,
    day_turns_at: NaiveTime,
    nudges: &'a str,
    nudge_at: NaiveTime,
    recap_on: Option<&'a str>,
    recap_at: NaiveTime,
    recap_whole: u8,
    paused: u8,
    nudged: Option<NaiveDate>,
    recapped: Option<NaiveDate>,
    yarn_settings: YarnSettings,
    paper: OnPaper,
    question: Option<String>,
}

fn stored(rows: Vec<Row>, user: UserId) -> Result<Option<Stored>> {
    let (mut logged, mut others) = (None, Vec::new());
    for row in &rows {
        let book = row.blanket.as_deref().map(|blanket| row.book(blanket)).transpose()?;
        if row.logged { logged = book } else { others.extend(book) }
    }
    others.sort_by_key(|book| book.plan().first_day());
    let Some(row) = rows.into_iter().next() else { return Ok(None) };
    // A step another version wrote is forgotten; the maker only has to ask again.
    let talk = serde_json::from_str(&row.talk).unwrap_or_default();
    Ok(Some(Stored {
        id: MakerId(row.id),
        user,
        chat_id: ChatId(row.chat_id),
        reachable: row.reachable,
        revision: row.revision,
        maker: Maker { owner: row.owner, book: logged, others, talk },
    }))
}

impl Row {
    fn book(&self, blanket: &str) -> Result<Book> {
        let blanket: Blanket = read(blanket, "a blanket")?;
        let (yarns, removed) = self.yarns()?;
        let mut book = Book::begin(&self.beginning(&blanket, yarns)?);
        removed.into_iter().for_each(|yarn| book.apply(&Change::YarnRemoved { yarn }));
        self.fill_days(&mut book)?;
        self.fill_rows(&mut book)?;
        self.fill_tier_lines(&mut book)?;
        self.fill_people(&mut book)?;
        book.apply(&Change::YarnSet(Box::new(blanket.yarn_settings.clone())));
        book.apply(&Change::PaperSet(blanket.paper));
        if let Some(question) = &blanket.question {
            let question = OwnQuestion::kept(question.clone());
            book.apply(&Change::QuestionSet(Some(question)));
        }
        remind(&blanket, &mut book)?;
        Ok(book)
    }

    fn beginning(&self, blanket: &Blanket, yarns: Vec<Yarn>) -> Result<Beginning> {
        let (pieces, fabric) = (blanket.pieces, blanket.fabric);
        let plan = Plan::new(blanket.first_day, blanket.last_day, pieces, fabric.faces())
            .map_err(|_| StoreError::impossible("the plan of a blanket"))?;
        let zone = blanket.zone.parse();
        let zone = zone.map_err(|_| StoreError::impossible("the zone of a blanket"))?;
        let hours = Hours { zone, ask_at: blanket.ask_at, day_turns_at: blanket.day_turns_at };
        let (tiers, retired) = self.tiers()?;
        let scale = Scale::kept(tiers, TierId(blanket.default_tier))
            .and_then(|scale| scale.with_retired(retired))
            .map_err(|_| StoreError::impossible("the scale of a blanket"))?;
        let joining = YarnId(blanket.joining_yarn);
        Ok(Beginning { plan, fabric, scale, yarns, joining, hours })
    }

    /// The tiers, and those that were removed.
    fn tiers(&self) -> Result<(Vec<Tier>, Vec<Tier>)> {
        let mut rows: Vec<(i64, u8, String, u8, u8)> = read(&self.tiers, "a tier")?;
        rows.sort_by_key(|(position, ..)| *position);
        let (mut tiers, mut retired) = (Vec::new(), Vec::new());
        for (_, id, label, yarn, removed) in rows {
            let label = Label::kept(label);
            let tier = Tier { id: TierId(id), label, yarn: YarnId(yarn) };
            if removed == 1 { retired.push(tier) } else { tiers.push(tier) }
        }
        Ok((tiers, retired))
    }

    /// The yarns, and the ids of those that were removed.
    fn yarns(&self) -> Result<(Vec<Yarn>, Vec<YarnId>)> {
        let mut rows: Vec<YarnRow> = read(&self.yarns, "a yarn")?;
        rows.sort_by_key(|(position, ..)| *position);
        let (mut yarns, mut gone) = (Vec::new(), Vec::new());
        for (_, id, name, rgb, after, removed) in rows {
            let id = YarnId(id);
            if removed == 1 {
                gone.push(id);
                continue;
            }
            let name = Label::kept(name);
            yarns.push(Yarn { id, name, rgb: read_rgb(&rgb)?, after: after.map(YarnId) });
        }
        Ok((yarns, gone))
    }

    /// Answers before what is put off: an answer ends that.
    fn fill_days(&self, book: &mut Book) -> Result<()> {
        let days: Vec<(Date, u8, &str, i64)> = read(&self.days, "a day")?;
        for (Date(day), tier, how, at) in days {
            let (how, at) = (read_how(how)?, instant(at)?);
            book.apply(&Change::Answered { day, tier: TierId(tier), how, at });
        }
        let put_off: Vec<(Date, Option<NaiveDate>)> = read(&self.put_off, "a day")?;
        for (Date(day), until) in put_off {
            book.apply(&Change::PutOff { day, until });
        }
        if let Some(asked) = &self.asked {
            let (day, at): (NaiveDate, i64) = read(asked, "a question")?;
            book.apply(&Change::Asked { day, at: instant(at)? });
        }
        let mut notes: Vec<(Date, i64, i64, String)> = read(&self.notes, "a note")?;
        notes.sort_by_key(|(Date(day), position, ..)| (*day, *position));
        for (Date(day), _, note, text) in notes {
            let text = NoteText::kept(text);
            book.apply(&Change::Noted { day, note: Note { id: NoteId(note), text } });
        }
        Ok(())
    }

    fn fill_rows(&self, book: &mut Book) -> Result<()> {
        let mut worked: Vec<(u16, u16, u8, i64)> = read(&self.worked, "a worked row")?;
        worked.sort_by_key(|(block, row, ..)| (*block, *row));
        for (block, _, yarn, at) in worked {
            let (block, yarns) = (BlockNumber(block), vec![YarnId(yarn)]);
            book.apply(&Change::Worked { block, yarns, at: instant(at)? });
        }
        let finished: Vec<(u16, &str)> = read(&self.finished, "a finished block")?;
        for (block, finish) in finished {
            let (block, finish) = (BlockNumber(block), read_finish(finish)?);
            book.apply(&Change::Finished { block, finish, done: true });
        }
        let mut stock: Vec<StockRow<'_>> = read(&self.stock, "an entry of a yarn")?;
        stock.sort_by_key(|(yarn, number, ..)| (*yarn, *number));
        for (yarn, _, kind, tenths, rows, at, detail) in stock {
            let kind = entries::read(kind, tenths, detail)?;
            let entry = Entry { kind, rows, at: instant(at)? };
            book.apply(&Change::Stocked { yarn: YarnId(yarn), entry });
        }
        Ok(())
    }

    fn fill_tier_lines(&self, book: &mut Book) -> Result<()> {
        let mut lines: Vec<(i64, u8, String, i64)> = read(&self.tier_lines, "a line about a tier")?;
        lines.sort_by_key(|(id, ..)| *id);
        for (_, tier, line, at) in lines {
            let (tier, at) = (TierId(tier), instant(at)?);
            let line = (!line.is_empty()).then(|| TierLine::kept(line));
            book.apply(&Change::Described { tier, line, at });
        }
        Ok(())
    }

    fn fill_people(&self, book: &mut Book) -> Result<()> {
        let people: Vec<(i64, String)> = read(&self.people, "a person")?;
        for (id, line) in people {
            let line = PersonLine::kept(line);
            book.apply(&Change::PersonKept { id: PersonId(id), line });
        }
        Ok(())
    }
}

fn remind(blanket: &Blanket, book: &mut Book) -> Result<()> {
    book.apply(&Change::RemindersSet(Reminders {
        nudges: read_nudges(blanket.nudges)?,
        nudge_at: blanket.nudge_at,
        recap_on: blanket.recap_on.map(read_weekday).transpose()?,
        recap_at: blanket.recap_at,
        recap_whole: blanket.recap_whole == 1,
        paused: blanket.paused == 1,
    }));
    if let Some(on) = blanket.nudged {
        book.apply(&Change::Nudged { on });
    }
    if let Some(on) = blanket.recapped {
        book.apply(&Change::Recapped { on });
    }
    Ok(())
}

/// Position, id, name, colour, the yarn it comes after, and whether it was removed.
type YarnRow = (i64, u8, String, String, Option<u8>, u8);

/// Yarn, number, kind, tenths of a gram, rows then, instant, and what else there is to it.
type StockRow<'a> = (u8, i64, &'a str, u32, u32, i64, Option<Detail>);

/// `what` names the rows, never what they hold.
fn read<'a, T: Deserialize<'a>>(json: &'a str, what: &'static str) -> Result<T> {
    serde_json::from_str(json).map_err(|_| StoreError::impossible(what))
}
