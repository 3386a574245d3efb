package org.aftercast.study;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Instant;
import java.time.InstantSource;
import java.util.List;
import java.util.Map;
import org.aftercast.estimate.PlanQuestion;
import org.aftercast.fate.AnimalFate;
import org.aftercast.fate.FateProbabilities;
import org.aftercast.fate.RecordEnd;
import org.aftercast.stats.BinomialInterval;

/** An invented study with one animal that went all the way; its files hold a few letters instead of signals. */
public final class SmallStudy {

    private SmallStudy() {}

    /** Makes the study that is kept per released version: zip the folder to {@code study-vN.zip}. */
    public static void main(String[] args) throws IOException {
        make(Path.of(args[0]), InstantSource.fixed(Instant.parse("2026-06-10T12:00:00Z")));
    }

    /** Makes it; returns the name of its raw file. */
    public static String make(Path folder, InstantSource clock) throws IOException {
        try (StudyStore store = StudyStore.create(folder, StudyInfo.titled("Small"), "KB", FileStore.onDisk(), clock)) {
            byte[] download = "t,x,y,z\n".getBytes(StandardCharsets.UTF_8);
            String raw = Hashes.ofBytes(download);
            String rawName = raw + "-download.csv";
            store.files().write(store.rawFolder().resolve(rawName), download);
            store.files().makeReadOnly(store.rawFolder().resolve(rawName));
            store.change("KB", change -> {
                change.put(Animal.named("A1"));
                change.put(new FloatPackage("P1", 151.1, null, null, null, null, null, null));
                change.put(new Capture(
                        "A1",
                        "T1",
                        null,
                        null,
                        null,
                        null,
                        null,
                        Capture.HookLocation.JAW,
                        null,
                        null,
                        null,
                        12.5,
                        null,
                        null,
                        null,
                        0.9,
                        null,
                        null,
                        null,
                        null,
                        null,
                        null,
                        null,
                        null,
                        null));
                change.put(new Landing("T1", 9, 2, 1, Map.of("too small", 4), null));
                change.put(KeptPlan.of(
                        1,
                        new PlanQuestion(
                                0.1,
                                0.15,
                                null,
                                null,
                                0.8,
                                0.8,
                                0.05,
                                0.9,
                                1,
                                0,
                                24,
                                6.0,
                                BinomialInterval.CLOPPER_PEARSON,
                                0.95)));
                change.put(new ControlAnimals(ControlAnimals.ID, 10, 1, null));
                change.put(new Fishery(
                        Fishery.ID,
                        "hookLocation",
                        Map.of("jaw", 0.7, "gut", 0.3),
                        200,
                        4000.0,
                        3200.0,
                        5000.0,
                        "charter boats (invented)"));
                change.put(new Release(
                        "A1", "P1", clock.instant().minusSeconds(90_000), null, null, null, null, clock.instant()));
                change.put(new Detachment("A1", clock.instant(), Detachment.Source.ENTERED, null, null));
                change.put(new SearchOutcome(
                        "A1",
                        1,
                        clock.instant().minusSeconds(12_600),
                        clock.instant(),
                        SearchOutcome.Outcome.HANDED_IN,
                        52.5,
                        -4.6,
                        3.5,
                        22.0,
                        null,
                        "From the search log."));
                return 0;
            });
            store.files().makeFolder(folder.resolve("searches"));
            store.files()
                    .write(
                            folder.resolve("searches").resolve("A1.csv"),
                            "time,lat,lon,kind,values\n".getBytes(StandardCharsets.UTF_8));
            byte[] parquet = "PAR1".getBytes(StandardCharsets.UTF_8);
            store.files().write(store.recordingsFolder().resolve("r.parquet"), parquet);
            store.addRecording(
                    "KB",
                    new RecordingRow(
                            raw,
                            "A1",
                            "r.parquet",
                            Hashes.ofBytes(parquet),
                            3,
                            25,
                            clock.instant(),
                            "{}",
                            clock.instant(),
                            "0.1.0"),
                    List.of(new RawFile(raw, raw, 1, "download.csv", rawName, download.length)));
            String settings = Hashes.ofText("{}");
            String key = ReadingRow.keyOf(raw, settings, "0.1.0");
            store.files().makeFolder(store.readingsFolder().resolve(key));
            store.files()
                    .write(
                            store.readingsFolder().resolve(key).resolve("reading.json"),
                            "{}".getBytes(StandardCharsets.UTF_8));
            store.addReading(
                    "KB",
                    new ReadingRow(
                            key,
                            raw,
                            settings,
                            "0.1.0",
                            key,
                            Map.of("reading.json", Hashes.ofText("{}")),
                            clock.instant(),
                            AnimalFate.ALIVE_AT_END,
                            RecordEnd.PLANNED_DETACHMENT,
                            new FateProbabilities(0.9, 0.05, 0.03, 0.02),
                            25.0));
            store.change("KB", change -> {
                change.add(new Verdict(
                        "A1",
                        Verdict.Role.FIRST,
                        1,
                        "KB",
                        key,
                        AnimalFate.ALIVE_AT_END,
                        RecordEnd.PLANNED_DETACHMENT,
                        null,
                        "swam to the end",
                        clock.instant()));
                return 0;
            });
            return rawName;
        }
    }
}
