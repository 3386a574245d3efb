package org.aftercast.voyage;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.aftercast.fate.RecordEnd;
import org.aftercast.study.FileStore;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * From pings heard before the planned detachment to the record's end. The beacon is mute under water, so a ping before the plan
 * is true only if the package came off early.
 *
 * <p>Bayes' theorem by hand, outside the code. One package in ten comes off early, at any time before the plan alike
 * (judgement, docs/search.md). A look reports a ping with 0.95 when the beacon is up and near, and with 0.01 when it is under
 * water. When a share f of the time to the plan has passed, it has come off with 0.1 f. So the odds are 0.1 f / (1 − 0.1 f),
 * times 95 for each report:
 *
 * <table>
 * <caption>chance that it came off early</caption>
 * <tr><th>f</th><th>before</th><th>one report</th><th>two reports</th></tr>
 * <tr><td>0.05</td><td>0.0050</td><td>0.3231</td><td>0.9784</td></tr>
 * <tr><td>0.5</td><td>0.0500</td><td>0.8333</td><td>0.9979</td></tr>
 * <tr><td>1</td><td>0.1000</td><td>0.9135</td><td>0.9990</td></tr>
 * </table>
 *
 * So one report never reaches 0.95, and two do from 2.2 % of the time on: two are asked for.
 */
class EarlyPingsTest {

    private static final Instant PLANNED = Instant.parse("2026-08-01T17:00:00Z");

    @TempDir
    Path study;

    private RecordEnd of(String... rows) throws Exception {
        List<SearchLog.Row> all = new ArrayList<>();
        all.add(new SearchLog.Row(0, "2026-08-01T07:00:00Z", "52.480", "-4.580", "start", "sd_m=800"));
        for (String row : rows) {
            String[] cells = row.split(",", 5);
            all.add(new SearchLog.Row(0, cells[0], cells[1], cells[2], cells[3], cells[4]));
        }
        Files.deleteIfExists(SearchLog.file(study, "A1"));
        new SearchLog(FileStore.onDisk()).add(study, "A1", "kp", all);
        return EarlyPings.recordEnd(study, "A1", PLANNED);
    }

    private static double chance(double share, int reports) {
        double odds = 0.1 * share / (1 - 0.1 * share) * Math.pow(95, reports);
        return odds / (1 + odds);
    }

    @Test
    void theTableAboveIsRightAndAsksForTwoReports() {
        double[][] table = {{0.05, 0.0050, 0.3231, 0.9784}, {0.5, 0.05, 0.8333, 0.9979}, {1, 0.1, 0.9135, 0.9990}};
        for (double[] row : table) {
            for (int reports = 0; reports <= 2; reports++) {
                assertThat(chance(row[0], reports)).isCloseTo(row[1 + reports], within(5e-5));
            }
        }
        assertThat(chance(1, 1)).isLessThan(0.95);
        assertThat(chance(0.02, 2)).isCloseTo(0.9476, within(5e-5));
        assertThat(chance(0.022, 2)).isGreaterThan(0.95);
    }

    /** Half-way to the plan: silence and one report (0.83) say nothing yet, the second (0.998) makes it shed early. */
    @Test
    void theSecondReportBeforeThePlanMakesItShedEarly() throws Exception {
        String silent = "2026-08-01T11:50:00Z,52.47,-4.58,listen,heard=no";
        String heard = "2026-08-01T12:00:00Z,52.47,-4.58,listen,heard=yes";
        String bearing = "2026-08-01T12:20:00Z,52.46,-4.60,bearing,deg=30 source=true";
        String sweep = "2026-08-01T12:30:00Z,52.46,-4.60,sweep,levels=0:12/45:18/90:- source=true";
        String mute = "2026-08-01T12:30:00Z,52.46,-4.60,sweep,levels=0:-/45:-/90:- source=true";
        assertThat(of(silent)).isNull();
        assertThat(of(silent, heard)).isNull();
        assertThat(of(silent, heard, mute)).isNull();
        assertThat(of(silent, heard, bearing)).isEqualTo(RecordEnd.SHED_EARLY);
        assertThat(of(bearing, sweep)).isEqualTo(RecordEnd.SHED_EARLY);
    }

    @Test
    void reportsAfterThePlanOrTakenBackDoNotCount() throws Exception {
        String early = "2026-08-01T12:00:00Z,52.47,-4.58,listen,heard=yes";
        String atPlan = "2026-08-01T17:00:00Z,52.47,-4.58,listen,heard=yes";
        String late = "2026-08-01T18:00:00Z,52.47,-4.58,listen,heard=yes";
        String second = "2026-08-01T13:00:00Z,52.47,-4.58,listen,heard=yes";
        assertThat(of(atPlan, late)).isNull();
        assertThat(of(early, atPlan, late)).isNull();
        assertThat(of(early, second, "2026-08-01T13:05:00Z,,,undo,line=5")).isNull();
        assertThat(EarlyPings.recordEnd(study, "A1", null)).isNull();
        assertThat(EarlyPings.recordEnd(study, "A2", PLANNED)).isNull();
    }

    @Test
    void aPackageInHandBeforeThePlanCameOffEarlyForCertain() throws Exception {
        String at = "2026-08-01T12:00:00Z,52.47,-4.58,end,outcome=";
        assertThat(of(at + "retrieved")).isEqualTo(RecordEnd.SHED_EARLY);
        assertThat(of(at + "stranded")).isEqualTo(RecordEnd.SHED_EARLY);
        assertThat(of(at + "handed-in")).isEqualTo(RecordEnd.SHED_EARLY);
        assertThat(of(at + "abandoned")).isNull();
        assertThat(of("2026-08-01T19:00:00Z,52.47,-4.58,end,outcome=retrieved")).isNull();
    }
}
