-- Schema version 1. Column names are the components of the records of org.aftercast.study.
-- Instants are UTC text to the millisecond (2026-06-01T10:00:00.000Z); enums are words; maps are JSON.

CREATE TABLE "studyInfo" (
  "id" TEXT NOT NULL PRIMARY KEY CHECK ("id" = 'study'),
  "title" TEXT NOT NULL, "species" TEXT, "site" TEXT, "timeZone" TEXT NOT NULL,
  "latDeg" REAL, "lonDeg" REAL, "bottomRest" TEXT NOT NULL,
  "catchDeathH" REAL NOT NULL, "catchDeathRule" TEXT, "horizonH" REAL NOT NULL,
  "frequencySpacingKHz" REAL NOT NULL, "packageMassLimitPercent" REAL NOT NULL,
  "origin" TEXT NOT NULL, "notes" TEXT
) STRICT;

CREATE TABLE "animal" (
  "name" TEXT NOT NULL COLLATE NOCASE PRIMARY KEY,
  "species" TEXT, "group" TEXT, "notes" TEXT
) STRICT;

CREATE TABLE "package" (
  "serial" TEXT NOT NULL COLLATE NOCASE PRIMARY KEY,
  "frequencyMHz" REAL, "pingsPerMin" REAL, "batteryH" REAL, "releaseMechanism" TEXT,
  "packageMassG" REAL, "buoyancyG" REAL, "packageNotes" TEXT
) STRICT;

CREATE TABLE "capture" (
  "animal" TEXT NOT NULL COLLATE NOCASE PRIMARY KEY REFERENCES "animal" ("name"),
  "trip" TEXT, "vessel" TEXT, "anglerCode" TEXT, "handlerCode" TEXT, "gear" TEXT,
  "hookType" TEXT, "hookLocation" TEXT, "hookLeft" TEXT, "bleeding" TEXT, "hookedUtc" TEXT,
  "fightMin" REAL, "airExposureS" REAL, "captureDepthM" REAL, "barotrauma" TEXT,
  "lengthM" REAL, "massKg" REAL, "sex" TEXT,
  "reflexesTested" INTEGER, "reflexesMissing" INTEGER, "injuryScore" INTEGER,
  "waterTempC" REAL, "captureLatDeg" REAL, "captureLonDeg" REAL, "captureNotes" TEXT
) STRICT;

CREATE TABLE "release" (
  "animal" TEXT NOT NULL COLLATE NOCASE PRIMARY KEY REFERENCES "animal" ("name"),
  "packageSerial" TEXT COLLATE NOCASE REFERENCES "package" ("serial"),
  "releasedUtc" TEXT, "releaseLatDeg" REAL, "releaseLonDeg" REAL, "siteDepthM" REAL, "releaseState" TEXT,
  "plannedDetachmentUtc" TEXT
) STRICT;

CREATE TABLE "detachment" (
  "animal" TEXT NOT NULL COLLATE NOCASE PRIMARY KEY REFERENCES "animal" ("name"),
  "detachedUtc" TEXT NOT NULL, "source" TEXT NOT NULL, "earliestUtc" TEXT, "latestUtc" TEXT
) STRICT;

CREATE TABLE "searchOutcome" (
  "animal" TEXT NOT NULL COLLATE NOCASE REFERENCES "animal" ("name"),
  "number" INTEGER NOT NULL,
  "startedUtc" TEXT, "endedUtc" TEXT, "outcome" TEXT NOT NULL,
  "foundLatDeg" REAL, "foundLonDeg" REAL, "packageCondition" TEXT, "searchNotes" TEXT,
  PRIMARY KEY ("animal", "number")
) STRICT;

CREATE TABLE "checklist" (
  "animal" TEXT NOT NULL COLLATE NOCASE PRIMARY KEY REFERENCES "animal" ("name"),
  "stillPoses" TEXT NOT NULL, "tap1Utc" TEXT, "tap2Utc" TEXT, "tap3Utc" TEXT,
  "beaconHeardUtc" TEXT, "stopRule" TEXT NOT NULL, "permitCode" TEXT, "checklistNotes" TEXT
) STRICT;

CREATE TABLE "photo" (
  "sha256" TEXT NOT NULL PRIMARY KEY,
  "animal" TEXT NOT NULL COLLATE NOCASE REFERENCES "animal" ("name"),
  "originalName" TEXT NOT NULL, "storedName" TEXT NOT NULL UNIQUE, "sizeBytes" INTEGER NOT NULL,
  "takenUtc" TEXT, "caption" TEXT
) STRICT;

CREATE TABLE "seen" (
  "animal" TEXT NOT NULL COLLATE NOCASE REFERENCES "animal" ("name"),
  "number" INTEGER NOT NULL,
  "what" TEXT NOT NULL, "seenUtc" TEXT, "seenNote" TEXT,
  "photoSha256" TEXT REFERENCES "photo" ("sha256"),
  PRIMARY KEY ("animal", "number")
) STRICT;

CREATE TABLE "recording" (
  "sha256" TEXT NOT NULL PRIMARY KEY,
  "animal" TEXT NOT NULL COLLATE NOCASE REFERENCES "animal" ("name"),
  "parquetName" TEXT NOT NULL UNIQUE, "parquetSha256" TEXT NOT NULL,
  "sampleCount" INTEGER NOT NULL, "sampleRateHz" REAL NOT NULL, "startUtc" TEXT,
  "layoutJson" TEXT NOT NULL, "loadedUtc" TEXT NOT NULL, "softwareVersion" TEXT NOT NULL
) STRICT;

CREATE TABLE "rawFile" (
  "sha256" TEXT NOT NULL PRIMARY KEY,
  "recordingSha256" TEXT NOT NULL REFERENCES "recording" ("sha256"),
  "ordinal" INTEGER NOT NULL, "originalName" TEXT NOT NULL,
  "storedName" TEXT NOT NULL UNIQUE, "sizeBytes" INTEGER NOT NULL,
  UNIQUE ("recordingSha256", "ordinal")
) STRICT;

CREATE TABLE "mark" (
  "recordingSha256" TEXT NOT NULL REFERENCES "recording" ("sha256"),
  "number" INTEGER NOT NULL,
  "startS" REAL NOT NULL, "endS" REAL NOT NULL, "kind" TEXT, "remark" TEXT,
  PRIMARY KEY ("recordingSha256", "number")
) STRICT;

CREATE TABLE "reading" (
  "key" TEXT NOT NULL PRIMARY KEY,
  "recordingSha256" TEXT NOT NULL REFERENCES "recording" ("sha256"),
  "settingsSha256" TEXT NOT NULL, "softwareVersion" TEXT NOT NULL,
  "folder" TEXT NOT NULL UNIQUE, "files" TEXT NOT NULL, "readUtc" TEXT NOT NULL,
  "animalFate" TEXT, "recordEnd" TEXT, "probabilities" TEXT, "atRiskH" REAL
) STRICT;

CREATE TABLE "verdict" (
  "animal" TEXT NOT NULL COLLATE NOCASE REFERENCES "animal" ("name"),
  "role" TEXT NOT NULL, "number" INTEGER NOT NULL, "reader" TEXT NOT NULL,
  "readingKey" TEXT NOT NULL REFERENCES "reading" ("key"),
  "animalFate" TEXT NOT NULL, "recordEnd" TEXT NOT NULL, "changeUtc" TEXT,
  "reason" TEXT NOT NULL, "lockedUtc" TEXT NOT NULL,
  PRIMARY KEY ("animal", "role", "number")
) STRICT;

CREATE TRIGGER "verdictIsLockedAgainstChange" BEFORE UPDATE ON "verdict"
BEGIN SELECT RAISE(ABORT, 'a verdict is locked: it cannot be changed'); END;
CREATE TRIGGER "verdictIsLockedAgainstRemoval" BEFORE DELETE ON "verdict"
BEGIN SELECT RAISE(ABORT, 'a verdict is locked: it cannot be removed'); END;

CREATE TABLE "history" (
  "number" INTEGER NOT NULL PRIMARY KEY,
  "atUtc" TEXT NOT NULL, "who" TEXT NOT NULL, "what" TEXT NOT NULL,
  "table" TEXT NOT NULL, "key" TEXT NOT NULL, "before" TEXT, "after" TEXT,
  "chainSha256" TEXT NOT NULL
) STRICT;

CREATE TRIGGER "historyIsNeverChanged" BEFORE UPDATE ON "history"
BEGIN SELECT RAISE(ABORT, 'the history is append-only: an entry cannot be changed'); END;
CREATE TRIGGER "historyIsNeverShortened" BEFORE DELETE ON "history"
BEGIN SELECT RAISE(ABORT, 'the history is append-only: an entry cannot be removed'); END;
CREATE TRIGGER "verdictIsNeverReplaced" BEFORE INSERT ON "verdict"
WHEN EXISTS (SELECT 1 FROM "verdict" v
  WHERE v."animal" = NEW."animal" AND v."role" = NEW."role" AND v."number" = NEW."number")
BEGIN SELECT RAISE(ABORT, 'a verdict is locked: it cannot be replaced'); END;
CREATE TRIGGER "historyOnlyGrows" BEFORE INSERT ON "history"
WHEN NEW."number" IS NOT (SELECT coalesce(max(h."number"), 0) + 1 FROM "history" h)
BEGIN SELECT RAISE(ABORT, 'the history is append-only: entries are numbered without gaps'); END;
