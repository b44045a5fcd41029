-- The weather of the place, one row a day; NULL where nothing was measured.
CREATE TABLE weather (
	day  INTEGER PRIMARY KEY, -- local day, days since 1970-01-01
	rain REAL,                -- mm
	tmin REAL,                -- °C
	tmax REAL                 -- °C
) STRICT;
