package org.aftercast.voyage;

import java.io.IOException;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import org.aftercast.study.Animal;
import org.aftercast.study.HistoryEntry;
import org.aftercast.study.Mark;
import org.aftercast.study.RecordingRow;
import org.aftercast.study.StudyStore;
import org.aftercast.study.Verdict;
import org.aftercast.study.VerdictRules;
import org.jspecify.annotations.Nullable;

/**
 * Who is still to judge an animal blind. A reader sees what the program makes of a recording (bouts, attacks, detachment,
 * recovery, fate) only once their own verdict is locked or both readers have given theirs. Whoever wants to see it sooner
 * may, by {@link #look}: that is put on record as a mark on the recording, and no blind verdict on this animal can come
 * from them any more.
 */
public final class Blindness {

    private static final String LOOKED = "Looked at the program's reading before judging: ";

    private Blindness() {}

    /** Whether this person must not see the program's opinion of the animal; somebody unnamed counts as a reader to be. */
    public static boolean isBlind(StudyStore store, String animal, @Nullable String reader) throws IOException {
        VerdictRules.OfAnimal verdicts = VerdictRules.ofAnimal(animal, store.all(Verdict.class));
        if (verdicts.first() != null && verdicts.second() != null) {
            return false;
        }
        return reader == null || !(verdicts.hasLocked(reader) || hasLooked(store, animal, reader));
    }

    /** Whether this person chose to see the program's reading before judging. */
    public static boolean hasLooked(StudyStore store, String animal, String reader) throws IOException {
        Set<String> recordings = recordingsOf(store, animal);
        return store.all(Mark.class).stream()
                .anyMatch(mark -> recordings.contains(mark.recordingSha256())
                        && mark.remark() != null
                        && fold(mark.remark()).equals(fold(LOOKED + reader)));
    }

    /**
     * Puts on record that this person looks at the program's reading and will not judge the animal blind.
     *
     * @throws BadInputException if there is no such animal, or it has no recording
     */
    public static void look(StudyStore store, String animal, String reader) throws BadInputException, IOException {
        String name = store.find(Animal.class, animal)
                .map(Animal::name)
                .orElseThrow(() -> new BadInputException("there is no animal \"" + animal + "\" in this study"));
        RecordingRow newest = store.all(RecordingRow.class).stream()
                .filter(row -> row.animal().equalsIgnoreCase(name))
                .reduce((a, b) -> b.loadedUtc().isAfter(a.loadedUtc()) ? b : a)
                .orElseThrow(() -> new BadInputException(name + ": no recording is loaded yet"));
        if (!isBlind(store, name, reader)) {
            return;
        }
        store.change(reader, change -> {
            int number = change.all(Mark.class).stream()
                            .filter(mark -> mark.recordingSha256().equals(newest.sha256()))
                            .mapToInt(Mark::number)
                            .max()
                            .orElse(0)
                    + 1;
            change.add(new Mark(
                    newest.sha256(), number, 0, newest.sampleCount() / newest.sampleRateHz(), null, LOOKED + reader));
            return number;
        });
    }

    /** The marks on a recording that this person may see: all, or while blind only their own. */
    public static List<Mark> marks(StudyStore store, String animal, String recordingSha256, @Nullable String reader)
            throws IOException {
        List<Mark> all = store.all(Mark.class).stream()
                .filter(mark -> mark.recordingSha256().equals(recordingSha256))
                .toList();
        if (all.isEmpty() || !isBlind(store, animal, reader)) {
            return all;
        }
        Set<String> own = new HashSet<>();
        for (HistoryEntry entry : store.history()) {
            if (entry.table().equals("mark") && entry.who().equalsIgnoreCase(reader)) {
                own.add(entry.key());
            }
        }
        return all.stream()
                .filter(mark -> own.contains(recordingSha256 + " / " + mark.number()))
                .toList();
    }

    private static Set<String> recordingsOf(StudyStore store, String animal) throws IOException {
        Set<String> recordings = new HashSet<>();
        for (RecordingRow row : store.all(RecordingRow.class)) {
            if (row.animal().equalsIgnoreCase(animal)) {
                recordings.add(row.sha256());
            }
        }
        return recordings;
    }

    private static String fold(String text) {
        return text.toLowerCase(Locale.ROOT);
    }
}
