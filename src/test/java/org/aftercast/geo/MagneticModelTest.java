package org.aftercast.geo;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class MagneticModelTest {

    private final MagneticModel model = MagneticModel.wmm2025();

    /**
     * The 100 test rows published with WMM2025 (NOAA/NCEI), as kept in npm package geomagnetism 0.2.0 test/values.csv.
     * Columns: year, height km, lat, lon, X, Y, Z, H, F (nT), inclination, declination (degrees).
     */
    @Test
    void allHundredOfficialRows() throws Exception {
        List<String> rows;
        try (InputStream in = MagneticModelTest.class.getResourceAsStream("wmm2025-official-rows.csv")) {
            rows = new String(in.readAllBytes(), StandardCharsets.UTF_8)
                    .lines()
                    .skip(1)
                    .toList();
        }
        assertThat(rows).hasSize(100);
        for (String row : rows) {
            double[] v = Arrays.stream(row.split(","))
                    .mapToDouble(Double::parseDouble)
                    .toArray();
            MagneticField field = model.at(new Position(v[2], v[3]), v[1], v[0]);
            assertThat(field.northNt()).as(row).isCloseTo(v[4], within(0.1));
            assertThat(field.eastNt()).as(row).isCloseTo(v[5], within(0.1));
            assertThat(field.downNt()).as(row).isCloseTo(v[6], within(0.1));
            assertThat(field.inclinationDeg()).as(row).isCloseTo(v[9], within(0.01));
            assertThat(Bearings.wrap180(field.declinationDeg() - v[10])).as(row).isCloseTo(0, within(0.01));
        }
    }

    /** Rows of the WMM2025 technical report's table of test values (NOAA/NCEI): declination in degrees. */
    @ParameterizedTest
    @CsvSource({
        "2025,0,80,0,1.28", "2025,0,0,120,-0.16", "2025,0,-80,-120,68.78", "2025,100,80,0,0.85",
        "2027.5,0,80,0,2.59", "2027.5,0,0,120,-0.24", "2027.5,100,-80,-120,67.93", "2025,28,89,-121,-99.77",
        "2025.5,44,33,-118,11.10", "2026,74,-57,3,-22.51", "2027,44,-43,-111,24.31", "2029.5,31,13,-132,9.04"
    })
    void declinationOfTheReport(double year, double km, double lat, double lon, double declination) {
        assertThat(model.at(new Position(lat, lon), km, year).declinationDeg()).isCloseTo(declination, within(0.01));
    }

    /** X, Y, Z at 2025.0, 0 km, 80° N 0° E from the same table. */
    @Test
    void componentsOfTheReport() {
        MagneticField field = model.at(new Position(80, 0), 0, 2025);
        assertThat(field.northNt()).isCloseTo(6521.6, within(0.1));
        assertThat(field.eastNt()).isCloseTo(145.9, within(0.1));
        assertThat(field.downNt()).isCloseTo(54791.5, within(0.1));
        // Error model of the report at H = 6523.2 nT.
        assertThat(field.declinationUncertaintyDeg()).isCloseTo(0.870, within(0.001));
    }

    @Test
    void refusesYearsItDoesNotKnow() {
        assertThatThrownBy(() -> model.at(new Position(50, 0), 0, 2024.9)).hasMessageContaining("WMM2025");
        assertThatThrownBy(() -> model.at(new Position(50, 0), 0, 2030.1)).hasMessageContaining("WMM2025");
        assertThat(DecimalYear.of(Instant.parse("2025-01-01T00:00:00Z"))).isEqualTo(2025.0);
        assertThat(DecimalYear.of(Instant.parse("2028-07-02T00:00:00Z"))).isCloseTo(2028.5, within(1e-9));
        assertThat(model.at(new Position(90, 0), 0, 2025).northNt()).isFinite();
    }
}
