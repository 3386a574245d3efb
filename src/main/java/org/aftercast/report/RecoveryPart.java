package org.aftercast.report;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.aftercast.fate.AnimalFate;
import org.aftercast.report.AnimalSection.ReadingSection;
import org.aftercast.report.AnimalSection.RecoveryLine;
import org.aftercast.report.StudyFigures.AnimalRecovery;

/** Recovery of all animals, measure by measure, and pooled. */
final class RecoveryPart {

    private RecoveryPart() {}

    static void write(StudyReport report, Html html) {
        html.p("Recovery is the time after release until a measure is back at the animal's own later normal. An animal"
                + " that could not be seen to come back is shown with an arrow: its recovery took longer than where the"
                + " arrow begins.");
        Map<String, List<AnimalRecovery>> measures = measures(report);
        if (measures.isEmpty()) {
            html.p("No recovery was computed.");
        }
        EstimateSection estimate = report.estimate();
        if (estimate != null && !estimate.recovery().isEmpty()) {
            List<List<Object>> rows = new ArrayList<>();
            for (EstimateSection.RecoveryAcross line : estimate.recovery()) {
                String remark = line.remark();
                rows.add(List.of(
                        line.measure(),
                        Double.isNaN(line.hours()) ? Num.NONE : PlainWords.duration(line.hours()),
                        Double.isNaN(line.lowH()) ? Num.NONE : PlainWords.durations(line.lowH(), line.highH()),
                        line.animals(),
                        line.censored(),
                        remark == null ? line.method() : remark));
            }
            html.table(
                    "Recovery across animals. How: "
                            + estimate.recovery().get(0).method() + ".",
                    List.of("measure", "half by", "interval", "animals", "lower limit only", "remark"),
                    List.of(1, 2, 3, 4),
                    rows);
        }
        List<String> definitions = measures.values().stream()
                .flatMap(List::stream)
                .map(row -> row.line().definition())
                .distinct()
                .toList();
        if (definitions.size() == 1) {
            html.p("Recovered means: " + definitions.get(0) + ".");
        }
        measures.forEach((measure, rows) -> {
            html.open("div", "class", "keep").element("h3", capital(measure));
            if (definitions.size() > 1) {
                html.p("Recovered means: " + rows.get(0).line().definition() + ".");
            }
            html.open("p").raw(withoutRow(rows)).close("p");
            if (rows.stream().anyMatch(StudyFigures::hasRow)) {
                html.figure(
                        StudyFigures.recovery(measure, rows, StudyDocument.TEXT_WIDTH_MM),
                        "Recovery of " + measure + ", animal by animal"
                                + rows.stream()
                                        .map(row -> row.line().interval())
                                        .filter(interval -> !interval.isEmpty())
                                        .findFirst()
                                        .map(interval -> ", with " + interval)
                                        .orElse("")
                                + ". Animals that died or were eaten are shown here but are not among those whose"
                                + " typical time is given above.");
            }
            html.close("div");
        });
    }

    /** The animals that have no row in the figure, and why. */
    private static String withoutRow(List<AnimalRecovery> rows) {
        List<String> undisturbed = new ArrayList<>();
        List<String> unclear = new ArrayList<>();
        for (AnimalRecovery row : rows) {
            switch (row.line().outcome()) {
                case NOTHING_TO_RECOVER -> undisturbed.add(row.animal());
                case CANNOT_TELL -> unclear.add(row.animal());
                case RECOVERED, NOT_WITHIN_RECORD -> {
                    // in the figure
                }
            }
        }
        StringBuilder out = new StringBuilder();
        if (!undisturbed.isEmpty()) {
            out.append("No departure from its own level stood out: ")
                    .append(Html.names(undisturbed).markup())
                    .append(". ");
        }
        if (!unclear.isEmpty()) {
            out.append("The record cannot tell: ")
                    .append(Html.names(unclear).markup())
                    .append(".");
        }
        return out.isEmpty() ? "Every animal is in the figure." : out.toString().trim();
    }

    static Map<String, List<AnimalRecovery>> measures(StudyReport report) {
        Map<String, List<AnimalRecovery>> out = new LinkedHashMap<>();
        for (AnimalSection animal : report.animals()) {
            ReadingSection reading = animal.reading();
            if (reading == null) {
                continue;
            }
            for (RecoveryLine line : reading.recovery()) {
                out.computeIfAbsent(line.measure(), m -> new ArrayList<>())
                        .add(new AnimalRecovery(
                                animal.name() + ending(reading.fate().animal()), line));
            }
        }
        return out;
    }

    private static String ending(AnimalFate fate) {
        return switch (fate) {
            case DIED, DEAD_THEN_SCAVENGED -> " (died)";
            case EATEN -> " (eaten)";
            case ALIVE_AT_END, UNDECIDED -> "";
        };
    }

    static String capital(String words) {
        return words.isEmpty() ? words : Character.toUpperCase(words.charAt(0)) + words.substring(1);
    }
}
