-- Schema version 2: what was landed on each trip, so that those tagged can be seen against all that were caught.

CREATE TABLE "landing" (
  "trip" TEXT NOT NULL COLLATE NOCASE PRIMARY KEY,
  "landed" INTEGER NOT NULL, "deadAtVessel" INTEGER NOT NULL, "tagged" INTEGER NOT NULL,
  "notTagged" TEXT NOT NULL, "landingNotes" TEXT
) STRICT;
