package org.aftercast.voyage;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import org.aftercast.estimate.AnimalOutcome;
import org.aftercast.fate.AnimalFate;
import org.aftercast.fate.FateProbabilities;
import org.aftercast.fate.RecordEnd;
import org.aftercast.study.Animal;
import org.aftercast.study.Capture;
import org.aftercast.study.ReadingRow;
import org.aftercast.study.RecordingRow;
import org.aftercast.study.Release;
import org.aftercast.study.SearchOutcome;
import org.aftercast.study.StudyException;
import org.aftercast.study.StudyStore;
import org.aftercast.study.Verdict;
import org.aftercast.study.Words;
import org.jspecify.annotations.Nullable;

/**
 * What became of each animal of a study, as the estimate needs it. A settled verdict goes before two readers who agree,
 * these before one reader, and one reader before the program. Two readers who disagree and have not settled make the
 * fate undecided. A package that is lost, or still at sea, is an undecided animal with no time at risk. Animals that have
 * not been released, or carried no package, are left out, as are those whose package is back in hand (retrieved, found ashore,
 * handed in) and whose recording has not been loaded or read: their outcome is not known yet, but it will be.
 */
public final class StudyOutcomes {

    /** Who decided. */
    public enum DecidedBy {
        PROGRAM,
        ONE_READER,
        TWO_READERS,
        NOBODY
    }

    /**
     * One animal.
     *
     * @param outcome for the estimate
     * @param decidedBy who decided
     * @param reading the reading behind it, or null without a recording
     * @param verdicts by role and number
     */
    public record Decided(
            AnimalOutcome outcome,
            DecidedBy decidedBy,
            @Nullable ReadingRow reading,
            List<Verdict> verdicts) {

        public Decided {
            verdicts = List.copyOf(verdicts);
        }
    }

    private record Call(
            AnimalFate fate, RecordEnd end, @Nullable Instant changeUtc, DecidedBy by) {}

    private StudyOutcomes() {}

    /** The animals that count, in the study's order. */
    public static List<Decided> of(StudyStore store) throws StudyException {
        Map<String, Release> releases = new HashMap<>();
        store.all(Release.class).forEach(row -> releases.put(key(row.animal()), row));
        Map<String, Capture> captures = new HashMap<>();
        store.all(Capture.class).forEach(row -> captures.put(key(row.animal()), row));
        Map<String, ReadingRow> readings = latestReadings(store);
        Map<String, RecordingRow> recordings = latestRecordings(store);
        Map<String, SearchOutcome> searches = decisiveSearches(store);
        Map<String, List<Verdict>> verdicts = new HashMap<>();
        store.all(Verdict.class)
                .forEach(row -> verdicts.computeIfAbsent(key(row.animal()), k -> new ArrayList<>())
                        .add(row));
        List<Decided> out = new ArrayList<>();
        for (Animal animal : store.all(Animal.class)) {
            String key = key(animal.name());
            Release release = releases.get(key);
            Instant releasedUtc = release == null ? null : release.releasedUtc();
            if (release == null || releasedUtc == null || release.packageSerial() == null) {
                continue;
            }
            RecordingRow recording = recordings.get(key);
            ReadingRow reading = recording == null ? null : readings.get(recording.sha256());
            SearchOutcome search = searches.get(key);
            boolean inHand =
                    recording != null || (search != null && search.outcome().inHand());
            if (inHand && reading == null) {
                continue;
            }
            Map<String, String> groups = groups(animal, captures.get(key));
            Map<String, Double> covariates = covariates(captures.get(key));
            List<Verdict> given = verdicts.getOrDefault(key, List.of());
            out.add(decide(animal.name(), releasedUtc, groups, covariates, reading, given));
        }
        return out;
    }

    private static Decided decide(
            String animal,
            Instant releasedUtc,
            Map<String, String> groups,
            Map<String, Double> covariates,
            @Nullable ReadingRow reading,
            List<Verdict> verdicts) {
        Double machineH = reading == null ? null : reading.atRiskH();
        Call call = call(reading, verdicts);
        Instant changed = call.changeUtc();
        boolean dead = call.fate() != AnimalFate.ALIVE_AT_END && call.fate() != AnimalFate.UNDECIDED;
        double atRiskH = machineH == null ? 0 : machineH;
        if (changed != null && (dead || call.end() == RecordEnd.SHED_EARLY)) {
            atRiskH = Math.max(0, Duration.between(releasedUtc, changed).toMillis() / 3.6e6);
        }
        FateProbabilities probabilities =
                call.by() == DecidedBy.PROGRAM && reading != null ? reading.probabilities() : null;
        AnimalOutcome outcome =
                new AnimalOutcome(animal, groups, covariates, call.fate(), call.end(), atRiskH, probabilities);
        return new Decided(outcome, call.by(), reading, verdicts);
    }

    private static Call call(@Nullable ReadingRow reading, List<Verdict> verdicts) {
        Verdict first = null;
        Verdict second = null;
        Verdict settled = null;
        for (Verdict verdict : verdicts) {
            switch (verdict.role()) {
                case FIRST -> first = verdict;
                case SECOND -> second = verdict;
                case SETTLED -> settled = settled == null || verdict.number() > settled.number() ? verdict : settled;
            }
        }
        if (settled != null) {
            return of(settled, DecidedBy.TWO_READERS);
        }
        if (first != null && second != null) {
            if (first.animalFate() == second.animalFate() && first.recordEnd() == second.recordEnd()) {
                return of(first, DecidedBy.TWO_READERS);
            }
            return new Call(AnimalFate.UNDECIDED, first.recordEnd(), null, DecidedBy.TWO_READERS);
        }
        if (first != null) {
            return of(first, DecidedBy.ONE_READER);
        }
        AnimalFate fate = reading == null ? null : reading.animalFate();
        RecordEnd end = reading == null ? null : reading.recordEnd();
        if (fate == null || end == null) {
            return new Call(
                    AnimalFate.UNDECIDED,
                    reading == null ? RecordEnd.PACKAGE_LOST : RecordEnd.LOGGER_STOPPED,
                    null,
                    DecidedBy.NOBODY);
        }
        return new Call(fate, end, null, DecidedBy.PROGRAM);
    }

    private static Call of(Verdict verdict, DecidedBy by) {
        return new Call(verdict.animalFate(), verdict.recordEnd(), verdict.changeUtc(), by);
    }

    private static Map<String, String> groups(Animal animal, @Nullable Capture c) {
        Map<String, String> out = new TreeMap<>();
        put(out, "group", animal.group());
        if (c != null) {
            put(out, "trip", c.trip());
            put(out, "vessel", c.vessel());
            put(out, "anglerCode", c.anglerCode());
            put(out, "handlerCode", c.handlerCode());
            put(out, "gear", c.gear());
            put(out, "hookType", word(c.hookType()));
            put(out, "hookLocation", word(c.hookLocation()));
            put(out, "hookLeft", word(c.hookLeft()));
            put(out, "bleeding", word(c.bleeding()));
            put(out, "barotrauma", word(c.barotrauma()));
            put(out, "sex", word(c.sex()));
        }
        return out;
    }

    private static Map<String, Double> covariates(@Nullable Capture c) {
        Map<String, Double> out = new TreeMap<>();
        if (c != null) {
            put(out, "fightMin", c.fightMin());
            put(out, "airExposureS", c.airExposureS());
            put(out, "captureDepthM", c.captureDepthM());
            put(out, "lengthM", c.lengthM());
            put(out, "massKg", c.massKg());
            put(out, "waterTempC", c.waterTempC());
            Integer injury = c.injuryScore();
            put(out, "injuryScore", injury == null ? null : (double) injury);
            Integer missing = c.reflexesMissing();
            put(out, "reflexesMissing", missing == null ? null : (double) missing);
        }
        return out;
    }

    private static <V> void put(Map<String, V> map, String name, @Nullable V value) {
        if (value != null) {
            map.put(name, value);
        }
    }

    static @Nullable String word(@Nullable Enum<?> value) {
        return value == null ? null : Words.of(value);
    }

    static Map<String, RecordingRow> latestRecordings(StudyStore store) throws StudyException {
        Map<String, RecordingRow> out = new HashMap<>();
        store.all(RecordingRow.class)
                .forEach(row -> out.merge(
                        key(row.animal()), row, (a, b) -> a.loadedUtc().isAfter(b.loadedUtc()) ? a : b));
        return out;
    }

    static Map<String, ReadingRow> latestReadings(StudyStore store) throws StudyException {
        Map<String, ReadingRow> out = new HashMap<>();
        store.all(ReadingRow.class)
                .forEach(row -> out.merge(
                        row.recordingSha256(), row, (a, b) -> a.readUtc().isAfter(b.readUtc()) ? a : b));
        return out;
    }

    static Map<String, SearchOutcome> decisiveSearches(StudyStore store) throws StudyException {
        Map<String, SearchOutcome> out = new HashMap<>();
        store.all(SearchOutcome.class).forEach(row -> out.merge(key(row.animal()), row, SearchOutcome::decisive));
        return out;
    }

    static String key(String name) {
        return name.toLowerCase(Locale.ROOT);
    }
}
