package org.aftercast.voyage;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.aftercast.estimate.LandedCounts;
import org.aftercast.study.Capture;
import org.aftercast.study.Landing;
import org.aftercast.study.Release;
import org.aftercast.study.StudyException;
import org.aftercast.study.StudyStore;
import org.jspecify.annotations.Nullable;

/** What was landed on all trips of a study together, and whether the trips' numbers fit the captures. */
final class StudyLandings {

    /**
     * What the study's landings say.
     *
     * @param counts of all trips together; null when none is recorded, or not for every trip with a tagged animal
     * @param remark what a reader must know of them, or null
     */
    record Found(@Nullable LandedCounts counts, @Nullable String remark) {}

    private StudyLandings() {}

    static Found of(StudyStore store) throws StudyException {
        List<Landing> landings = store.all(Landing.class);
        if (landings.isEmpty()) {
            return new Found(null, null);
        }
        Map<String, Integer> tagged = taggedByTrip(store);
        List<String> without = new ArrayList<>(tagged.keySet());
        landings.forEach(l -> without.remove(StudyOutcomes.key(l.trip())));
        if (!without.isEmpty()) {
            return new Found(
                    null,
                    "What was landed is recorded for " + landings.size() + " of "
                            + (landings.size() + without.size()) + " trips; because it is missing for "
                            + String.join(
                                    ", ",
                                    without.stream()
                                            .map(t -> t.isEmpty() ? "animals without a trip" : t)
                                            .toList())
                            + ", nothing is said of deaths before the release.");
        }
        int landed = 0;
        int dead = 0;
        int withPackage = 0;
        Map<String, Integer> reasons = new TreeMap<>();
        for (Landing l : landings) {
            landed += l.landed();
            dead += l.deadAtVessel();
            withPackage += l.tagged();
            l.notTagged().forEach((reason, n) -> reasons.merge(reason, n, Integer::sum));
        }
        List<LandedCounts.NotTagged> notTagged = new ArrayList<>();
        reasons.forEach((reason, n) -> notTagged.add(new LandedCounts.NotTagged(reason, n)));
        List<String> differing = disagreements(store);
        return new Found(
                new LandedCounts(landed, dead, withPackage, notTagged),
                differing.isEmpty() ? null : String.join(" ", differing));
    }

    /** Trips whose landings give another number of tagged animals than the captures, one sentence each. */
    static List<String> disagreements(StudyStore store) throws StudyException {
        Map<String, Integer> tagged = taggedByTrip(store);
        List<String> out = new ArrayList<>();
        for (Landing l : store.all(Landing.class)) {
            int captured = tagged.getOrDefault(StudyOutcomes.key(l.trip()), 0);
            if (captured != l.tagged()) {
                out.add("The landings of trip " + l.trip() + " say that " + l.tagged()
                        + " were tagged, the captures that " + captured + " were released with a package.");
            }
        }
        return out;
    }

    /** Animals released with a package, by trip in lower case; an empty text for those without a trip. */
    private static Map<String, Integer> taggedByTrip(StudyStore store) throws StudyException {
        Map<String, String> trips = new HashMap<>();
        for (Capture capture : store.all(Capture.class)) {
            String trip = capture.trip();
            if (trip != null) {
                trips.put(StudyOutcomes.key(capture.animal()), StudyOutcomes.key(trip));
            }
        }
        Map<String, Integer> out = new TreeMap<>();
        for (Release release : store.all(Release.class)) {
            if (release.packageSerial() != null && release.releasedUtc() != null) {
                out.merge(trips.getOrDefault(StudyOutcomes.key(release.animal()), ""), 1, Integer::sum);
            }
        }
        return out;
    }
}
