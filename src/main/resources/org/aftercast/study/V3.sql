-- Schema version 3: how a search ended has five words, with the hours and miles it took. What "given-up" stood for is
-- abandoned now; rows that came from a search log get their own outcome, hours and miles back out of their notes. Both are
-- changes of records and go into the history, so they are made by the program (Version3).

ALTER TABLE "searchOutcome" ADD COLUMN "searchH" REAL;
ALTER TABLE "searchOutcome" ADD COLUMN "searchNm" REAL;
