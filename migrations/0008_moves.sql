-- An invitation that moves the book of a maker to the account of whoever uses it, rather than
-- letting in somebody new. It goes with the maker.
ALTER TABLE invitations ADD COLUMN moves INTEGER REFERENCES makers (id) ON DELETE CASCADE;

CREATE INDEX invitations_by_moves ON invitations (moves);
