package org.aftercast.report;

import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.aftercast.fate.AnimalFate;
import org.aftercast.fate.FateProbabilities;
import org.aftercast.fate.RecordEnd;
import org.jspecify.annotations.Nullable;

/**
 * One animal of the study.
 *
 * @param name its name in the study
 * @param capture how it was caught and handled
 * @param stage how far it has come
 * @param reading what its recording says, or null without one
 */
public record AnimalSection(
        String name,
        CaptureFacts capture,
        Stage stage,
        @Nullable ReadingSection reading) {

    /** How far an animal has come. */
    public enum Stage {
        NOT_RELEASED("not released yet"),
        AT_SEA("package still at sea"),
        LOST("search abandoned, package lost"),
        RETRIEVED("package retrieved, not loaded"),
        STRANDED("package found ashore, not loaded"),
        HANDED_IN("package handed in, not loaded"),
        LOADED("recording loaded, not read"),
        READ("recording read");

        private final String words;

        Stage(String words) {
            this.words = words;
        }

        /** In words. */
        public String words() {
            return words;
        }

        /** Whether it was released and nothing of its recording is in the study. */
        boolean withoutPackage() {
            return this == AT_SEA || this == LOST || this == RETRIEVED || this == STRANDED || this == HANDED_IN;
        }
    }

    /** Capture, handling and release; everything may be unknown (null). Units are in the names. */
    public record CaptureFacts(
            @Nullable String species,
            @Nullable String trip,
            @Nullable String vessel,
            @Nullable String gear,
            @Nullable String hookType,
            @Nullable String hookLocation,
            @Nullable String hookLeft,
            @Nullable String bleeding,
            @Nullable String barotrauma,
            @Nullable Instant hookedUtc,
            @Nullable Double fightMin,
            @Nullable Double airExposureS,
            @Nullable Double captureDepthM,
            @Nullable Double lengthM,
            @Nullable Double massKg,
            @Nullable String sex,
            @Nullable Integer reflexesTested,
            @Nullable Integer reflexesMissing,
            @Nullable Integer injuryScore,
            @Nullable Double waterTempC,
            @Nullable Double latDeg,
            @Nullable Double lonDeg,
            @Nullable Instant releasedUtc,
            @Nullable String releaseState,
            @Nullable String packageSerial,
            @Nullable Double packageMassG,
            @Nullable Instant plannedDetachmentUtc,
            @Nullable String notes) {

        /** An animal of which nothing is known. */
        public static CaptureFacts unknown() {
            return new CaptureFacts(
                    null, null, null, null, null, null, null, null, null, null, null, null, null, null, null, null,
                    null, null, null, null, null, null, null, null, null, null, null, null);
        }
    }

    /**
     * What the recording of one animal says.
     *
     * @param plate its figure
     * @param recordH length of the recording in hours
     * @param fate what became of it
     * @param recovery one line per measure; may be empty
     * @param recoveryStatement what the measures say together; may be empty
     * @param motion how the movements were computed
     * @param chain from the raw bytes to the reading
     */
    public record ReadingSection(
            Plate plate,
            double recordH,
            FateSection fate,
            List<RecoveryLine> recovery,
            String recoveryStatement,
            MotionFacts motion,
            Chain chain) {

        public ReadingSection {
            recovery = List.copyOf(recovery);
        }
    }

    /**
     * What became of one animal, and how its record ended.
     *
     * @param animal what became of the animal
     * @param end how the record ended
     * @param decidedBy who decided
     * @param probabilities from the record alone, or null
     * @param atRiskH hours from release to death or to the last certain sign of life
     * @param changeH hours from release to the change of state, or null for none
     * @param changeLowH earliest, or null
     * @param changeHighH latest, or null
     * @param evidence most telling first
     * @param wouldChange what would have to be seen for another call, one sentence each
     * @param verdicts by readers, in order; may be empty
     * @param pointer where in the result file of the reading the fate stands (JSON Pointer)
     */
    public record FateSection(
            AnimalFate animal,
            RecordEnd end,
            DecidedBy decidedBy,
            @Nullable FateProbabilities probabilities,
            double atRiskH,
            @Nullable Double changeH,
            @Nullable Double changeLowH,
            @Nullable Double changeHighH,
            List<EvidenceLine> evidence,
            List<String> wouldChange,
            List<VerdictLine> verdicts,
            String pointer) {

        public FateSection {
            evidence = List.copyOf(evidence);
            wouldChange = List.copyOf(wouldChange);
            verdicts = List.copyOf(verdicts);
        }
    }

    /** Who decided a fate. */
    public enum DecidedBy {
        /** The program, from the record alone. */
        RECORD,
        /** One reader. */
        READER,
        /** Two readers, after settling. */
        READERS
    }

    /**
     * One piece of evidence.
     *
     * @param sentence what was seen, with units
     * @param towards the ending it speaks for, in a few words
     * @param odds how many times more likely this observation is under that ending than had it lived to the end, ≥ 0; NaN when the
     *     observation is shown but not weighed
     */
    public record EvidenceLine(String sentence, String towards, double odds) {}

    /** One reader's verdict. */
    public record VerdictLine(
            String role, String reader, AnimalFate animal, RecordEnd end, String reason, Instant lockedUtc) {}

    /** How a recovery ended. */
    public enum RecoveryOutcome {
        RECOVERED,
        NOT_WITHIN_RECORD,
        NOTHING_TO_RECOVER,
        CANNOT_TELL
    }

    /**
     * Recovery of one measure.
     *
     * @param measure in words
     * @param definition of recovered, in words
     * @param outcome how it ended
     * @param hours since release; for {@code NOT_WITHIN_RECORD} a lower bound; NaN when there is none
     * @param lowH lower limit of the interval, NaN for none
     * @param highH upper limit, NaN for none, infinite when open
     * @param interval name of the interval with its level, or an empty text
     * @param remark one sentence, or null
     * @param pointer where in the result file of the reading it stands (JSON Pointer)
     */
    public record RecoveryLine(
            String measure,
            String definition,
            RecoveryOutcome outcome,
            double hours,
            double lowH,
            double highH,
            String interval,
            @Nullable String remark,
            String pointer) {}

    /**
     * How the movements of one animal were computed.
     *
     * @param sampleRateHz of the acceleration
     * @param bandLowHz lower edge of the tailbeat band; NaN without beats
     * @param bandHighHz upper edge
     * @param bandSource how the band was chosen, one sentence
     * @param postureCutoffHz below it acceleration counts as posture
     * @param noiseG in-band noise, NaN when unknown
     * @param beats number of tailbeats
     * @param beatRefusal why no beats were computed, or null
     * @param notes one sentence each
     */
    public record MotionFacts(
            double sampleRateHz,
            double bandLowHz,
            double bandHighHz,
            String bandSource,
            double postureCutoffHz,
            double noiseG,
            int beats,
            @Nullable String beatRefusal,
            List<String> notes) {

        public MotionFacts {
            notes = List.copyOf(notes);
        }
    }

    /**
     * From the bytes as downloaded to the numbers.
     *
     * @param raw the downloads
     * @param recordingFile path of the recording within the study folder
     * @param recordingSha256 of that file
     * @param readingFolder path of the reading within the study folder
     * @param readingKey identity of the reading: recording, settings and version together
     * @param settingsSha256 of the settings
     * @param softwareVersion that read it
     * @param readingFiles SHA-256 by file name
     * @param resultFile name of the file in the reading that pointers refer to
     */
    public record Chain(
            List<RawLink> raw,
            String recordingFile,
            String recordingSha256,
            String readingFolder,
            String readingKey,
            String settingsSha256,
            String softwareVersion,
            Map<String, String> readingFiles,
            String resultFile) {

        public Chain {
            raw = List.copyOf(raw);
            readingFiles = java.util.Collections.unmodifiableMap(new TreeMap<>(readingFiles));
        }
    }

    /**
     * One download.
     *
     * @param file path within the study folder
     * @param originalName as it came
     * @param sha256 of its bytes
     * @param sizeBytes length
     */
    public record RawLink(String file, String originalName, String sha256, long sizeBytes) {}
}
