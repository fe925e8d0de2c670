-- Schema 4: reasons that can be said in other languages.

ALTER TABLE score ADD COLUMN said TEXT NOT NULL DEFAULT ''; -- the reason with its blanks apart, JSON; '' only in English
