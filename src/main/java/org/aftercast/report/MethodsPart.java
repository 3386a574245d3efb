package org.aftercast.report;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import org.aftercast.report.AnimalSection.DecidedBy;
import org.aftercast.report.AnimalSection.MotionFacts;
import org.aftercast.report.AnimalSection.ReadingSection;
import org.aftercast.report.AnimalSection.RecoveryLine;

/** The methods section, from what was actually done: only methods that were used are described. */
final class MethodsPart {

    private MethodsPart() {}

    static void write(StudyReport report, Html html) {
        html.p("This text describes what was done with these data. It can be pasted into a manuscript.");
        List<String> paragraphs = paragraphs(report);
        paragraphs.subList(0, paragraphs.size() - 1).forEach(html::p);
        List<String> topics = byTopic(report);
        if (!topics.isEmpty()) {
            html.p("The methods of the estimate, by topic:").list(topics);
        }
        html.p(paragraphs.get(paragraphs.size() - 1));
        notes(report, html);
    }

    static List<String> paragraphs(StudyReport report) {
        List<ReadingSection> readings = new ArrayList<>();
        for (AnimalSection animal : report.animals()) {
            ReadingSection reading = animal.reading();
            if (reading != null) {
                readings.add(reading);
            }
        }
        List<String> out = new ArrayList<>();
        if (readings.isEmpty()) {
            out.add("No recording had been read when this report was made.");
            return out;
        }
        out.add(recordings(readings));
        out.add("Acceleration was turned from the axes of the logger to those of the animal (head, left, back), using"
                + " stretches of confirmed level swimming only. The slow part of acceleration (below "
                + range(
                        readings.stream()
                                .mapToDouble(r -> r.motion().postureCutoffHz())
                                .toArray(),
                        2,
                        "Hz")
                + ") was taken as posture: pitch is head-up positive, roll right-side-down positive. Posture is relative:"
                + " levelling on swimming removes the animal's own steady pitch and roll.");
        List<ReadingSection> withBeats =
                readings.stream().filter(r -> r.motion().beatRefusal() == null).toList();
        if (!withBeats.isEmpty()) {
            out.add(beats(withBeats));
        }
        out.add("The record was then cut into bouts (stretches of one kind: " + kinds(readings)
                + ") and searched for short events.");
        recovery(readings, out);
        fates(readings, out);
        estimate(report, out);
        out.add("All computations were made with Aftercast " + report.madeWith().softwareVersion()
                + "; settings, versions, checksums and the seed are listed in this report.");
        return out;
    }

    private static String recordings(List<ReadingSection> readings) {
        int files = readings.stream().mapToInt(r -> r.chain().raw().size()).sum();
        return StudyFigures.counted(readings.size(), "recording", "recordings") + " from "
                + StudyFigures.counted(files, "download", "downloads") + " were read: acceleration at "
                + range(
                        readings.stream()
                                .mapToDouble(r -> r.motion().sampleRateHz())
                                .toArray(),
                        1,
                        "Hz")
                + ", length "
                + range(readings.stream().mapToDouble(ReadingSection::recordH).toArray(), 1, "h")
                + ". Gaps were left as gaps. Time at risk runs from the animal's release to its death or to the last"
                + " certain sign of life.";
    }

    private static String beats(List<ReadingSection> readings) {
        Set<String> how = new TreeSet<>();
        readings.forEach(r -> how.add(r.motion().bandSource()));
        StringBuilder out =
                new StringBuilder("Tailbeats were found in the sideways (sway) acceleration, filtered without"
                        + " shift in time to the band of tailbeats (lower edge "
                        + range(
                                readings.stream()
                                        .mapToDouble(r -> r.motion().bandLowHz())
                                        .toArray(),
                                2,
                                "Hz")
                        + ", upper edge "
                        + range(
                                readings.stream()
                                        .mapToDouble(r -> r.motion().bandHighHz())
                                        .toArray(),
                                2,
                                "Hz")
                        + "). One beat runs from one upward crossing of zero to the next; its amplitude is half the range of sway"
                        + " acceleration within it. Beats not clearly above the noise of the sensor were left out; glides count"
                        + " as missing, not as zero.");
        if (how.size() == 1) {
            out.append(" How the band was chosen: ").append(how.iterator().next());
        }
        return out.toString();
    }

    private static String kinds(List<ReadingSection> readings) {
        Set<String> words = new TreeSet<>();
        readings.forEach(r -> r.plate().bouts().forEach(b -> words.add(PlainWords.bout(b.kind()))));
        return words.isEmpty() ? "none found" : PlainWords.listed(new ArrayList<>(words));
    }

    private static void recovery(List<ReadingSection> readings, List<String> out) {
        Map<String, Set<String>> measures = new LinkedHashMap<>();
        Set<String> intervals = new TreeSet<>();
        for (ReadingSection reading : readings) {
            for (RecoveryLine line : reading.recovery()) {
                measures.computeIfAbsent(line.definition(), d -> new LinkedHashSet<>())
                        .add(line.measure());
                if (!line.interval().isEmpty()) {
                    intervals.add(line.interval());
                }
            }
        }
        measures.forEach((definition, of) -> out.add("Recovery was judged for "
                + PlainWords.listed(new ArrayList<>(of)) + ": " + definition
                + (intervals.isEmpty() ? "" : ", with a " + String.join(" or ", intervals))
                + ". Where the record ended first, recovery was kept as censored with a lower bound."));
    }

    private static void fates(List<ReadingSection> readings, List<String> out) {
        long byReaders = readings.stream()
                .filter(r -> r.fate().decidedBy() != DecidedBy.RECORD)
                .count();
        out.add("What became of the animal and how its record ended were kept apart. The evidence of each record was"
                + " weighed into probabilities of four endings (alive to the end of the record, died, taken alive, alive"
                + " when the package came off early). "
                + (byReaders == 0
                        ? "No fate was judged by a reader; all are those found from the record alone."
                        : byReaders == readings.size()
                                ? "Every fate was decided by readers, with their reasons listed."
                                : byReaders + " of " + readings.size()
                                        + " fates were decided by readers; the others are those found from the record"
                                        + " alone."));
    }

    private static void estimate(StudyReport report, List<String> out) {
        EstimateSection estimate = report.estimate();
        if (estimate == null) {
            return;
        }
        out.add("Counted as a death: " + estimate.deathRule() + "; the share is stated at "
                + Num.fixed(estimate.horizonH(), 0)
                + " h after release. Animals whose package came off early, was lost,"
                + " or whose logger stopped were censored at the last certain sign of life.");
    }

    /** The methods of the estimate by topic, one line each. */
    private static List<String> byTopic(StudyReport report) {
        EstimateSection estimate = report.estimate();
        return estimate == null
                ? List.of()
                : estimate.methods().stream()
                        .filter(method -> method.refusal() == null)
                        .map(method -> RecoveryPart.capital(method.topic()) + ": " + small(method.name()) + ".")
                        .distinct()
                        .toList();
    }

    /** Begun with a small letter, unless it is a name or an abbreviation. */
    private static String small(String words) {
        boolean name = words.startsWith("Firth")
                || words.startsWith("Kaplan")
                || words.startsWith("Jeffreys")
                || words.startsWith("Cohen");
        boolean plain = words.length() > 1 && Character.isLowerCase(words.charAt(1));
        return name || !plain ? words : Character.toLowerCase(words.charAt(0)) + words.substring(1);
    }

    private static void notes(StudyReport report, Html html) {
        Map<String, List<String>> notes = new LinkedHashMap<>();
        for (AnimalSection animal : report.animals()) {
            ReadingSection reading = animal.reading();
            if (reading == null) {
                continue;
            }
            MotionFacts motion = reading.motion();
            String refusal = motion.beatRefusal();
            if (refusal != null) {
                notes.computeIfAbsent("No tailbeats were computed: " + refusal, n -> new ArrayList<>())
                        .add(animal.name());
            }
            motion.notes()
                    .forEach(note ->
                            notes.computeIfAbsent(note, n -> new ArrayList<>()).add(animal.name()));
        }
        if (!notes.isEmpty()) {
            html.element("h3", "Warnings and departures, animal by animal");
            html.open("ul", "class", "small");
            notes.forEach((note, of) -> html.open("li")
                    .raw(Html.names(of.stream().distinct().toList()).markup())
                    .text(": " + note)
                    .close("li"));
            html.close("ul");
        }
    }

    /** One value, or the lowest and highest. */
    static String range(double[] values, int decimals, String unit) {
        double low = Double.POSITIVE_INFINITY;
        double high = Double.NEGATIVE_INFINITY;
        for (double v : values) {
            if (!Double.isNaN(v)) {
                low = Math.min(low, v);
                high = Math.max(high, v);
            }
        }
        if (low > high) {
            return "an unknown number of " + unit;
        }
        String a = Num.fixed(low, low == Math.rint(low) && decimals == 1 ? 0 : decimals);
        String b = Num.fixed(high, high == Math.rint(high) && decimals == 1 ? 0 : decimals);
        return a.equals(b) ? a + " " + unit : a + " to " + b + " " + unit;
    }
}
