-- A maker's own scale. A removed tier stays, since past answers and lines about it name its id.
ALTER TABLE tiers ADD COLUMN removed INTEGER NOT NULL DEFAULT 0 CHECK (removed IN (0, 1));

-- The maker's own question; null for the usual one.
ALTER TABLE blankets ADD COLUMN question TEXT;
