-- The maker's own people and numbers, a line each, in the order of their ids.
CREATE TABLE people (
    blanket INTEGER NOT NULL REFERENCES blankets (id) ON DELETE CASCADE,
    id INTEGER NOT NULL,
    line TEXT NOT NULL,
    PRIMARY KEY (blanket, id)
) STRICT, WITHOUT ROWID;
