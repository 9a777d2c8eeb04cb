-- Pictures the platform has, by what is in them: the same one goes again without its bytes.
CREATE TABLE sent_files (
    maker INTEGER NOT NULL REFERENCES makers (id) ON DELETE CASCADE,
    -- SHA-256 of how it goes and of its bytes.
    hash BLOB NOT NULL CHECK (length(hash) = 32),
    file_id TEXT NOT NULL,
    at INTEGER NOT NULL,
    PRIMARY KEY (maker, hash)
) STRICT, WITHOUT ROWID;
