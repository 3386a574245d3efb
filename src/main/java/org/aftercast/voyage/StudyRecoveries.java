package org.aftercast.voyage;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.nio.file.Files;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import org.aftercast.estimate.AnimalRecovery;
import org.aftercast.report.AnimalSection;
import org.aftercast.study.ReadingRow;
import org.aftercast.study.StudyStore;

/**
 * Recovery times of a study's animals as the estimate needs them, one for each animal and measure of its reading: seen, or
 * later than the lower bound where the animal had not recovered when its record ended. Animals that were never disturbed, or
 * swam too little, have none.
 */
final class StudyRecoveries {

    private static final ObjectMapper MAPPER = new ObjectMapper();

    private StudyRecoveries() {}

    /** From the stored readings behind these animals. */
    static List<AnimalRecovery> of(StudyStore store, List<StudyOutcomes.Decided> animals) throws IOException {
        ZoneId zone = ZoneId.of(store.info().timeZone());
        List<AnimalRecovery> out = new ArrayList<>();
        for (StudyOutcomes.Decided one : animals) {
            ReadingRow reading = one.reading();
            if (reading != null) {
                String animal = one.outcome().animal();
                JsonNode json = MAPPER.readTree(Files.readAllBytes(
                        store.readingsFolder().resolve(reading.folder()).resolve(ReadingFiles.RESULT)));
                out.addAll(ofLines(animal, new ReadingSections(json, zone, animal).recovery()));
            }
        }
        return out;
    }

    /** From the sections of a report. */
    static List<AnimalRecovery> ofSections(List<AnimalSection> animals) {
        List<AnimalRecovery> out = new ArrayList<>();
        for (AnimalSection animal : animals) {
            AnimalSection.ReadingSection reading = animal.reading();
            if (reading != null) {
                out.addAll(ofLines(animal.name(), reading.recovery()));
            }
        }
        return out;
    }

    private static List<AnimalRecovery> ofLines(String animal, List<AnimalSection.RecoveryLine> lines) {
        List<AnimalRecovery> out = new ArrayList<>();
        for (AnimalSection.RecoveryLine line : lines) {
            boolean seen = line.outcome() == AnimalSection.RecoveryOutcome.RECOVERED;
            boolean later = line.outcome() == AnimalSection.RecoveryOutcome.NOT_WITHIN_RECORD;
            if ((seen || later) && line.hours() >= 0) {
                out.add(new AnimalRecovery(
                        animal,
                        line.measure(),
                        line.hours(),
                        seen ? AnimalRecovery.Seen.RECOVERED : AnimalRecovery.Seen.LATER_THAN,
                        seen && Double.isFinite(line.lowH()) ? line.lowH() : null,
                        seen && Double.isFinite(line.highH()) ? line.highH() : null));
            }
        }
        return out;
    }
}
