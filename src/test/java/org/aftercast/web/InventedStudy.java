package org.aftercast.web;

import java.nio.file.Path;
import java.time.InstantSource;
import java.util.List;
import org.aftercast.intake.ImportOptions;
import org.aftercast.intake.ImportProgress;
import org.aftercast.study.FileStore;
import org.aftercast.study.StudyStore;
import org.aftercast.voyage.LoadDownload;
import org.aftercast.voyage.LoadRequest;
import org.aftercast.voyage.ReadStudy;
import org.aftercast.voyage.Settings;
import org.aftercast.voyage.Simulate;

/** Invented recordings for tests of the pages. */
final class InventedStudy {

    private InventedStudy() {}

    /** Simulates a download. */
    static Path download(Path folder, String kind, double hours, double rateHz, long seed) throws Exception {
        return new Simulate(FileStore.onDisk())
                .write(new Simulate.Wish(kind, "plain", hours, rateHz, seed, 1), folder)
                .get(0)
                .csv();
    }

    /** Loads a download for an animal that is in the study. */
    static void load(Path study, String animal, Path csv) throws Exception {
        new LoadDownload(FileStore.onDisk(), InstantSource.fixed(Served.NOW))
                .load(new LoadRequest(
                        study,
                        animal,
                        List.of(csv),
                        List.of(),
                        LoadRequest.Guess.ACCEPTED,
                        ImportOptions.none(),
                        null,
                        null,
                        LoadRequest.Battery.NOT_NOTED,
                        "tester",
                        ImportProgress.NONE));
    }

    /** Reads every recording of the study. */
    static void read(Path study) throws Exception {
        InstantSource clock = InstantSource.fixed(Served.NOW);
        try (StudyStore store = StudyStore.open(study, StudyStore.Access.WRITE, FileStore.onDisk(), clock)) {
            new ReadStudy(store, clock).read("tester", List.of(), Settings.defaults(), (a, done, total, kept) -> {});
        }
    }
}
