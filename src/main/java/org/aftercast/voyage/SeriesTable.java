package org.aftercast.voyage;

import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.Map;
import org.aftercast.intake.NumberTable;
import org.aftercast.motion.SecondTable;

/** The one-per-second table of a reading as columns with units in their names; docs/series.md describes each. */
final class SeriesTable {

    private SeriesTable() {}

    static NumberTable of(SecondTable t) {
        double[] second = new double[t.seconds()];
        Arrays.setAll(second, i -> i);
        Map<String, double[]> columns = new LinkedHashMap<>();
        columns.put("secondS", second);
        columns.put("depthM", wide(t.depthM()));
        columns.put("verticalSpeedMps", wide(t.verticalSpeedMps()));
        columns.put("tempC", wide(t.tempC()));
        columns.put("pitchDeg", wide(t.pitchDeg()));
        columns.put("rollDeg", wide(t.rollDeg()));
        columns.put("dynamicL1G", wide(t.dynamicL1G()));
        columns.put("dynamicL2G", wide(t.dynamicL2G()));
        columns.put("jerkGps", wide(t.jerkGps()));
        columns.put("beatHz", wide(t.beatHz()));
        columns.put("beatAmplitudeG", wide(t.beatAmplitudeG()));
        columns.put("swayRmsG", wide(t.swayRmsG()));
        columns.put("surfaceBandRmsG", wide(t.surfaceBandRmsG()));
        columns.put("quality", wide(t.quality()));
        return new NumberTable(columns);
    }

    static SecondTable from(NumberTable t) {
        return new SecondTable(
                t.floats("depthM"),
                t.floats("verticalSpeedMps"),
                t.floats("tempC"),
                t.floats("pitchDeg"),
                t.floats("rollDeg"),
                t.floats("dynamicL1G"),
                t.floats("dynamicL2G"),
                t.floats("jerkGps"),
                t.floats("beatHz"),
                t.floats("beatAmplitudeG"),
                t.floats("swayRmsG"),
                t.floats("surfaceBandRmsG"),
                t.floats("quality"));
    }

    static double[] wide(float[] values) {
        double[] wide = new double[values.length];
        for (int i = 0; i < wide.length; i++) {
            wide[i] = values[i];
        }
        return wide;
    }
}
