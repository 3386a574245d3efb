package org.aftercast.voyage;

import java.io.IOException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.aftercast.fate.FateInputs;
import org.aftercast.fate.FateReader;
import org.aftercast.fate.FateReading;
import org.aftercast.intake.ImportException;
import org.aftercast.study.ReadingRow;
import org.aftercast.study.RecordingRow;
import org.aftercast.study.StudyStore;

/**
 * Holds each animal's normal against the rest of the study. The comparison is a note beside a reading, not part of it: a
 * kept reading stays what it was when another animal is added, and no odds rest on it.
 */
final class AmongOthers {

    private AmongOthers() {}

    /** The same readings, each with a note on how it swims among the others; unchanged where there are fewer than three. */
    static List<ReadStudy.OfAnimal> compare(List<ReadStudy.OfAnimal> readings, StudyStore store) throws IOException {
        Map<String, Double> beatHz = new HashMap<>();
        for (ReadStudy.OfAnimal one : readings) {
            beatHz.put(one.animal(), one.reading().behaviour().normal().beatHz());
        }
        Set<String> read = new HashSet<>(beatHz.keySet());
        for (RecordingRow row : store.all(RecordingRow.class)) {
            if (read.add(row.animal())) {
                keptBeatHz(row, store, beatHz);
            }
        }
        List<ReadStudy.OfAnimal> compared = new ArrayList<>();
        for (ReadStudy.OfAnimal one : readings) {
            double[] others = beatHz.entrySet().stream()
                    .filter(e -> !e.getKey().equals(one.animal()) && e.getValue() > 0)
                    .mapToDouble(Map.Entry::getValue)
                    .toArray();
            FateInputs.Yardstick yardstick = FateInputs.Yardstick.of(others);
            String note = yardstick == null
                    ? ""
                    : FateReader.among(one.reading().behaviour().normal().beatHz(), yardstick);
            compared.add(
                    note.isEmpty()
                            ? one
                            : new ReadStudy.OfAnimal(
                                    one.animal(), one.recording(), one.row(), with(one.reading(), note)));
        }
        return compared;
    }

    private static void keptBeatHz(RecordingRow row, StudyStore store, Map<String, Double> beatHz) throws IOException {
        ReadingRow newest = null;
        for (ReadingRow reading : store.all(ReadingRow.class)) {
            if (reading.recordingSha256().equals(row.sha256())
                    && (newest == null || reading.readUtc().isAfter(newest.readUtc()))) {
                newest = reading;
            }
        }
        if (newest == null) {
            return;
        }
        try {
            beatHz.put(row.animal(), ReadingFiles.beatHz(store.readingsFolder().resolve(newest.folder())));
        } catch (ImportException damaged) {
            // a damaged reading is no yardstick; it is computed anew when its own animal is read
            beatHz.remove(row.animal());
        }
    }

    private static Reading with(Reading r, String note) {
        FateReading f = r.fate();
        List<String> notes = new ArrayList<>(f.notes());
        notes.add(note);
        FateReading noted = new FateReading(
                f.settings(),
                f.inputs(),
                f.call(),
                f.animal(),
                f.recordEnd(),
                f.probabilities(),
                f.recordOnlyCall(),
                f.recordOnly(),
                f.changeAtS(),
                f.evidence(),
                f.wouldChangeTheMind(),
                f.lastCertainSignOfLifeS(),
                f.predator(),
                f.endings(),
                f.summary(),
                notes);
        return new Reading(
                r.softwareVersion(), r.settings(), r.recording(), r.motion(), r.beats(), r.behaviour(), noted);
    }
}
