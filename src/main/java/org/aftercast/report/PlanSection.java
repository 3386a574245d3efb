package org.aftercast.report;

import java.util.List;
import org.aftercast.estimate.Plan;
import org.aftercast.report.EstimateSection.MethodNote;
import org.aftercast.report.EstimateSection.TextTable;

/**
 * What was planned, and what came of it.
 *
 * @param plan drawn as a figure
 * @param planned sentences on the plan
 * @param cameOf sentences on what was reached
 * @param tables planned beside reached; what records of other lengths miss
 * @param method how it was planned, with what it assumes
 */
public record PlanSection(
        Plan plan, List<String> planned, List<String> cameOf, List<TextTable> tables, MethodNote method) {

    /** Its heading. */
    public static final String TITLE = "What was planned, and what came of it";

    public PlanSection {
        planned = List.copyOf(planned);
        cameOf = List.copyOf(cameOf);
        tables = List.copyOf(tables);
    }
}
