-- A line of the maker's own about days of a tier, every one they wrote, the newest last: an answer
-- was given with the line of its time. An empty line is one that was deleted.
CREATE TABLE tier_lines (
    id INTEGER PRIMARY KEY,
    blanket INTEGER NOT NULL REFERENCES blankets (id) ON DELETE CASCADE,
    tier INTEGER NOT NULL,
    line TEXT NOT NULL,
    at INTEGER NOT NULL,
    FOREIGN KEY (blanket, tier) REFERENCES tiers (blanket, id)
) STRICT;

CREATE INDEX tier_lines_by_tier ON tier_lines (blanket, tier);
