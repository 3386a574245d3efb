package org.aftercast.search;

import static org.assertj.core.api.Assertions.assertThat;
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
}
