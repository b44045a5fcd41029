-- Plans the household accepted.
CREATE TABLE plan (
	name     TEXT    PRIMARY KEY, -- as the household calls it
	accepted INTEGER NOT NULL,    -- when, ns since 1970-01-01 UTC
	body     TEXT    NOT NULL     -- the plan as JSON without blanks
) STRICT;
