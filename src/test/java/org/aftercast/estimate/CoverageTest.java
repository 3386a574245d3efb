package org.aftercast.estimate;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import org.aftercast.stats.BinomialInterval;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** Coverage by exact enumeration over p = 0.02–0.50 and n = 5–100; the committed table says the same. */
class CoverageTest {

    @ParameterizedTest
    @EnumSource(BinomialInterval.class)
    void coverageIsAsWantedAndAsPrinted(BinomialInterval kind) throws IOException {
        CoverageTables.Grid grid = CoverageTables.grid(kind);
        if (kind == BinomialInterval.CLOPPER_PEARSON) {
            assertThat(grid.least()).isGreaterThanOrEqualTo(0.95);
        } else {
            assertThat(grid.mean()).isBetween(0.945, 0.965);
        }
        Path page = Path.of(System.getProperty("aftercast.basedir", "."), "docs/evaluation/coverage.md");
        assertThat(Files.readString(page))
                .contains(String.format(
                        Locale.ROOT,
                        "| %s | %.2f %% | %.2f %% | %.2f | %d |",
                        kind.shownName(),
                        100 * grid.mean(),
                        100 * grid.least(),
                        grid.p(),
                        grid.n()));
    }

    /** The simulated lines of the committed table: fates in doubt at least 94 %. */
    @Test
    void doubtfulFatesHoldTheTruthOftenEnough() throws IOException {
        Path page = Path.of(System.getProperty("aftercast.basedir", "."), "docs/evaluation/coverage.md");
        assertThat(Files.readAllLines(page).stream().filter(line -> line.startsWith("| fates with calibrated")))
                .hasSizeGreaterThan(8)
                .allSatisfy(line -> assertThat(Double.parseDouble(
                                line.split("\\|", -1)[4].replace("%", "").strip()))
                        .isGreaterThanOrEqualTo(94));
    }
}
