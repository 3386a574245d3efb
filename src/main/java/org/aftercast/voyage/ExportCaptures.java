package org.aftercast.voyage;

import java.io.IOException;
import java.nio.file.Path;
import java.time.InstantSource;
import org.aftercast.study.CaptureSheet;
import org.aftercast.study.FileStore;
import org.aftercast.study.Landing;
import org.aftercast.study.StudyStore;

/** The capture table of a study as CSV; entering it into another study gives the same records. */
public final class ExportCaptures {

    private ExportCaptures() {}

    /**
     * The table as text.
     *
     * @throws IOException if the study cannot be read
     */
    public static String of(Path folder, InstantSource clock) throws IOException {
        try (StudyStore store = StudyStore.open(folder, StudyStore.Access.READ, FileStore.onDisk(), clock)) {
            return of(store);
        }
    }

    /** The table of an open study as text. */
    public static String of(StudyStore store) throws IOException {
        return CaptureTable.write(
                CaptureSheet.of(store).stream().map(CaptureSheet::format).toList());
    }

    /**
     * The table of landings as text.
     *
     * @throws IOException if the study cannot be read
     */
    public static String landings(Path folder, InstantSource clock) throws IOException {
        try (StudyStore store = StudyStore.open(folder, StudyStore.Access.READ, FileStore.onDisk(), clock)) {
            return CaptureTable.write(
                    store.all(Landing.class).stream().map(LandingTable::format).toList(), CaptureTable.Kind.LANDINGS);
        }
    }
}
