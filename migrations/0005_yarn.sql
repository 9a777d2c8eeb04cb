-- More happens to yarn than balls by their label and weighings: corrections, and some of a colour
-- weighed before and after rows. What only some entries have is one JSON object: of a ball its
-- count, length, lot and weight on the scale; of a try the weight after it and its rows. SQLite
-- cannot change a check in place.
CREATE TABLE stock_with_details (
    blanket INTEGER NOT NULL REFERENCES blankets (id) ON DELETE CASCADE,
    yarn INTEGER NOT NULL,
    number INTEGER NOT NULL,
    kind TEXT NOT NULL CHECK (kind IN ('ball', 'weighing', 'correction', 'tried')),
    tenths INTEGER NOT NULL CHECK (tenths BETWEEN 0 AND 4294967295),
    rows INTEGER NOT NULL CHECK (rows BETWEEN 0 AND 4294967295),
    at INTEGER NOT NULL,
    detail TEXT CHECK (detail IS NULL OR json_valid(detail)),
    PRIMARY KEY (blanket, yarn, number),
    FOREIGN KEY (blanket, yarn) REFERENCES yarns (blanket, id),
    CHECK (kind <> 'tried' OR detail IS NOT NULL)
) STRICT, WITHOUT ROWID;

INSERT INTO stock_with_details (blanket, yarn, number, kind, tenths, rows, at)
SELECT blanket, yarn, number, kind, tenths, rows, at FROM stock;

DROP TABLE stock;
ALTER TABLE stock_with_details RENAME TO stock;

-- Units, the scale, how sure a purchase is to be, joins, the ball, and how common each tier is by
-- the maker's guess: read and written whole. What is not in it is as the program begins.
ALTER TABLE blankets ADD COLUMN yarn_settings TEXT NOT NULL DEFAULT '{}'
    CHECK (json_valid(yarn_settings));
