-- The description of the place, each text as it was written.
CREATE TABLE stead (
	seq      INTEGER PRIMARY KEY, -- order of saving
	from_day INTEGER NOT NULL,    -- first day it holds, days since 1970-01-01
	saved    INTEGER NOT NULL,    -- when it was saved, ns since 1970-01-01 UTC
	text     TEXT    NOT NULL     -- TOML, untouched
) STRICT;
CREATE INDEX stead_from ON stead (from_day, seq);

-- The book. Rows are never changed or deleted.
CREATE TABLE entry (
	seq      INTEGER PRIMARY KEY,                           -- order of arrival
	id       BLOB    NOT NULL UNIQUE CHECK (length(id) = 16), -- UUID version 7
	day      INTEGER NOT NULL,                              -- local day, days since 1970-01-01
	received INTEGER NOT NULL,                              -- arrival, ns since 1970-01-01 UTC
	sum      INTEGER NOT NULL,                              -- CRC-32C of line and received
	line     TEXT    NOT NULL                               -- canonical JSON without "received"
) STRICT;
CREATE INDEX entry_day ON entry (day);
CREATE TRIGGER entry_kept BEFORE UPDATE ON entry BEGIN SELECT raise(ABORT, 'entries are never changed'); END;
CREATE TRIGGER entry_stays BEFORE DELETE ON entry BEGIN SELECT raise(ABORT, 'entries are never deleted'); END;
