package org.aftercast.report;

import java.util.ArrayList;
import java.util.List;

/** What was planned before the first animal, and what came of it. */
final class PlanPart {

    private PlanPart() {}

    static void write(StudyReport report, Html html) {
        PlanSection section = report.plan();
        if (section == null) {
            return;
        }
        section.planned().forEach(html::p);
        html.figure(
                PlanFigure.draw(section.plan(), StudyDocument.TEXT_WIDTH_MM),
                "What a number of animals was expected to show when the study was planned.");
        section.cameOf().forEach(html::p);
        for (EstimateSection.TextTable table : section.tables()) {
            List<List<Object>> rows = new ArrayList<>();
            table.rows().forEach(row -> rows.add(new ArrayList<Object>(row)));
            html.open("div", "class", "keep")
                    .table(table.caption(), table.heads(), table.numeric(), rows)
                    .close("div");
        }
        html.element("h3", "What planning assumes");
        html.p(section.method().name() + ".");
        html.list(section.method().assumptions());
    }
}
