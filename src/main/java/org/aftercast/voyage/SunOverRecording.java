package org.aftercast.voyage;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.aftercast.behaviour.SunTimes;
import org.aftercast.geo.Position;
import org.aftercast.geo.Sun;

/** Sunrises and sunsets over a recording, from a day before it to a day after. */
final class SunOverRecording {

    private SunOverRecording() {}

    static SunTimes times(Instant start, double durationS, double latitudeDeg, double longitudeDeg) {
        Position place = new Position(latitudeDeg, longitudeDeg);
        List<Double> rises = new ArrayList<>();
        List<Double> sets = new ArrayList<>();
        long days = (long) Math.ceil(durationS / 86_400) + 1;
        for (long day = -1; day <= days; day++) {
            Sun.Day sun = Sun.dayOf(start.plus(Duration.ofDays(day)), place);
            if (sun.rise() != null) {
                addOnce(rises, Duration.between(start, sun.rise()).toMillis() / 1e3);
            }
            if (sun.set() != null) {
                addOnce(sets, Duration.between(start, sun.set()).toMillis() / 1e3);
            }
        }
        return new SunTimes(array(rises), array(sets));
    }

    private static void addOnce(List<Double> times, double seconds) {
        if (times.isEmpty() || seconds - times.get(times.size() - 1) > 3600) {
            times.add(seconds);
        }
    }

    private static double[] array(List<Double> values) {
        return values.stream().mapToDouble(Double::doubleValue).sorted().toArray();
    }
}
