package org.aftercast.voyage;

import java.io.IOException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.aftercast.fate.AnimalFate;
import org.aftercast.fate.FateCall;
import org.aftercast.fate.RecordEnd;
import org.aftercast.stats.ReaderAgreement;
import org.aftercast.study.Animal;
import org.aftercast.study.Capture;
import org.aftercast.study.ReadingRow;
import org.aftercast.study.RecordingRow;
import org.aftercast.study.Release;
import org.aftercast.study.RuleException;
import org.aftercast.study.StudyStore;
import org.aftercast.study.Verdict;
import org.aftercast.study.Verdict.Role;
import org.aftercast.study.VerdictRules;
import org.aftercast.study.Words;
import org.jspecify.annotations.Nullable;

/**
 * Verdicts: a first reader, a second reader who is blind to the first, and what both settle on.
 *
 * <p>Until a reader has locked a verdict of their own, {@link #bench} keeps from them the capture and handling, the
 * machine's opinion and everybody else's verdict. Verdicts are locked as they are given; all of them stay.
 */
public final class Judge {

    /**
     * What a reader decides.
     *
     * @param animal the animal
     * @param reader code of the person
     * @param animalFate what became of the animal
     * @param recordEnd how the record ended
     * @param changeUtc when it died, was eaten or lost its package; null if nothing changed or it cannot be told
     * @param reason why, in words
     */
    public record Opinion(
            String animal,
            String reader,
            AnimalFate animalFate,
            RecordEnd recordEnd,
            @Nullable Instant changeUtc,
            String reason) {}

    /** What a reader may see. */
    public enum Sight {
        /** The record alone. */
        BLIND,
        /** Everything. */
        OPEN
    }

    /**
     * What lies before one reader.
     *
     * @param animal the animal
     * @param sight whether the rest is shown
     * @param recordingSha256 the recording to look at
     * @param readingKey the reading to look at
     * @param release release and planned detachment: they bound the time at risk, so every reader sees them
     * @param capture how it was caught; null while blind
     * @param reading the machine's opinion; null while blind
     * @param verdicts all verdicts so far; empty while blind
     * @param next what this reader can do: {@code first}, {@code second}, {@code settle} or null for nothing
     */
    public record Bench(
            String animal,
            Sight sight,
            String recordingSha256,
            String readingKey,
            @Nullable Release release,
            @Nullable Capture capture,
            @Nullable ReadingRow reading,
            List<Verdict> verdicts,
            @Nullable Role next) {
        public Bench {
            verdicts = List.copyOf(verdicts);
        }
    }

    /** Animals named in an error. */
    private static final int LISTED = 12;

    private final StudyStore store;

    /** Judges in this open study. */
    public Judge(StudyStore store) {
        this.store = store;
    }

    /**
     * What this reader may see of an animal.
     *
     * @throws BadInputException if there is no such animal or no reading of it yet
     */
    public Bench bench(String animal, String reader) throws BadInputException, IOException {
        Animal known = animal(animal);
        ReadingRow reading = reading(known);
        VerdictRules.OfAnimal verdicts = VerdictRules.ofAnimal(known.name(), store.all(Verdict.class));
        boolean looked = Blindness.hasLooked(store, known.name(), reader);
        Sight sight = Blindness.isBlind(store, known.name(), reader) ? Sight.BLIND : Sight.OPEN;
        List<Verdict> all = new ArrayList<>();
        if (verdicts.first() != null) {
            all.add(verdicts.first());
        }
        if (verdicts.second() != null) {
            all.add(verdicts.second());
        }
        all.addAll(verdicts.settled());
        return new Bench(
                known.name(),
                sight,
                reading.recordingSha256(),
                reading.key(),
                store.find(Release.class, known.name()).orElse(null),
                sight == Sight.OPEN ? store.find(Capture.class, known.name()).orElse(null) : null,
                sight == Sight.OPEN ? reading : null,
                sight == Sight.OPEN ? all : List.of(),
                next(verdicts, reader, looked));
    }

    /**
     * Locks a reader's own verdict: the first one on an animal is the first, the next reader's is the second.
     *
     * @return the verdict as stored
     * @throws BadInputException if this reader has given theirs, both are there, or the opinion breaks a rule
     */
    public Verdict give(Opinion opinion) throws BadInputException, IOException {
        Animal animal = animal(opinion.animal());
        ReadingRow reading = reading(animal);
        return lock(opinion, animal, reading, all -> {
            VerdictRules.OfAnimal verdicts = VerdictRules.ofAnimal(animal.name(), all);
            if (verdicts.hasLocked(opinion.reader())) {
                throw new BadInputException(animal.name() + ": " + opinion.reader()
                        + " has given a verdict already, and it is locked; a second one must come from another reader");
            }
            if ((verdicts.first() == null || verdicts.second() == null)
                    && Blindness.hasLooked(store, animal.name(), opinion.reader())) {
                throw new BadInputException(animal.name() + ": " + opinion.reader() + " has looked at the program's"
                        + " reading before judging; a verdict must come from a reader who has not");
            }
            if (verdicts.first() == null) {
                return new Place(Role.FIRST, 1);
            }
            if (verdicts.second() == null) {
                return new Place(Role.SECOND, 1);
            }
            throw new BadInputException(
                    animal.name() + ": two readers have given their verdicts already; they can be settled");
        });
    }

    /**
     * Puts on record what the readers settle on after both have given theirs. Settling anew adds another; the last
     * counts and all stay.
     *
     * @throws BadInputException if two verdicts are not there yet
     */
    public Verdict settle(Opinion opinion) throws BadInputException, IOException {
        Animal animal = animal(opinion.animal());
        ReadingRow reading = reading(animal);
        return lock(opinion, animal, reading, all -> {
            VerdictRules.OfAnimal verdicts = VerdictRules.ofAnimal(animal.name(), all);
            if (verdicts.first() == null || verdicts.second() == null) {
                throw new BadInputException(animal.name() + ": nothing to settle yet; "
                        + (verdicts.first() == null ? "a first" : "a second") + " verdict is missing");
            }
            return new Place(Role.SETTLED, verdicts.settled().size() + 1);
        });
    }

    private record Place(Role role, int number) {}

    private interface Turn {
        Place in(List<Verdict> verdicts) throws BadInputException, IOException;
    }

    private Verdict lock(Opinion opinion, Animal animal, ReadingRow reading, Turn turn)
            throws BadInputException, IOException {
        times(opinion, animal);
        try {
            return store.change(opinion.reader(), change -> {
                Place place = turn.in(change.all(Verdict.class));
                Verdict verdict = new Verdict(
                        animal.name(),
                        place.role(),
                        place.number(),
                        opinion.reader(),
                        reading.key(),
                        opinion.animalFate(),
                        opinion.recordEnd(),
                        opinion.changeUtc(),
                        opinion.reason(),
                        change.now());
                change.add(verdict);
                return verdict;
            });
        } catch (RuleException broken) {
            throw new BadInputException(broken.lines());
        }
    }

    private void times(Opinion opinion, Animal animal) throws BadInputException, IOException {
        Instant changed = opinion.changeUtc();
        Release release = store.find(Release.class, animal.name()).orElse(null);
        Instant released = release == null ? null : release.releasedUtc();
        if (changed != null && released != null && changed.isBefore(released)) {
            throw new BadInputException(
                    animal.name() + ": the change at " + changed + " lies before the release at " + released);
        }
        boolean changes = opinion.animalFate() == AnimalFate.DIED
                || opinion.animalFate() == AnimalFate.DEAD_THEN_SCAVENGED
                || opinion.animalFate() == AnimalFate.EATEN;
        if (changes && changed == null) {
            throw new BadInputException(animal.name() + ": " + Words.of(opinion.animalFate())
                    + " needs the time of the change; without it the time at risk is not known");
        }
    }

    private static @Nullable Role next(VerdictRules.OfAnimal verdicts, String reader, boolean looked) {
        if (looked && (verdicts.first() == null || verdicts.second() == null)) {
            return null;
        }
        if (verdicts.first() == null) {
            return Role.FIRST;
        }
        if (verdicts.second() == null) {
            return verdicts.hasLocked(reader) ? null : Role.SECOND;
        }
        return verdicts.disagree() && verdicts.settled().isEmpty() ? Role.SETTLED : null;
    }

    /**
     * Does nothing for an animal of this study.
     *
     * @throws BadInputException if there is no such animal; the message lists those there are
     */
    public void mustHave(String animal) throws BadInputException, IOException {
        animal(animal);
    }

    private Animal animal(String name) throws BadInputException, IOException {
        Optional<Animal> found = store.find(Animal.class, name);
        if (found.isPresent()) {
            return found.get();
        }
        List<String> all = store.all(Animal.class).stream().map(Animal::name).toList();
        throw new BadInputException("there is no animal \"" + name + "\" in this study; accepted: "
                + (all.isEmpty()
                        ? "an animal entered before (aftercast enter)"
                        : String.join(", ", all.subList(0, Math.min(LISTED, all.size())))
                                + (all.size() > LISTED ? " …" : "")));
    }

    /** The reading read last, of the recording loaded last. */
    private ReadingRow reading(Animal animal) throws BadInputException, IOException {
        RecordingRow recording = store.all(RecordingRow.class).stream()
                .filter(row -> row.animal().equalsIgnoreCase(animal.name()))
                .max(Comparator.comparing(RecordingRow::loadedUtc))
                .orElseThrow(() -> new BadInputException(animal.name() + ": no recording is loaded yet"));
        return store.all(ReadingRow.class).stream()
                .filter(row -> row.recordingSha256().equals(recording.sha256()))
                .max(Comparator.comparing(ReadingRow::readUtc))
                .orElseThrow(() -> new BadInputException(animal.name() + ": its recording has not been read yet"));
    }

    private boolean hasReading(Animal animal) throws IOException {
        try {
            reading(animal);
            return true;
        } catch (BadInputException nothingToJudge) {
            return false;
        }
    }

    /**
     * How far the study is judged.
     *
     * @param firstOnly animals with one verdict
     * @param agreed animals on which two readers agree
     * @param settled animals on which they disagreed and settled
     * @param open animals on which they disagree still
     * @param unjudged animals with a reading and no verdict
     */
    public record Progress(
            List<String> firstOnly,
            List<String> agreed,
            List<String> settled,
            List<String> open,
            List<String> unjudged) {}

    /** How far the study is judged; names only, so that it gives nothing away. */
    public Progress progress() throws IOException {
        Map<String, VerdictRules.OfAnimal> verdicts = VerdictRules.byAnimal(store.all(Verdict.class));
        Progress progress = new Progress(
                new ArrayList<>(), new ArrayList<>(), new ArrayList<>(), new ArrayList<>(), new ArrayList<>());
        for (Animal animal : store.all(Animal.class)) {
            VerdictRules.OfAnimal of = verdicts.get(animal.name().toLowerCase(Locale.ROOT));
            if (of == null) {
                if (hasReading(animal)) {
                    progress.unjudged().add(animal.name());
                }
            } else if (of.second() == null) {
                progress.firstOnly().add(animal.name());
            } else if (!of.disagree()) {
                progress.agreed().add(animal.name());
            } else if (of.settled().isEmpty()) {
                progress.open().add(animal.name());
            } else {
                progress.settled().add(animal.name());
            }
        }
        return progress;
    }

    /**
     * How well first and second readers agree on the one-word call, over all animals with both verdicts.
     *
     * @return null while no animal has both
     */
    public @Nullable ReaderAgreement agreement() throws IOException {
        List<FateCall> calls = List.of(FateCall.values());
        int[][] counts = new int[calls.size()][calls.size()];
        boolean any = false;
        for (VerdictRules.OfAnimal of :
                VerdictRules.byAnimal(store.all(Verdict.class)).values()) {
            Verdict first = of.first();
            Verdict second = of.second();
            if (first != null && second != null) {
                counts[calls.indexOf(call(first))][calls.indexOf(call(second))]++;
                any = true;
            }
        }
        return any ? ReaderAgreement.of(counts) : null;
    }

    private static FateCall call(Verdict verdict) {
        return FateCall.of(verdict.animalFate(), verdict.recordEnd());
    }
}
