package org.aftercast.web;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.aftercast.intake.ColumnStore;
import org.aftercast.recording.Recording;
import org.aftercast.study.Animal;
import org.aftercast.study.FileStore;
import org.aftercast.study.RecordingRow;
import org.aftercast.study.StudyStore;
import org.aftercast.voyage.ReadStudy;
import org.aftercast.voyage.Reading;
import org.jspecify.annotations.Nullable;

/** Keeps the recordings that are being looked at open, and builds their summaries when they are first wanted. */
final class RecordingShelf {

    /** Folder of the summaries in the study; it may be deleted at any time. */
    static final String FOLDER = "summaries";

    private static final int MOST_KEPT = 3;

    private final Desk desk;
    private final Map<String, OpenRecording> kept = new LinkedHashMap<>(8, 0.75f, true);

    RecordingShelf(Desk desk) {
        this.desk = desk;
    }

    /** The recording with this key if it is open already; spares the look into the study. */
    synchronized @Nullable OpenRecording opened(String animal, String key) {
        OpenRecording open = kept.get(fold(animal));
        return open != null && open.key().equals(key) ? open : null;
    }

    /** The animal's newest recording with its newest reading, as they are now. */
    synchronized OpenRecording open(String animal) throws Exception {
        try (StudyStore store = StudyStore.open(desk.folder(), StudyStore.Access.READ, desk.files(), desk.clock())) {
            String name = store.find(Animal.class, animal)
                    .map(Animal::name)
                    .orElseThrow(() -> ApiException.notFound("there is no animal \"" + animal + "\" in this study"));
            ReadStudy.@Nullable OfAnimal newest = new ReadStudy(store, desk.clock()).newest(name);
            RecordingRow row = store.all(RecordingRow.class).stream()
                    .filter(r -> fold(r.animal()).equals(fold(name)))
                    .reduce((a, b) -> b.loadedUtc().isAfter(a.loadedUtc()) ? b : a)
                    .orElseThrow(() ->
                            ApiException.notFound("animal \"" + name + "\" has no recording yet; load its download"));
            Reading reading =
                    newest != null && newest.recording().sha256().equals(row.sha256()) ? newest.reading() : null;
            String key = row.sha256().substring(0, 20)
                    + (reading == null || newest == null
                            ? ""
                            : "-" + newest.row().key().substring(0, 20));
            OpenRecording already = kept.get(fold(name));
            if (already != null && already.key().equals(key)) {
                return already;
            }
            Recording recording =
                    ColumnStore.parquet().open(store.recordingsFolder().resolve(row.parquetName()));
            List<OpenRecording.Track> tracks = OpenRecording.tracksOf(recording, reading);
            OpenRecording open =
                    new OpenRecording(name, key, recording, reading, tracks, summary(store, key, recording, tracks));
            kept.put(fold(name), open);
            while (kept.size() > MOST_KEPT) {
                kept.remove(kept.keySet().iterator().next());
            }
            return open;
        }
    }

    private MinMaxFile summary(StudyStore store, String key, Recording recording, List<OpenRecording.Track> tracks)
            throws IOException {
        FileStore files = desk.files();
        Path folder = store.folder().resolve(FOLDER);
        Path file = folder.resolve(key + ".minmax");
        MinMaxFile.Header header = new MinMaxFile.Header(
                key,
                recording.samples().sampleCount(),
                tracks.stream().map(OpenRecording.Track::name).toList());
        if (Files.isRegularFile(file)) {
            try {
                MinMaxFile found = MinMaxFile.open(file);
                if (found.header().equals(header)) {
                    return found;
                }
            } catch (IOException damaged) {
                // A summary can always be built again from the recording; the reason why it could not be used is not
                // lost
                // to anybody who needs it.
                files.delete(file);
            }
        }
        files.makeFolder(folder);
        files.sweep(folder);
        files.write(
                file,
                aside -> MinMaxFile.write(
                        aside,
                        header,
                        (series, from, count, into) ->
                                tracks.get(series).reader().read(from, count, into)));
        return MinMaxFile.open(file);
    }

    private static String fold(String name) {
        return name.toLowerCase(Locale.ROOT);
    }
}
