package org.aftercast.voyage;

import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.nio.file.Path;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Set;
import org.aftercast.behaviour.RecoveryMeasure;
import org.aftercast.estimate.AnimalRecovery;
import org.aftercast.estimate.RecoveryTrack;
import org.aftercast.intake.NumberTable;
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

    private static final double STRETCH_S = 1800;
    private static final int FEWEST_S = 600;

    private StudyRecoveries() {}

    /** From the stored readings behind these animals. */
    static List<AnimalRecovery> of(StudyStore store, List<StudyOutcomes.Decided> animals) throws IOException {
        ZoneId zone = ZoneId.of(store.info().timeZone());
        List<AnimalRecovery> out = new ArrayList<>();
        for (StudyOutcomes.Decided one : animals) {
            ReadingRow reading = one.reading();
            if (reading != null) {
                String animal = one.outcome().animal();
                JsonNode json = parts(
                        store.readingsFolder().resolve(reading.folder()).resolve(ReadingFiles.RESULT),
                        Set.of("recoveryMeasures", "settings"));
                out.addAll(ofLines(animal, new ReadingSections(json, zone, animal).recovery()));
            }
        }
        return out;
    }

    /**
     * The tailbeat frequency over time of every animal with a reading: medians of half hours with at least ten minutes of
     * beats, from the release to the last certain sign of life.
     */
    static List<RecoveryTrack> tracks(StudyStore store, List<StudyOutcomes.Decided> animals) throws IOException {
        List<RecoveryTrack> out = new ArrayList<>();
        for (StudyOutcomes.Decided one : animals) {
            ReadingRow reading = one.reading();
            if (reading == null || one.outcome().dead()) {
                continue;
            }
            Path folder = store.readingsFolder().resolve(reading.folder());
            double releaseS = releaseS(folder.resolve(ReadingFiles.RESULT));
            if (Double.isNaN(releaseS)) {
                continue;
            }
            float[] hz = NumberTable.readParquet(folder.resolve(ReadingFiles.SECONDS))
                    .floats("beatHz");
            RecoveryTrack track =
                    track(one.outcome().animal(), hz, releaseS, one.outcome().atRiskH());
            if (track.hours().length > 0) {
                out.add(track);
            }
        }
        return out;
    }

    static RecoveryTrack track(String animal, float[] beatHz, double releaseS, double atRiskH) {
        List<Double> hours = new ArrayList<>();
        List<Double> values = new ArrayList<>();
        double endS = Math.min(beatHz.length, releaseS + atRiskH * 3600);
        for (double from = releaseS; from + STRETCH_S <= endS; from += STRETCH_S) {
            double[] in = new double[(int) STRETCH_S];
            int n = 0;
            for (int s = (int) Math.ceil(from); s < from + STRETCH_S && s < beatHz.length; s++) {
                if (s >= 0 && !Float.isNaN(beatHz[s])) {
                    in[n++] = beatHz[s];
                }
            }
            if (n >= FEWEST_S) {
                Arrays.sort(in, 0, n);
                hours.add((from + STRETCH_S / 2 - releaseS) / 3600);
                values.add(n % 2 == 1 ? in[n / 2] : (in[n / 2 - 1] + in[n / 2]) / 2);
            }
        }
        return new RecoveryTrack(
                animal,
                RecoveryMeasure.BEAT_FREQUENCY.word(),
                RecoveryMeasure.BEAT_FREQUENCY.unit(),
                hours.stream().mapToDouble(v -> v).toArray(),
                values.stream().mapToDouble(v -> v).toArray());
    }

    private static double releaseS(Path result) throws IOException {
        JsonNode at = parts(result, Set.of("times")).at("/times/release/atS");
        return at.isNumber() ? at.doubleValue() : Double.NaN;
    }

    /** Some fields of a result file, without building the whole of it: most of it is beats and evidence. */
    private static JsonNode parts(Path result, Set<String> wanted) throws IOException {
        ObjectNode found = MAPPER.createObjectNode();
        try (JsonParser parser = MAPPER.getFactory().createParser(result.toFile())) {
            parser.nextToken();
            while (found.size() < wanted.size() && parser.nextToken() == JsonToken.FIELD_NAME) {
                String name = parser.currentName();
                parser.nextToken();
                if (wanted.contains(name)) {
                    found.set(name, MAPPER.<JsonNode>readTree(parser));
                } else {
                    parser.skipChildren();
                }
            }
        }
        return found;
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
