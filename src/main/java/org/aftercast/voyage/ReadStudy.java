package org.aftercast.voyage;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.aftercast.behaviour.RestsOnBottom;
import org.aftercast.fate.FateProbabilities;
import org.aftercast.intake.ColumnStore;
import org.aftercast.intake.ImportException;
import org.aftercast.motion.MotionSettings;
import org.aftercast.recording.Recording;
import org.aftercast.study.Animal;
import org.aftercast.study.Capture;
import org.aftercast.study.Detachment;
import org.aftercast.study.Hashes;
import org.aftercast.study.ReadingRow;
import org.aftercast.study.RecordingRow;
import org.aftercast.study.Release;
import org.aftercast.study.StudyInfo;
import org.aftercast.study.StudyStore;
import org.jspecify.annotations.Nullable;

/**
 * Reads the recordings of a study. A reading is kept under raw hash + settings + version: reading again with nothing
 * changed opens what is there.
 */
public final class ReadStudy {

    private final StudyStore store;
    private final InstantSource clock;

    /** Works on an open study. */
    public ReadStudy(StudyStore store, InstantSource clock) {
        this.store = store;
        this.clock = clock;
    }

    /** Told as each recording is done. */
    @FunctionalInterface
    public interface Progress {
        /**
         * One recording is done.
         *
         * @param animal its animal
         * @param done number done so far
         * @param total number in all
         * @param fromCache whether it was opened rather than computed
         */
        void done(String animal, int done, int total, boolean fromCache);
    }

    /**
     * The reading of one recording of the study.
     *
     * @param animal the animal
     * @param recording its record
     * @param row the reading's record
     * @param reading the reading itself
     */
    public record OfAnimal(String animal, RecordingRow recording, ReadingRow row, Reading reading) {}

    /**
     * Reads the recordings of the named animals (all when none is named), in the order of the study.
     *
     * @param who who asks, for the history
     * @param animals names, or none for all that have a recording
     * @param settings what can be adjusted; the body length is taken from each capture where it is null
     * @throws BadInputException if a named animal is not in the study or has no recording
     * @throws IOException if a recording cannot be opened or a reading not be written
     */
    public List<OfAnimal> read(String who, List<String> animals, Settings settings, Progress progress)
            throws IOException, BadInputException {
        List<RecordingRow> wanted = wanted(animals);
        List<OfAnimal> readings = new ArrayList<>();
        for (RecordingRow row : wanted) {
            ReadContext context = context(row);
            Settings own = withLength(settings, row.animal());
            Optional<OfAnimal> kept = kept(row, own, context);
            OfAnimal reading = kept.isPresent() ? kept.get() : compute(who, row, own, context);
            readings.add(reading);
            progress.done(row.animal(), readings.size(), wanted.size(), kept.isPresent());
        }
        return AmongOthers.compare(readings, store);
    }

    private List<RecordingRow> wanted(List<String> animals) throws IOException, BadInputException {
        List<RecordingRow> all = store.all(RecordingRow.class);
        if (animals.isEmpty()) {
            return all;
        }
        List<String> problems = new ArrayList<>();
        List<RecordingRow> wanted = new ArrayList<>();
        for (String name : animals) {
            List<RecordingRow> own =
                    all.stream().filter(r -> r.animal().equals(name)).toList();
            if (own.isEmpty()) {
                problems.add(
                        store.find(Animal.class, name).isPresent()
                                ? name + ": has no recording yet; accepted: an animal whose download was loaded"
                                : name + ": is not in the study; accepted: "
                                        + String.join(
                                                ", ",
                                                all.stream()
                                                        .map(RecordingRow::animal)
                                                        .distinct()
                                                        .toList()));
            }
            wanted.addAll(own);
        }
        if (!problems.isEmpty()) {
            throw new BadInputException(problems);
        }
        return wanted;
    }

    /** What the study knows about the animal of a recording. */
    ReadContext context(RecordingRow row) throws IOException {
        String animal = row.animal();
        StudyInfo info = store.info();
        Release release = store.find(Release.class, animal).orElse(null);
        Detachment detachment = store.find(Detachment.class, animal)
                .filter(d -> d.source() == Detachment.Source.ENTERED)
                .orElse(null);
        Double latitude = release == null ? null : release.releaseLatDeg();
        Double longitude = release == null ? null : release.releaseLonDeg();
        return new ReadContext(
                release == null ? null : release.releasedUtc(),
                detachment == null ? null : detachment.detachedUtc(),
                release == null ? null : release.plannedDetachmentUtc(),
                switch (info.bottomRest()) {
                    case CAN_REST -> RestsOnBottom.YES;
                    case NEVER_RESTS -> RestsOnBottom.NO;
                    case UNKNOWN -> RestsOnBottom.UNKNOWN;
                },
                release == null ? null : release.siteDepthM(),
                latitude == null ? info.latDeg() : latitude,
                longitude == null ? info.lonDeg() : longitude,
                EarlyPings.recordEnd(store.folder(), animal, release == null ? null : release.plannedDetachmentUtc()),
                SeenByPeople.of(store, animal, row.startUtc()),
                null);
    }

    private Settings withLength(Settings settings, String animal) throws IOException {
        MotionSettings m = settings.motion();
        Double length = store.find(Capture.class, animal).map(Capture::lengthM).orElse(null);
        Double latitude = store.info().latDeg();
        return new Settings(
                new MotionSettings(
                        m.bandLowHz(),
                        m.bandHighHz(),
                        m.beatAxis(),
                        m.lengthM() == null ? length : m.lengthM(),
                        latitude == null ? m.latitudeDeg() : latitude,
                        m.noiseMultiple(),
                        m.noiseG(),
                        m.bridgeS(),
                        m.mounts()),
                settings.behaviour(),
                settings.fate());
    }

    private Optional<OfAnimal> kept(RecordingRow row, Settings settings, ReadContext context) throws IOException {
        String key = ReadingRow.keyOf(row.sha256(), settingsSha256(settings, context), Version.current());
        Optional<ReadingRow> found = store.find(ReadingRow.class, key);
        if (found.isEmpty()) {
            return Optional.empty();
        }
        try {
            Reading reading =
                    ReadingFiles.open(store.readingsFolder().resolve(found.get().folder()));
            return Optional.of(new OfAnimal(row.animal(), row, found.get(), reading));
        } catch (ImportException damaged) {
            return Optional.empty(); // computed anew; the row is then replaced
        }
    }

    private OfAnimal compute(String who, RecordingRow row, Settings settings, ReadContext context)
            throws IOException, BadInputException {
        Recording recording =
                ColumnStore.parquet().open(store.recordingsFolder().resolve(row.parquetName()));
        Reading reading;
        try {
            reading = ReadRecording.read(recording, context, settings);
        } catch (BadInputException | IllegalArgumentException refused) {
            throw new BadInputException(row.animal() + ": " + refused.getMessage());
        }
        String settingsSha = settingsSha256(settings, context);
        String key = ReadingRow.keyOf(row.sha256(), settingsSha, Version.current());
        Path folder = store.readingsFolder().resolve(key);
        store.files().makeFolder(folder);
        ReadingFiles.write(reading, row.animal(), folder, store.files());
        Map<String, String> files = new TreeMap<>();
        for (String name : ReadingFiles.ALL) {
            files.put(name, Hashes.ofFile(folder.resolve(name)));
        }
        FateProbabilities probabilities = reading.fate().probabilities();
        ReadingRow reading2 = new ReadingRow(
                key,
                row.sha256(),
                settingsSha,
                Version.current(),
                String.valueOf(folder.getFileName()),
                files,
                clock.instant(),
                reading.fate().animal(),
                reading.fate().recordEnd(),
                probabilities,
                reading.atRiskH());
        store.addReading(who, reading2);
        return new OfAnimal(row.animal(), row, reading2, reading);
    }

    private static String settingsSha256(Settings settings, ReadContext context) throws IOException {
        return Hashes.ofBytes(ReadingFiles.settingsBytes(settings, context));
    }

    /** The newest kept reading of an animal, or null when it was never read. */
    public @Nullable OfAnimal newest(String animal) throws IOException {
        OfAnimal newest = null;
        for (RecordingRow row : store.all(RecordingRow.class)) {
            if (!row.animal().equals(animal)) {
                continue;
            }
            for (ReadingRow reading : store.all(ReadingRow.class)) {
                Path folder = store.readingsFolder().resolve(reading.folder());
                if (reading.recordingSha256().equals(row.sha256())
                        && Files.isDirectory(folder)
                        && (newest == null
                                || reading.readUtc().isAfter(newest.row().readUtc()))) {
                    newest = new OfAnimal(animal, row, reading, ReadingFiles.open(folder));
                }
            }
        }
        return newest;
    }
}
