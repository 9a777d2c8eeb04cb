-- What a book holds besides answers and rows: put-off days, notes, yarn, reminders.

-- What the bot may send of itself, and the local dates it last did.
ALTER TABLE blankets ADD COLUMN nudges TEXT NOT NULL DEFAULT 'not asked'
    CHECK (nudges IN ('not asked', 'off', 'on'));
ALTER TABLE blankets ADD COLUMN nudge_at TEXT NOT NULL DEFAULT '10:00:00';
ALTER TABLE blankets ADD COLUMN recap_on TEXT DEFAULT 'Sun'
    CHECK (recap_on IN ('Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat', 'Sun'));
ALTER TABLE blankets ADD COLUMN recap_at TEXT NOT NULL DEFAULT '18:00:00';
ALTER TABLE blankets ADD COLUMN recap_whole INTEGER NOT NULL DEFAULT 0
    CHECK (recap_whole IN (0, 1));
ALTER TABLE blankets ADD COLUMN paused INTEGER NOT NULL DEFAULT 0 CHECK (paused IN (0, 1));
ALTER TABLE blankets ADD COLUMN nudged TEXT;
ALTER TABLE blankets ADD COLUMN recapped TEXT;

-- Open days nothing is said about before a date, or at all where that is null.
CREATE TABLE put_off (
    blanket INTEGER NOT NULL REFERENCES blankets (id) ON DELETE CASCADE,
    day TEXT NOT NULL,
    until TEXT,
    PRIMARY KEY (blanket, day)
) STRICT, WITHOUT ROWID;

-- The position is a note's place on its day, whatever becomes of its words.
CREATE TABLE notes (
    blanket INTEGER NOT NULL REFERENCES blankets (id) ON DELETE CASCADE,
    day TEXT NOT NULL,
    position INTEGER NOT NULL,
    note INTEGER NOT NULL,
    text TEXT NOT NULL,
    PRIMARY KEY (blanket, day, position)
) STRICT, WITHOUT ROWID;

CREATE UNIQUE INDEX notes_by_note ON notes (blanket, note, day);

-- What happened to the yarn of a colour, in the order of its numbers, whatever the clock did.
CREATE TABLE stock (
    blanket INTEGER NOT NULL REFERENCES blankets (id) ON DELETE CASCADE,
    yarn INTEGER NOT NULL,
    number INTEGER NOT NULL,
    kind TEXT NOT NULL CHECK (kind IN ('ball', 'weighing')),
    tenths INTEGER NOT NULL CHECK (tenths BETWEEN 0 AND 4294967295),
    rows INTEGER NOT NULL CHECK (rows BETWEEN 0 AND 4294967295),
    at INTEGER NOT NULL,
    PRIMARY KEY (blanket, yarn, number),
    FOREIGN KEY (blanket, yarn) REFERENCES yarns (blanket, id)
) STRICT, WITHOUT ROWID;

-- Every answer ever and that it was taken back, the newest last. SQLite cannot make a column
-- nullable in place.
CREATE TABLE history_with_reopened (
    id INTEGER PRIMARY KEY,
    blanket INTEGER NOT NULL REFERENCES blankets (id) ON DELETE CASCADE,
    day TEXT NOT NULL,
    tier INTEGER,
    how TEXT NOT NULL CHECK (how IN ('answered', 'for now', 'assumed', 'reopened')),
    at INTEGER NOT NULL,
    CHECK ((tier IS NULL) = (how = 'reopened'))
) STRICT;

INSERT INTO history_with_reopened (id, blanket, day, tier, how, at)
SELECT id, blanket, day, tier, how, at FROM history;

DROP TABLE history;
ALTER TABLE history_with_reopened RENAME TO history;

CREATE INDEX history_by_day ON history (blanket, day);

-- Which slot does a message stand for?
CREATE INDEX slots_by_message ON slots (maker, message_id);
