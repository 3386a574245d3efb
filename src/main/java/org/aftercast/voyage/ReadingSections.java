package org.aftercast.voyage;

import com.fasterxml.jackson.databind.JsonNode;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.aftercast.behaviour.Bout;
import org.aftercast.behaviour.BoutKind;
import org.aftercast.behaviour.Event;
import org.aftercast.estimate.AnimalOutcome;
import org.aftercast.fate.AnimalFate;
import org.aftercast.fate.FateProbabilities;
import org.aftercast.motion.SecondTable;
import org.aftercast.report.AnimalSection;
import org.aftercast.report.AnimalSection.DecidedBy;
import org.aftercast.report.AnimalSection.EvidenceLine;
import org.aftercast.report.AnimalSection.FateSection;
import org.aftercast.report.AnimalSection.ReadingSection;
import org.aftercast.report.AnimalSection.RecoveryLine;
import org.aftercast.report.AnimalSection.RecoveryOutcome;
import org.aftercast.report.Plate;
import org.aftercast.report.PlateSeries;
import org.aftercast.report.Span;
import org.aftercast.study.Verdict;
import org.aftercast.study.Words;
import org.jspecify.annotations.Nullable;

/**
 * One reading, as stored in {@code reading.json} (docs/reading.schema.json), as the section of a report. The numbers of the
 * report are those of the file, so that each can be pointed to there.
 */
final class ReadingSections {

    /** Bins of a plate: about one for each 0.6 points at full width. */
    private static final int BINS = 640;

    private final JsonNode json;
    private final ZoneId zone;
    private final String animal;

    ReadingSections(JsonNode json, ZoneId zone, String animal) {
        this.json = json;
        this.zone = zone;
        this.animal = animal;
    }

    ReadingSection section(
            SecondTable seconds, List<Span> nights, StudyOutcomes.Decided decided, AnimalSection.Chain chain) {
        double releaseS = number(json.at("/times/release/atS"));
        FateSection fate = fate(decided, releaseS);
        boolean detached = !text(json.at("/times/detachment/how")).equals("not-seen");
        Plate plate = new Plate(
                animal,
                PlateSeries.of(seconds, 0, seconds.seconds(), BINS),
                firstSample(),
                zone,
                releaseS,
                detached ? number(json.at("/times/detachment/atS")) : Double.NaN,
                change(fate, releaseS),
                bouts(),
                events(),
                gaps(),
                nights);
        return new ReadingSection(
                plate,
                number(json.at("/recording/durationS")) / 3600,
                fate,
                recovery(),
                recoveryStatement(),
                motion(),
                chain);
    }

    @Nullable
    Instant firstSample() {
        JsonNode start = json.at("/recording/startUtc");
        return start.isTextual() ? Instant.parse(start.textValue()) : null;
    }

    // ---- fate

    private FateSection fate(StudyOutcomes.Decided decided, double releaseS) {
        AnimalOutcome outcome = decided.outcome();
        JsonNode node = json.at("/fate");
        Double at = null;
        Double low = null;
        Double high = null;
        JsonNode change = node.at("/changeAtS");
        boolean changed = outcome.fate() != AnimalFate.ALIVE_AT_END && outcome.fate() != AnimalFate.UNDECIDED;
        if (changed && change.isObject()) {
            at = (number(change.at("/mid")) - releaseS) / 3600;
            low = (number(change.at("/low")) - releaseS) / 3600;
            high = (number(change.at("/high")) - releaseS) / 3600;
        }
        Instant first = firstSample();
        for (Verdict verdict : decided.verdicts()) {
            Instant when = verdict.changeUtc();
            if (changed && when != null && first != null && verdict.animalFate() == outcome.fate()) {
                at = (Duration.between(first, when).toMillis() / 1000.0 - releaseS) / 3600;
                if (low != null && high != null && (at < low || at > high)) {
                    low = null;
                    high = null;
                }
            }
        }
        return new FateSection(
                outcome.fate(),
                outcome.end(),
                switch (decided.decidedBy()) {
                    case PROGRAM, NOBODY -> DecidedBy.RECORD;
                    case ONE_READER -> DecidedBy.READER;
                    case TWO_READERS -> DecidedBy.READERS;
                },
                probabilities(node.at("/probabilities")),
                outcome.atRiskH(),
                at,
                low,
                high,
                evidence(node.at("/evidence")),
                texts(node.at("/wouldChangeTheMind")),
                verdicts(decided.verdicts()),
                "/fate");
    }

    private static @Nullable FateProbabilities probabilities(JsonNode p) {
        return p.isObject()
                ? new FateProbabilities(
                        number(p.at("/survived")), number(p.at("/died")), number(p.at("/eaten")), number(p.at("/shed")))
                : null;
    }

    private static List<EvidenceLine> evidence(JsonNode list) {
        List<EvidenceLine> out = new ArrayList<>();
        for (JsonNode line : list) {
            out.add(new EvidenceLine(
                    text(line.at("/sentence")),
                    towards(text(line.at("/favours"))),
                    Math.exp(number(line.at("/logOdds")))));
        }
        return out;
    }

    private static String towards(String call) {
        return switch (call) {
            case "survived" -> "lived to the end";
            case "eaten" -> "taken alive";
            case "shed" -> "package off early";
            default -> call;
        };
    }

    private static List<AnimalSection.VerdictLine> verdicts(List<Verdict> given) {
        List<AnimalSection.VerdictLine> out = new ArrayList<>();
        for (Verdict v : given) {
            out.add(new AnimalSection.VerdictLine(
                    Words.of(v.role()), v.reader(), v.animalFate(), v.recordEnd(), v.reason(), v.lockedUtc()));
        }
        return out;
    }

    private static Plate.@Nullable Change change(FateSection fate, double releaseS) {
        Double at = fate.changeH();
        Double low = fate.changeLowH();
        Double high = fate.changeHighH();
        if (at == null) {
            return null;
        }
        String what = switch (fate.animal()) {
            case EATEN -> "taken";
            case DIED, DEAD_THEN_SCAVENGED -> "died";
            case ALIVE_AT_END, UNDECIDED -> "changed";
        };
        double atS = at * 3600 + releaseS;
        return new Plate.Change(
                what, atS, low == null ? atS : low * 3600 + releaseS, high == null ? atS : high * 3600 + releaseS);
    }

    // ---- bouts, events, gaps

    private List<Bout> bouts() {
        List<Bout> out = new ArrayList<>();
        for (JsonNode bout : json.at("/bouts")) {
            out.add(new Bout(
                    Words.parse(BoutKind.class, text(bout.at("/kind"))),
                    number(bout.at("/startS")),
                    number(bout.at("/endS")),
                    number(bout.at("/probability"))));
        }
        return out;
    }

    private List<Event> events() {
        List<Event> out = new ArrayList<>();
        for (JsonNode event : json.at("/events")) {
            out.add(new Event(
                    Words.parse(Event.Kind.class, text(event.at("/kind"))),
                    number(event.at("/atS")),
                    number(event.at("/durationS")),
                    number(event.at("/size"))));
        }
        return out;
    }

    private List<Span> gaps() {
        List<Span> out = new ArrayList<>();
        for (JsonNode gap : json.at("/recording/gaps")) {
            out.add(new Span(number(gap.at("/startS")), number(gap.at("/endS"))));
        }
        return out;
    }

    // ---- recovery, motion

    List<RecoveryLine> recovery() {
        List<RecoveryLine> out = new ArrayList<>();
        int i = 0;
        for (JsonNode r : json.at("/recoveryMeasures")) {
            RecoveryOutcome outcome = switch (text(r.at("/status"))) {
                case "recovered" -> RecoveryOutcome.RECOVERED;
                case "not-within-record" -> RecoveryOutcome.NOT_WITHIN_RECORD;
                case "never-disturbed" -> RecoveryOutcome.NOTHING_TO_RECOVER;
                default -> RecoveryOutcome.CANNOT_TELL;
            };
            boolean open = outcome == RecoveryOutcome.NOT_WITHIN_RECORD;
            double low = number(r.at("/lowHours"));
            double confidence = number(json.at("/settings/behaviour/confidence"));
            out.add(new RecoveryLine(
                    text(r.at("/measure")),
                    text(r.at("/definition")),
                    outcome,
                    open ? low : number(r.at("/hours")),
                    low,
                    open ? Double.POSITIVE_INFINITY : number(r.at("/highHours")),
                    outcome == RecoveryOutcome.RECOVERED && !Double.isNaN(confidence)
                            ? EstimateSections.level(confidence) + " profile interval"
                            : "",
                    text(r.at("/sentence")),
                    "/recoveryMeasures/" + i++));
        }
        return out;
    }

    private String recoveryStatement() {
        JsonNode statement = json.at("/recovery/statement");
        return statement.isTextual() ? statement.textValue() : "";
    }

    private AnimalSection.MotionFacts motion() {
        JsonNode refusal = json.at("/motion/beatRefusal");
        return new AnimalSection.MotionFacts(
                number(json.at("/recording/sampleRateHz")),
                number(json.at("/motion/bandLowHz")),
                number(json.at("/motion/bandHighHz")),
                text(json.at("/motion/bandSource")),
                number(json.at("/motion/postureCutoffHz")),
                number(json.at("/motion/noiseG")),
                json.at("/beats/count").asInt(),
                refusal.isTextual() ? refusal.textValue() : null,
                texts(json.at("/notes")));
    }

    // ---- reading JSON

    private static double number(JsonNode node) {
        return node.isNumber() ? node.doubleValue() : Double.NaN;
    }

    private static String text(JsonNode node) {
        return node.isTextual() ? node.textValue() : "";
    }

    private static List<String> texts(JsonNode list) {
        List<String> out = new ArrayList<>();
        list.forEach(node -> out.add(text(node)));
        return out;
    }

    static String fileName(String animal) {
        return animal.toLowerCase(Locale.ROOT).replaceAll("[^a-z0-9]+", "-").replaceAll("^-|-$", "");
    }
}
