-- How a blanket is cut into blocks, and what it is worked in, each as one JSON object, since both
-- are only ever read and written whole.
ALTER TABLE blankets ADD COLUMN pieces TEXT NOT NULL DEFAULT '' CHECK (pieces = '' OR json_valid(pieces));
ALTER TABLE blankets ADD COLUMN fabric TEXT NOT NULL DEFAULT '' CHECK (fabric = '' OR json_valid(fabric));

UPDATE blankets SET
    pieces = json_object(
        'cut', 'months', 'rows', rows_per_block, 'fillers', 'after', 'short_ends', json('false')
    ),
    fabric = json_object(
        'stitch', 'single_crochet', 'width', NULL, 'turned', json('true'),
        'first_side', first_side, 'carry', 'never', 'terms', 'us', 'left_handed', json('false'),
        'swatch', NULL, 'columns', NULL, 'border_rounds', 0
    );

ALTER TABLE blankets DROP COLUMN rows_per_block;
ALTER TABLE blankets DROP COLUMN first_side;

-- What was done with blocks whose rows are all worked.
CREATE TABLE finished (
    blanket INTEGER NOT NULL REFERENCES blankets (id) ON DELETE CASCADE,
    block INTEGER NOT NULL CHECK (block >= 1),
    finish TEXT NOT NULL CHECK (finish IN ('woven', 'joined')),
    PRIMARY KEY (blanket, block, finish)
) STRICT, WITHOUT ROWID;
