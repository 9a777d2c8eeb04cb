-- The size of the paper, and where row 1 stands on it: read and written whole. What is not in it is
-- as the program begins.
ALTER TABLE blankets ADD COLUMN paper TEXT NOT NULL DEFAULT '{}' CHECK (json_valid(paper));
