package org.aftercast.report;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.aftercast.report.AnimalSection.ReadingSection;
import org.aftercast.report.AnimalSection.RecoveryLine;
import org.aftercast.report.StudyFigures.AnimalRecovery;

/** Recovery of all animals, measure by measure, and pooled. */
final class RecoveryPart {

    private RecoveryPart() {}

    static void write(StudyReport report, Html html) {
        html.p(
                "Recovery is the time after release until a measure is back at the animal's own later normal. An animal"
                        + " that was not back when its record ended is shown with an arrow: its recovery took longer than that.");
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
                        Num.fixed(line.hours(), 1),
                        Double.isNaN(line.lowH())
                                ? Num.NONE
                                : Num.fixed(line.lowH(), 1) + " to " + Num.fixed(line.highH(), 1),
                        line.animals(),
                        line.censored(),
                        line.method() + (remark == null ? "" : ". " + remark)));
            }
            html.table(
                    "Recovery across animals.",
                    List.of("measure", "hours", "interval, h", "animals", "not recovered in record", "method"),
                    List.of(1, 2, 3, 4),
                    rows);
        }
        measures.forEach((measure, rows) -> {
            html.element("h3", capital(measure));
            html.p("Recovered means: " + rows.get(0).line().definition() + ".");
            html.figure(
                    StudyFigures.recovery(measure, rows, StudyDocument.TEXT_WIDTH_MM),
                    "Recovery of " + measure + ", animal by animal"
                            + (rows.get(0).line().interval().isEmpty()
                                    ? "."
                                    : ", with " + rows.get(0).line().interval() + "."));
        });
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
                        .add(new AnimalRecovery(animal.name(), line));
            }
        }
        return out;
    }

    static String capital(String words) {
        return words.isEmpty() ? words : Character.toUpperCase(words.charAt(0)) + words.substring(1);
    }
}
