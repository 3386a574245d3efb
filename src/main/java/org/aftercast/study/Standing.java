package org.aftercast.study;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * Where one animal stands along the voyage and what it needs next.
 *
 * @param animal its name
 * @param stage the furthest stage reached
 * @param next what to do next, one sentence; empty when nothing is left to do
 * @param overdueH hours since the planned detachment while the package is not back in hand, else 0
 * @param packageSerial the package it carries or carried, or null
 * @param recordingSha256 its recording (the one loaded last), or null
 * @param readingKey its reading (the one read last), or null
 */
public record Standing(
        String animal,
        Stage stage,
        String next,
        double overdueH,
        @Nullable String packageSerial,
        @Nullable String recordingSha256,
        @Nullable String readingKey) {

    /** The stages of the voyage, in order. */
    public enum Stage {
        PLANNED,
        RELEASED,
        ADRIFT,
        RETRIEVED,
        LOADED,
        READ,
        JUDGED
    }

    /**
     * Every animal of the study: overdue packages first (longest overdue first), then by stage, then by name.
     *
     * @param now the present instant
     */
    public static List<Standing> of(StudyStore store, Instant now) throws StudyException {
        Map<String, Release> releases = new HashMap<>();
        store.all(Release.class).forEach(row -> releases.put(key(row.animal()), row));
        Map<String, Checklist> checklists = new HashMap<>();
        store.all(Checklist.class).forEach(row -> checklists.put(key(row.animal()), row));
        Map<String, Detachment> detachments = new HashMap<>();
        store.all(Detachment.class).forEach(row -> detachments.put(key(row.animal()), row));
        Map<String, SearchOutcome> searches = new HashMap<>();
        store.all(SearchOutcome.class).forEach(row -> searches.merge(key(row.animal()), row, SearchOutcome::decisive));
        Map<String, RecordingRow> recordings = new HashMap<>();
        store.all(RecordingRow.class)
                .forEach(row -> recordings.merge(
                        key(row.animal()), row, (a, b) -> a.loadedUtc().isAfter(b.loadedUtc()) ? a : b));
        Map<String, ReadingRow> readings = new HashMap<>();
        store.all(ReadingRow.class)
                .forEach(row -> readings.merge(
                        row.recordingSha256(), row, (a, b) -> a.readUtc().isAfter(b.readUtc()) ? a : b));
        Map<String, List<Verdict>> verdicts = new HashMap<>();
        store.all(Verdict.class)
                .forEach(row -> verdicts.computeIfAbsent(key(row.animal()), k -> new ArrayList<>())
                        .add(row));

        List<Standing> all = new ArrayList<>();
        for (Animal animal : store.all(Animal.class)) {
            String key = key(animal.name());
            RecordingRow recording = recordings.get(key);
            all.add(one(
                    animal.name(),
                    checklists.getOrDefault(key, Checklist.empty(animal.name())),
                    releases.get(key),
                    detachments.get(key),
                    searches.get(key),
                    recording,
                    recording == null ? null : readings.get(recording.sha256()),
                    verdicts.getOrDefault(key, List.of()),
                    now));
        }
        all.sort(Comparator.comparingDouble(Standing::overdueH)
                .reversed()
                .thenComparing(Standing::stage)
                .thenComparing(Standing::animal));
        return all;
    }

    private static Standing one(
            String animal,
            Checklist checklist,
            @Nullable Release release,
            @Nullable Detachment detachment,
            @Nullable SearchOutcome search,
            @Nullable RecordingRow recording,
            @Nullable ReadingRow reading,
            List<Verdict> verdicts,
            Instant now) {
        boolean lost = search != null && search.outcome() == SearchOutcome.Outcome.ABANDONED;
        boolean inHand =
                recording != null || (search != null && search.outcome().inHand());
        Instant released = release == null ? null : release.releasedUtc();
        Instant planned = release == null ? null : release.plannedDetachmentUtc();
        String serial = release == null ? null : release.packageSerial();
        boolean off = detachment != null && !detachment.detachedUtc().isAfter(now);
        boolean due = planned != null && !planned.isAfter(now);

        Stage stage;
        String next;
        if (!verdicts.isEmpty()) {
            stage = Stage.JUDGED;
            next = afterVerdicts(verdicts);
        } else if (reading != null) {
            stage = Stage.READ;
            next = "give a first verdict";
        } else if (recording != null) {
            stage = Stage.LOADED;
            next = "read the recording";
        } else if (inHand) {
            stage = Stage.RETRIEVED;
            next = "load the download";
        } else if (released == null || released.isAfter(now)) {
            stage = Stage.PLANNED;
            next = beforeRelease(serial, checklist);
        } else if (serial == null) {
            stage = Stage.RELEASED;
            next = "";
        } else if (lost) {
            stage = Stage.ADRIFT;
            next = "nothing: the search for its package was abandoned";
        } else if (off || due) {
            stage = Stage.ADRIFT;
            next = "search for package " + serial;
        } else {
            stage = Stage.RELEASED;
            next = planned == null ? "wait for the package to come off" : "wait until " + planned;
        }
        double overdueH = due && released != null && serial != null && !inHand && !lost
                ? Duration.between(planned, now).toMillis() / 3.6e6
                : 0;
        return new Standing(
                animal,
                stage,
                next,
                overdueH,
                serial,
                recording == null ? null : recording.sha256(),
                reading == null ? null : reading.key());
    }

    private static String beforeRelease(@Nullable String serial, Checklist checklist) {
        if (checklist.stopRule() == Checklist.StopRule.STOP) {
            return "no package on this animal: the stop rule says so";
        }
        if (serial == null) {
            return "assign a package";
        }
        return checklist.missing().isEmpty()
                ? "release the animal"
                : "before release: " + String.join(", ", checklist.missing());
    }

    private static String afterVerdicts(List<Verdict> verdicts) {
        Verdict first = null;
        Verdict second = null;
        for (Verdict verdict : verdicts) {
            switch (verdict.role()) {
                case FIRST -> first = verdict;
                case SECOND -> second = verdict;
                case SETTLED -> {
                    return "";
                }
            }
        }
        if (first == null || second == null) {
            return "give a second verdict, blind";
        }
        Set<Object> calls = new HashSet<>();
        calls.add(List.of(first.animalFate(), first.recordEnd()));
        calls.add(List.of(second.animalFate(), second.recordEnd()));
        return calls.size() == 1 ? "" : "settle the two verdicts";
    }

    private static String key(String name) {
        return name.toLowerCase(Locale.ROOT);
    }
}
