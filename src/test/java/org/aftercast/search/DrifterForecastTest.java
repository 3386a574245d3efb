package org.aftercast.search;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.nio.file.Files;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;

/** Real drifters; the full table is printed by HuntEvaluation. Skipped where ../shared/data is absent. */
class DrifterForecastTest {

    @Test
    void theRegionsHoldRealDriftersAsOftenAsTheySay() throws Exception {
        assumeTrue(
                Files.isRegularFile(DrifterForecasts.file()),
                "../shared/data/baltic_surface_drifters is not here: real drifters are not checked");
        Map<String, List<DrifterForecasts.Fixed>> tracks = DrifterForecasts.read(DrifterForecasts.file());
        // Six drifters, the stray record left out.
        assertThat(tracks.keySet()).containsExactly("298", "299", "300", "301", "302", "303");
        int[] n = new int[3];
        int[] in50 = new int[3];
        int[] in95 = new int[3];
        for (String out : tracks.keySet()) {
            List<DrifterForecasts.Start> others = new ArrayList<>();
            tracks.forEach((name, fixes) -> {
                if (!name.equals(out)) {
                    others.addAll(DrifterForecasts.starts(name, fixes, Duration.ofHours(6)));
                }
            });
            List<DrifterForecasts.Start> own = DrifterForecasts.starts(out, tracks.get(out), Duration.ofHours(9));
            for (DrifterForecasts.Row row : DrifterForecasts.evaluate(own, DrifterForecasts.learn(others), 1200)) {
                int h = row.hours() == 1 ? 0 : row.hours() == 3 ? 1 : 2;
                n[h] += row.n();
                in50[h] += row.in50();
                in95[h] += row.in95();
            }
        }
        for (int h = 0; h < 3; h++) {
            assertThat(n[h]).isGreaterThan(60);
            assertThat((double) in50[h] / n[h])
                    .as("50 % at " + DrifterForecasts.HOURS[h] + " h")
                    .isBetween(0.38, 0.70);
            assertThat((double) in95[h] / n[h])
                    .as("95 % at " + DrifterForecasts.HOURS[h] + " h")
                    .isBetween(0.87, 1.0);
        }
    }

    /**
     * The data's own page: persistence of the last hour is off by 125, 577 and 1550 m (median) and 319, 1482 and 3779 m (90th
     * percentile) after 1, 3 and 6 h. Its starts were chosen by other rules (1335, 1322 and 1304 of them), so medians may
     * differ by a tenth, 90th percentiles by a fifth.
     */
    @Test
    void persistenceIsAsTheDataSay() throws Exception {
        assumeTrue(
                Files.isRegularFile(DrifterForecasts.file()),
                "../shared/data/baltic_surface_drifters is not here: persistence is not checked");
        double[] medians = {125, 577, 1550};
        double[] most = {319, 1482, 3779};
        List<DrifterForecasts.Start> starts = new ArrayList<>();
        DrifterForecasts.read(DrifterForecasts.file())
                .forEach((name, fixes) -> starts.addAll(DrifterForecasts.starts(name, fixes, Duration.ofMinutes(30))));
        for (int h = 0; h < 3; h++) {
            int ahead = h;
            double seconds = 3600.0 * DrifterForecasts.HOURS[h];
            double[] errors = starts.stream()
                    .filter(s -> !Double.isNaN(s.moved()[ahead][0]))
                    .mapToDouble(s -> Math.hypot(
                            s.moved()[ahead][0] - s.east() * seconds, s.moved()[ahead][1] - s.north() * seconds))
                    .sorted()
                    .toArray();
            assertThat(errors.length).isGreaterThan(700);
            assertThat(errors[errors.length / 2]).isCloseTo(medians[h], within(0.1 * medians[h]));
            assertThat(errors[(int) (0.9 * errors.length)]).isCloseTo(most[h], within(0.2 * most[h]));
        }
    }
}
