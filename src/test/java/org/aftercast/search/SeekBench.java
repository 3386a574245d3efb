package org.aftercast.search;

import java.lang.management.ManagementFactory;
import java.lang.management.ThreadMXBean;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import org.aftercast.geo.Geodesics;
import org.aftercast.geo.Land;
import org.aftercast.geo.MagneticModel;
import org.aftercast.geo.Position;

/** How long a search of 60 observations takes, and one observation more. Run by {@code bench/seek}. */
public final class SeekBench {

    private SeekBench() {}

    /** CPU time of a hunt of 60 observations with 20 000 particles, after a warm-up. */
    public static void main(String[] args) {
        double[] best = {Double.POSITIVE_INFINITY, Double.POSITIVE_INFINITY};
        for (int round = 0; round < 4; round++) {
            double[] ms = oneHunt();
            best[0] = Math.min(best[0], ms[0]);
            best[1] = Math.min(best[1], ms[1]);
        }
        System.out.println("## Speed (one thread, CPU time, best of four)\n");
        System.out.println("| 60 observations, 20 000 particles, with fix | one more with fix |");
        System.out.println("|---|---|");
        System.out.printf(Locale.ROOT, "| %.0f ms | %.0f ms |%n%n", best[0], best[1]);
    }

    /** CPU milliseconds of 60 observations and a fix, and of one more observation and a fix. */
    static double[] oneHunt() {
        ThreadMXBean cpu = ManagementFactory.getThreadMXBean();
        SearchSettings settings = SearchSettings.defaults();
        Position datum = new Position(52.0, -12.0);
        Instant begin = Instant.parse("2026-06-15T07:00:00Z");
        Land land = Land.none(datum, 100_000);
        HuntStart start = new HuntStart(
                new HuntStart.Contact(begin, datum, 3000),
                new Sea(List.of(Sea.Flow.windFrom(begin, 6, 240)), List.of(), null),
                null,
                land,
                null);
        BearingCorrection correction = new BearingCorrection(MagneticModel.wmm2025(), settings.bearings(), null);
        long from = cpu.getCurrentThreadCpuTime();
        Hunt hunt = Hunt.open(start, settings, correction);
        for (int k = 0; k < 60; k++) {
            hunt.add(observation(k, datum, begin));
        }
        hunt.fixAt(hunt.time());
        long middle = cpu.getCurrentThreadCpuTime();
        hunt.add(observation(60, datum, begin));
        hunt.fixAt(hunt.time());
        long end = cpu.getCurrentThreadCpuTime();
        return new double[] {(middle - from) / 1e6, (end - middle) / 1e6};
    }

    private static Observation observation(int k, Position datum, Instant begin) {
        Position own = Geodesics.from(datum, 37.0 * k, 3000 + 100 * (k % 20));
        Instant time = begin.plusSeconds(240L * (k + 1));
        double off = 11 * Math.sin(2.3 * k);
        return k % 3 == 2
                ? new Observation.Listen(
                        time, own, 3, Observation.Listen.Heard.HEARD, Antenna.THREE_ELEMENTS, null, null, 60)
                : new Observation.Bearing(
                        time,
                        own,
                        Geodesics.between(own, datum).bearingDeg() + off,
                        BearingSource.TRUE,
                        null,
                        null,
                        Antenna.THREE_ELEMENTS,
                        1);
    }
}
