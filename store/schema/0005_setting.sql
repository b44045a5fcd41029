-- How the household wants its pages: units, clock, week. One row a choice.
CREATE TABLE setting (
	name  TEXT PRIMARY KEY CHECK (length(name) BETWEEN 1 AND 40), -- such as units
	value TEXT NOT NULL CHECK (length(value) <= 200)              -- such as us; the empty text is a choice too
) STRICT;
