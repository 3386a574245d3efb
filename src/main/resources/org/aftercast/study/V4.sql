-- Schema version 4: what was planned, control animals, and the fishery that the study stands for.

CREATE TABLE "plan" (
  "number" INTEGER NOT NULL PRIMARY KEY,
  "share" REAL NOT NULL, "halfWidth" REAL, "animals" INTEGER, "otherShare" REAL,
  "power" REAL NOT NULL, "back" REAL NOT NULL, "shed" REAL NOT NULL, "assurance" REAL NOT NULL,
  "perCluster" REAL NOT NULL, "likeness" REAL NOT NULL,
  "horizonH" REAL NOT NULL, "halfTimeH" REAL,
  "interval" TEXT NOT NULL, "level" REAL NOT NULL
) STRICT;

CREATE TABLE "controlAnimals" (
  "id" TEXT NOT NULL PRIMARY KEY,
  "animals" INTEGER NOT NULL, "died" INTEGER NOT NULL, "controlNotes" TEXT
) STRICT;

CREATE TABLE "fishery" (
  "id" TEXT NOT NULL PRIMARY KEY,
  "groupColumn" TEXT, "groupShares" TEXT NOT NULL, "sharesFrom" INTEGER NOT NULL,
  "released" REAL, "releasedLow" REAL, "releasedHigh" REAL, "releasedWhat" TEXT
) STRICT;
