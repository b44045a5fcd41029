-- Photos that belong to entries. Rows are never changed or deleted.
CREATE TABLE photo (
	seq   INTEGER PRIMARY KEY,                                           -- order of arrival
	entry BLOB NOT NULL REFERENCES entry (id),                           -- the entry it shows
	media TEXT NOT NULL CHECK (media IN ('image/jpeg', 'image/png')),    -- as found in its first bytes
	sum   BLOB NOT NULL CHECK (length(sum) = 32),                        -- SHA-256 of bytes
	bytes BLOB NOT NULL CHECK (length(bytes) BETWEEN 1 AND 4194304),     -- the file as it was
	UNIQUE (entry, sum)
) STRICT;
CREATE INDEX photo_sum ON photo (sum);
CREATE TRIGGER photo_kept BEFORE UPDATE ON photo BEGIN SELECT raise(ABORT, 'photos are never changed'); END;
CREATE TRIGGER photo_stays BEFORE DELETE ON photo BEGIN SELECT raise(ABORT, 'photos are never deleted'); END;
