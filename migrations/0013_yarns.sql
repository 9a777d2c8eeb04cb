-- Another yarn can be worked on from a day on: it names the one it comes after, whose worked rows
-- stay in that. A yarn that was taken back leaves its id, which is not given again.
ALTER TABLE yarns ADD COLUMN comes_after INTEGER;
ALTER TABLE yarns ADD COLUMN removed INTEGER NOT NULL DEFAULT 0 CHECK (removed IN (0, 1));
