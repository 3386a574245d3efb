package org.aftercast.voyage;

import com.fasterxml.jackson.annotation.JsonInclude;
import com.fasterxml.jackson.databind.JsonNode;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.aftercast.behaviour.Moment;
import org.aftercast.behaviour.Recovery;
import org.aftercast.behaviour.RecoveryCurve;
import org.aftercast.behaviour.RecoveryReading;
import org.aftercast.fate.Evidence;
import org.aftercast.intake.DownloadLayout;
import org.aftercast.intake.LayoutJson;
import org.aftercast.motion.Beats;
import org.aftercast.motion.FrameBlock;
import org.aftercast.motion.MotionSummary;
import org.aftercast.motion.MountPose;
import org.aftercast.recording.Flag;
import org.aftercast.recording.SampleClock;
import org.aftercast.recording.SampleRange;
import org.jspecify.annotations.Nullable;

/**
 * A reading as it is written: the machine-readable result of {@code aftercast read --json}, described by
 * {@code docs/reading.schema.json}. Seconds count from the first sample. A number that cannot be had is null, never NaN.
 */
@JsonInclude(JsonInclude.Include.ALWAYS)
public record ReadingDocument(
        String format,
        String softwareVersion,
        RecordingPart recording,
        BeatsPart beats,
        MotionPart motion,
        SummaryPart summary,
        TimesPart times,
        List<BoutPart> bouts,
        List<EventPart> events,
        @Nullable Double falseBurstsPerDay,
        RecoveryPart recovery,
        List<RecoveryPart> recoveryMeasures,
        FatePart fate,
        List<String> notes,
        KnownPart known,
        Settings settings) {

    /** Value of {@code format}: name and version of this document's shape. */
    public static final String FORMAT = "aftercast-reading-1";

    public record GapPart(double startS, double endS) {}

    public record FlagPart(
            String kind, @Nullable Double startS, @Nullable Double endS, String note) {}

    public record RecordingPart(
            String source,
            String sha256,
            @Nullable String startUtc,
            double durationS,
            double sampleRateHz,
            long sampleCount,
            List<String> channels,
            List<GapPart> gaps,
            List<FlagPart> flags,
            @Nullable JsonNode layout,
            List<String> guess) {}

    public record BeatPart(double startS, double periodS, double amplitudeG, double peakToPeakG, double confidence) {}

    public record BeatsPart(
            int count, @Nullable Double medianHz, @Nullable Double medianAmplitudeG, List<BeatPart> list) {}

    public record FramePart(
            double startS,
            double endS,
            String status,
            double[] rotation,
            double tiltUncertaintyDeg,
            double yawUncertaintyDeg,
            double mountPitchDeg,
            double mountRollDeg,
            double mountYawDeg) {}

    public record MotionPart(
            double bandLowHz,
            double bandHighHz,
            String bandSource,
            double postureCutoffHz,
            @Nullable Double noiseG,
            @Nullable String beatRefusal,
            @Nullable Double methodAgreement,
            List<FramePart> frames) {}

    public record MeanPart(
            String measure,
            int seconds,
            double median,
            double mean,
            @Nullable Double low,
            @Nullable Double high,
            int minutes,
            double independentMinutes) {}

    public record PitchSpeedPart(
            int minutes,
            @Nullable Double levelDeg,
            @Nullable Double degPerMps,
            @Nullable Double correlation) {}

    public record StillPart(
            double seconds,
            @Nullable Double dynamicL1G,
            @Nullable Double dynamicL2G,
            @Nullable Double jerkGps) {}

    public record SummaryPart(
            double startS,
            double endS,
            List<MeanPart> means,
            double postureS,
            double rolledOverS,
            double upsideDownS,
            PitchSpeedPart pitchAgainstVerticalSpeed,
            StillPart still) {}

    public record MomentPart(double atS, double lowS, double highS, String how, String note) {}

    public record TimesPart(MomentPart release, MomentPart detachment, double atRiskHours) {}

    public record BoutPart(String kind, double startS, double endS, double probability) {}

    public record EventPart(String kind, double atS, double durationS, double size) {}

    public record RecoveryPart(
            String status,
            String measure,
            String unit,
            String model,
            String definition,
            @Nullable Double hours,
            @Nullable Double lowHours,
            @Nullable Double highHours,
            @Nullable Double startValue,
            @Nullable Double normalValue,
            @Nullable Double ownMeanHours,
            @Nullable Double logOddsOfReturn,
            Map<String, Double> akaike,
            String sentence,
            @Nullable String statement,
            @Nullable Double firstRestFromHours,
            @Nullable Double firstRestMinutes) {}

    public record SightingPart(
            String what, @Nullable String atUtc, @Nullable Double atS, String note) {}

    /** What was known beside the recording; given back with the settings it gives the same reading. */
    public record KnownPart(
            @Nullable String releaseUtc,
            @Nullable String detachUtc,
            @Nullable String plannedDetachUtc,
            String restsOnBottom,
            @Nullable Double siteDepthM,
            @Nullable String recordEnd,
            List<SightingPart> sightings) {}

    public record ProbabilitiesPart(double survived, double died, double eaten, double shed) {}

    public record ChangePart(double low, double mid, double high) {}

    public record EvidencePart(
            String sentence,
            String seen,
            @Nullable Double value,
            @Nullable Double reference,
            String favours,
            double logOdds,
            @Nullable Double startS,
            @Nullable Double endS,
            String source) {}

    public record EndingPart(String kind, double probability, String sentence) {}

    public record FatePart(
            String call,
            String animal,
            String recordEnd,
            ProbabilitiesPart probabilities,
            @Nullable ChangePart changeAtS,
            double lastCertainSignOfLifeS,
            String predator,
            List<EndingPart> endings,
            String recordOnlyCall,
            ProbabilitiesPart recordOnlyProbabilities,
            String summary,
            List<EvidencePart> evidence,
            List<String> wouldChangeTheMind) {}

    /**
     * Makes the document.
     *
     * @param reading the reading
     * @param source name of the file or recording, as the user gave it
     * @param layout how the download was read, or null when it was loaded earlier
     * @param guess how that layout was found, line by line
     */
    public static ReadingDocument of(
            Reading reading, String source, @Nullable DownloadLayout layout, List<String> guess) {
        List<String> notes = new ArrayList<>(reading.motion().notes());
        notes.addAll(reading.behaviour().notes());
        notes.addAll(reading.fate().notes());
        return new ReadingDocument(
                FORMAT,
                reading.softwareVersion(),
                recording(reading.recording(), source, layout, guess),
                beats(reading.beats()),
                motion(reading),
                summary(reading),
                new TimesPart(
                        moment(reading.behaviour().release()),
                        moment(reading.behaviour().detachment()),
                        reading.atRiskH()),
                reading.behaviour().bouts().stream()
                        .map(b -> new BoutPart(b.kind().word(), b.startS(), b.endS(), b.probability()))
                        .toList(),
                reading.behaviour().events().stream()
                        .map(e -> new EventPart(e.kind().word(), e.atS(), e.durationS(), e.size()))
                        .toList(),
                finite(reading.behaviour().falseBurstsPerDay()),
                headline(reading),
                reading.behaviour().recovery().measures().stream()
                        .map(r -> recovery(r, reading))
                        .toList(),
                fate(reading),
                notes,
                known(reading),
                reading.settings());
    }

    private static KnownPart known(Reading reading) {
        var b = reading.behaviour().inputs();
        var f = reading.fate().inputs();
        SampleClock clock = reading.recording().clock();
        return new KnownPart(
                utc(clock, b.releaseS()),
                utc(clock, b.detachS()),
                utc(clock, f.plannedDetachS()),
                word(b.restsOnBottom()),
                b.siteDepthM(),
                f.recordEnd() == null ? null : word(f.recordEnd()),
                f.sightings().stream()
                        .map(seen ->
                                new SightingPart(word(seen.what()), utc(clock, seen.atS()), seen.atS(), seen.note()))
                        .toList());
    }

    private static @Nullable String utc(SampleClock clock, @Nullable Double seconds) {
        Instant start = clock.startUtc();
        return start == null || seconds == null
                ? null
                : start.plusNanos(Math.round(seconds * 1e9)).toString();
    }

    private static RecoveryPart headline(Reading reading) {
        RecoveryReading all = reading.behaviour().recovery();
        RecoveryPart r = recovery(all.headline(), reading);
        return new RecoveryPart(
                r.status(),
                r.measure(),
                r.unit(),
                r.model(),
                r.definition(),
                r.hours(),
                r.lowHours(),
                r.highHours(),
                r.startValue(),
                r.normalValue(),
                r.ownMeanHours(),
                r.logOddsOfReturn(),
                r.akaike(),
                r.sentence(),
                all.statement(),
                finite(all.firstRestFromH()),
                finite(all.firstRestMin()));
    }

    private static RecordingPart recording(
            Reading.About about, String source, @Nullable DownloadLayout layout, List<String> guess) {
        SampleClock clock = about.clock();
        return new RecordingPart(
                source,
                about.sha256(),
                clock.startUtc() == null ? null : clock.startUtc().toString(),
                about.durationS(),
                clock.sampleRateHz(),
                about.sampleCount(),
                about.channels().stream().map(c -> c.columnName()).toList(),
                about.gaps().stream()
                        .map(g -> new GapPart(clock.secondsAt(g.fromSample()), clock.secondsAt(g.toSample())))
                        .toList(),
                about.flags().stream().map(f -> flag(f, clock)).toList(),
                layout == null ? null : ResultJson.tree(LayoutJson.write(layout)),
                guess);
    }

    private static FlagPart flag(Flag flag, SampleClock clock) {
        SampleRange where = flag.where();
        return new FlagPart(
                word(flag.kind()),
                where == null ? null : clock.secondsAt(where.fromSample()),
                where == null ? null : clock.secondsAt(where.toSample()),
                flag.note());
    }

    private static BeatsPart beats(Beats beats) {
        List<BeatPart> list = new ArrayList<>(beats.count());
        double[] hz = new double[beats.count()];
        double[] amplitude = new double[beats.count()];
        for (int i = 0; i < beats.count(); i++) {
            hz[i] = 1.0 / beats.periodS()[i];
            amplitude[i] = beats.amplitudeG()[i];
            list.add(new BeatPart(
                    beats.startS()[i],
                    beats.periodS()[i],
                    beats.amplitudeG()[i],
                    beats.peakToPeakG()[i],
                    beats.confidence()[i]));
        }
        return new BeatsPart(beats.count(), median(hz), median(amplitude), list);
    }

    private static @Nullable Double median(double[] values) {
        if (values.length == 0) {
            return null;
        }
        double[] sorted = values.clone();
        Arrays.sort(sorted);
        int n = sorted.length;
        return n % 2 == 1 ? sorted[n / 2] : (sorted[n / 2 - 1] + sorted[n / 2]) / 2;
    }

    private static MotionPart motion(Reading reading) {
        List<FramePart> frames = new ArrayList<>();
        for (FrameBlock f : reading.motion().frames()) {
            MountPose mount = MountPose.of(f.fromS(), f.rotation());
            frames.add(new FramePart(
                    f.fromS(),
                    f.toS(),
                    word(f.status()),
                    f.rotation(),
                    f.tiltUncertaintyDeg(),
                    f.yawUncertaintyDeg(),
                    mount.pitchDeg(),
                    mount.rollDeg(),
                    mount.yawDeg()));
        }
        return new MotionPart(
                reading.motion().bandLowHz(),
                reading.motion().bandHighHz(),
                reading.motion().bandSource(),
                reading.motion().postureCutoffHz(),
                finite(reading.motion().noiseG()),
                reading.motion().beatRefusal(),
                finite(reading.motion().methodAgreement()),
                frames);
    }

    /** What the stretch from release to detachment amounts to. */
    private static SummaryPart summary(Reading reading) {
        int from = (int) Math.ceil(Math.max(0, reading.behaviour().release().atS()));
        int to = (int) Math.floor(reading.behaviour().detachment().atS());
        MotionSummary m = MotionSummary.of(reading.motion(), from, to);
        List<MeanPart> means = new ArrayList<>();
        for (MotionSummary.Line line : m.lines()) {
            means.add(new MeanPart(
                    line.measure(),
                    line.seconds(),
                    line.median(),
                    line.mean().mean(),
                    finite(line.mean().low()),
                    finite(line.mean().high()),
                    line.mean().n(),
                    line.mean().effectiveN()));
        }
        MotionSummary.PitchSpeed p = m.pitchSpeed();
        return new SummaryPart(
                from,
                Math.max(from, to),
                means,
                m.postureS(),
                m.rolledOverS(),
                m.upsideDownS(),
                new PitchSpeedPart(p.minutes(), finite(p.levelDeg()), finite(p.degPerMps()), finite(p.correlation())),
                new StillPart(m.stillS(), finite(m.stillL1G()), finite(m.stillL2G()), finite(m.stillJerkGps())));
    }

    private static MomentPart moment(Moment m) {
        return new MomentPart(m.atS(), m.lowS(), m.highS(), word(m.how()), m.note());
    }

    private static RecoveryPart recovery(Recovery r, Reading reading) {
        Map<String, Double> akaike = new LinkedHashMap<>();
        for (RecoveryCurve curve : RecoveryCurve.values()) {
            Double value = r.akaike().get(curve);
            if (value != null && Double.isFinite(value)) {
                akaike.put(word(curve), value);
            }
        }
        return new RecoveryPart(
                word(r.status()),
                r.measure().word(),
                r.measure().unit(),
                word(r.curve()),
                String.format(
                        Locale.ROOT,
                        "time to %.0f %% of the way from the value at release back to the animal's own normal",
                        100 * reading.settings().behaviour().recoveredShare()),
                finite(r.recoveredH()),
                finite(r.lowH()),
                finite(r.highH()),
                finite(r.startValue()),
                finite(r.normalValue()),
                finite(r.ownMeanH()),
                finite(r.logOdds()),
                akaike,
                r.sentence(),
                null,
                null,
                null);
    }

    private static FatePart fate(Reading reading) {
        var fate = reading.fate();
        var change = fate.changeAtS();
        return new FatePart(
                word(fate.call()),
                word(fate.animal()),
                word(fate.recordEnd()),
                probabilities(fate.probabilities()),
                change == null ? null : new ChangePart(change.lowS(), change.midS(), change.highS()),
                fate.lastCertainSignOfLifeS(),
                word(fate.predator()),
                fate.endings().stream()
                        .map(e -> new EndingPart(word(e.kind()), e.probability(), e.sentence()))
                        .toList(),
                word(fate.recordOnlyCall()),
                probabilities(fate.recordOnly()),
                fate.summary(),
                fate.evidence().stream().map(ReadingDocument::evidence).toList(),
                fate.wouldChangeTheMind());
    }

    private static ProbabilitiesPart probabilities(org.aftercast.fate.FateProbabilities p) {
        return new ProbabilitiesPart(p.survived(), p.died(), p.eaten(), p.shed());
    }

    private static EvidencePart evidence(Evidence e) {
        return new EvidencePart(
                e.sentence(),
                e.seen(),
                finite(e.value()),
                finite(e.reference()),
                word(e.favours()),
                e.logOdds(),
                finite(e.fromS()),
                finite(e.toS()),
                word(e.source()));
    }

    /** An enum constant as a hyphenated lower-case word. */
    static String word(Enum<?> constant) {
        return constant.name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    private static @Nullable Double finite(double value) {
        return Double.isFinite(value) ? value : null;
    }

    /** The document as UTF-8 JSON. */
    public byte[] toJson() {
        return ResultJson.of(this);
    }
}
