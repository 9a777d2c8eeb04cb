-- Instants are whole milliseconds UTC; dates are ISO 8601 text of the maker's civil calendar.

-- "Dusk", so that no other program's database is taken for one of ours.
PRAGMA application_id = 0x4475736B;

-- Ids of makers and of waiting messages are never reused: a late settlement or commit for an
-- erased maker must find nothing, rather than somebody else.
CREATE TABLE makers (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    user_id INTEGER NOT NULL UNIQUE,
    chat_id INTEGER NOT NULL,
    owner INTEGER NOT NULL CHECK (owner IN (0, 1)),
    reachable INTEGER NOT NULL DEFAULT 1 CHECK (reachable IN (0, 1)),
    talk TEXT NOT NULL,
    revision INTEGER NOT NULL DEFAULT 0,
    wakes_at INTEGER,
    joined_at INTEGER NOT NULL,
    -- The blanket that is logged now.
    blanket INTEGER UNIQUE REFERENCES blankets (id) ON DELETE SET NULL
) STRICT;

CREATE INDEX makers_by_wake ON makers (wakes_at) WHERE reachable = 1;
CREATE INDEX makers_owning ON makers (owner) WHERE owner = 1;

CREATE TABLE blankets (
    id INTEGER PRIMARY KEY,
    maker INTEGER NOT NULL REFERENCES makers (id) ON DELETE CASCADE,
    first_day TEXT NOT NULL,
    last_day TEXT NOT NULL,
    rows_per_block INTEGER NOT NULL,
    first_side TEXT NOT NULL CHECK (first_side IN ('right', 'wrong')),
    default_tier INTEGER NOT NULL,
    joining_yarn INTEGER NOT NULL,
    zone TEXT NOT NULL,
    ask_at TEXT NOT NULL,
    day_turns_at TEXT NOT NULL,
    CHECK (first_day <= last_day),
    FOREIGN KEY (id, default_tier) REFERENCES tiers (blanket, id) DEFERRABLE INITIALLY DEFERRED,
    FOREIGN KEY (id, joining_yarn) REFERENCES yarns (blanket, id) DEFERRABLE INITIALLY DEFERRED
) STRICT;

CREATE INDEX blankets_by_maker ON blankets (maker);

CREATE TABLE yarns (
    blanket INTEGER NOT NULL REFERENCES blankets (id) ON DELETE CASCADE,
    id INTEGER NOT NULL,
    position INTEGER NOT NULL,
    name TEXT NOT NULL,
    rgb TEXT NOT NULL CHECK (rgb GLOB '#[0-9A-F][0-9A-F][0-9A-F][0-9A-F][0-9A-F][0-9A-F]'),
    PRIMARY KEY (blanket, id)
) STRICT, WITHOUT ROWID;

CREATE TABLE tiers (
    blanket INTEGER NOT NULL REFERENCES blankets (id) ON DELETE CASCADE,
    id INTEGER NOT NULL,
    position INTEGER NOT NULL,
    label TEXT NOT NULL,
    yarn INTEGER NOT NULL,
    PRIMARY KEY (blanket, id),
    FOREIGN KEY (blanket, yarn) REFERENCES yarns (blanket, id)
) STRICT, WITHOUT ROWID;

-- The tier each day has now.
CREATE TABLE days (
    blanket INTEGER NOT NULL REFERENCES blankets (id) ON DELETE CASCADE,
    day TEXT NOT NULL,
    tier INTEGER NOT NULL,
    how TEXT NOT NULL CHECK (how IN ('answered', 'for now', 'assumed')),
    at INTEGER NOT NULL,
    PRIMARY KEY (blanket, day),
    FOREIGN KEY (blanket, tier) REFERENCES tiers (blanket, id)
) STRICT, WITHOUT ROWID;

-- Every answer ever, the newest last.
CREATE TABLE history (
    id INTEGER PRIMARY KEY,
    blanket INTEGER NOT NULL REFERENCES blankets (id) ON DELETE CASCADE,
    day TEXT NOT NULL,
    tier INTEGER NOT NULL,
    how TEXT NOT NULL,
    at INTEGER NOT NULL
) STRICT;

CREATE INDEX history_by_day ON history (blanket, day);

-- One question a day: the key makes asking repeat-safe. The number says which was asked last,
-- whatever the clock did.
CREATE TABLE asked (
    blanket INTEGER NOT NULL REFERENCES blankets (id) ON DELETE CASCADE,
    day TEXT NOT NULL,
    number INTEGER NOT NULL,
    at INTEGER NOT NULL,
    PRIMARY KEY (blanket, day)
) STRICT, WITHOUT ROWID;

CREATE TABLE worked (
    blanket INTEGER NOT NULL REFERENCES blankets (id) ON DELETE CASCADE,
    block INTEGER NOT NULL,
    row INTEGER NOT NULL CHECK (row >= 1),
    yarn INTEGER NOT NULL,
    at INTEGER NOT NULL,
    PRIMARY KEY (blanket, block, row),
    FOREIGN KEY (blanket, yarn) REFERENCES yarns (blanket, id)
) STRICT, WITHOUT ROWID;

-- What is to be said, kept before it is sent. An edit first changes the tapped message, then the
-- one on record for its slot; `changed` says that the first is done.
CREATE TABLE outbox (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    maker INTEGER NOT NULL REFERENCES makers (id) ON DELETE CASCADE,
    lane TEXT NOT NULL CHECK (lane IN ('reply', 'unasked')),
    state TEXT NOT NULL DEFAULT 'queued' CHECK (state IN ('queued', 'sending')),
    kind TEXT NOT NULL CHECK (kind IN ('send', 'edit')),
    slot TEXT,
    tapped INTEGER,
    changed INTEGER NOT NULL DEFAULT 0 CHECK (changed IN (0, 1)),
    params TEXT NOT NULL,
    until INTEGER,
    resends INTEGER NOT NULL DEFAULT 0,
    queued_at INTEGER NOT NULL
) STRICT;

CREATE INDEX outbox_by_maker ON outbox (maker);
CREATE INDEX outbox_by_state ON outbox (state, lane);
CREATE INDEX outbox_by_until ON outbox (until) WHERE until IS NOT NULL;

-- The message that stands for a slot in a maker's chat.
CREATE TABLE slots (
    maker INTEGER NOT NULL REFERENCES makers (id) ON DELETE CASCADE,
    slot TEXT NOT NULL,
    message_id INTEGER NOT NULL,
    PRIMARY KEY (maker, slot)
) STRICT, WITHOUT ROWID;

CREATE TABLE seen_updates (
    update_id INTEGER PRIMARY KEY,
    at INTEGER NOT NULL
) STRICT;

CREATE INDEX seen_updates_by_age ON seen_updates (at);

-- Updates set aside. Of people who are not makers, only the kind of update and of error.
CREATE TABLE failed_updates (
    update_id INTEGER PRIMARY KEY,
    maker INTEGER REFERENCES makers (id) ON DELETE CASCADE,
    kind TEXT NOT NULL,
    raw TEXT,
    code TEXT NOT NULL,
    at INTEGER NOT NULL,
    CHECK (raw IS NULL OR maker IS NOT NULL)
) STRICT;

CREATE INDEX failed_updates_by_maker ON failed_updates (maker);
CREATE INDEX failed_updates_by_age ON failed_updates (at);

-- Of a code only its SHA-256 is kept.
CREATE TABLE invitations (
    hash BLOB PRIMARY KEY NOT NULL,
    owner INTEGER NOT NULL CHECK (owner IN (0, 1)),
    expires_at INTEGER NOT NULL,
    used_at INTEGER
) STRICT, WITHOUT ROWID;

CREATE INDEX invitations_by_age ON invitations (expires_at);

CREATE TABLE meta (
    key TEXT PRIMARY KEY NOT NULL,
    value TEXT NOT NULL
) STRICT, WITHOUT ROWID;
