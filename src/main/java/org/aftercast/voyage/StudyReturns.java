package org.aftercast.voyage;

import java.util.HashMap;
import java.util.Locale;
import java.util.Map;
import org.aftercast.estimate.PackageReturns;
import org.aftercast.study.ReadingRow;
import org.aftercast.study.RecordingRow;
import org.aftercast.study.Release;
import org.aftercast.study.SearchOutcome;
import org.aftercast.study.StudyException;
import org.aftercast.study.StudyStore;
import org.jspecify.annotations.Nullable;

/** How the packages of a study's released animals came back, and what the searches took. */
final class StudyReturns {

    private StudyReturns() {}

    /** For the table of who was tagged. */
    static PackageReturns of(StudyStore store) throws StudyException {
        Map<SearchOutcome.Outcome, Integer> count = new HashMap<>();
        int notRead = 0;
        Map<String, SearchOutcome> searches = StudyOutcomes.decisiveSearches(store);
        Map<String, RecordingRow> recordings = StudyOutcomes.latestRecordings(store);
        Map<String, ReadingRow> readings = StudyOutcomes.latestReadings(store);
        for (Release release : store.all(Release.class)) {
            if (release.releasedUtc() == null || release.packageSerial() == null) {
                continue;
            }
            String key = StudyOutcomes.key(release.animal());
            SearchOutcome search = searches.get(key);
            RecordingRow recording = recordings.get(key);
            boolean inHand =
                    recording != null || (search != null && search.outcome().inHand());
            if (search != null
                    && search.outcome().inHand() == inHand) { // abandoned, and came back all the same: how is not known
                count.merge(search.outcome(), 1, Integer::sum);
            }
            if (inHand && (recording == null || !readings.containsKey(recording.sha256()))) {
                notRead++;
            }
        }
        return new PackageReturns(
                count.getOrDefault(SearchOutcome.Outcome.RETRIEVED, 0),
                count.getOrDefault(SearchOutcome.Outcome.STRANDED, 0),
                count.getOrDefault(SearchOutcome.Outcome.HANDED_IN, 0),
                count.getOrDefault(SearchOutcome.Outcome.ABANDONED, 0),
                notRead);
    }

    /** What all searches on record took, one sentence; null when no hours or miles were noted. */
    static @Nullable String cost(StudyStore store) throws StudyException {
        double hours = 0;
        double miles = 0;
        int searches = 0;
        for (SearchOutcome search : store.all(SearchOutcome.class)) {
            Double h = search.searchH();
            Double nm = search.searchNm();
            if (h != null || nm != null) {
                searches++;
                hours += h == null ? 0 : h;
                miles += nm == null ? 0 : nm;
            }
        }
        return searches == 0
                ? null
                : String.format(
                        Locale.ROOT,
                        "%s took %.1f h at sea and %.1f nautical miles in all.",
                        searches == 1 ? "One search on record" : searches + " searches on record",
                        hours,
                        miles);
    }
}
