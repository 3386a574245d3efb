package org.aftercast.report;

import java.util.ArrayList;
import java.util.List;
import org.aftercast.report.AnimalSection.CaptureFacts;

/** The page for managers and the table of animals. */
final class FrontPart {

    private FrontPart() {}

    static void plainWords(StudyReport report, Html html) {
        PlainWords.managers(report).forEach(html::p);
        html.figure(
                FishFigure.draw(report, StudyDocument.TEXT_WIDTH_MM),
                "One fish is drawn for every animal of the study. A fish drawn belly up died.");
        html.element("h3", "What this does not tell");
        html.list(PlainWords.limits(report));
    }

    static void animals(StudyReport report, Html html) {
        List<List<Object>> rows = new ArrayList<>();
        for (AnimalSection animal : report.animals()) {
            CaptureFacts c = animal.capture();
            rows.add(List.of(
                    Html.link("#" + StudyDocument.anchor(report, animal), animal.name()),
                    number(c.lengthM(), 2),
                    c.hookLocation() == null ? Num.NONE : c.hookLocation(),
                    number(c.fightMin(), 0),
                    number(c.airExposureS(), 0),
                    number(c.waterTempC(), 1),
                    PlainWords.whatHappened(animal)));
        }
        html.table(
                "What happened to each animal. Hours count from its release.",
                List.of("animal", "length, m", "hook in", "fight, min", "air, s", "water, °C", "what happened"),
                List.of(1, 3, 4, 5),
                rows);
        html.figure(
                TimelineFigure.draw(report, StudyDocument.TEXT_WIDTH_MM),
                "How long each animal was watched, longest first. The bar runs from release to the last certain sign of"
                        + " life or to death; the sign at its end says what became of the animal.");
    }

    static String number(@org.jspecify.annotations.Nullable Double value, int decimals) {
        return value == null ? Num.NONE : Num.fixed(value, decimals);
    }
}
