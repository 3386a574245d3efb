package org.aftercast.report;

import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.aftercast.behaviour.Bout;
import org.aftercast.behaviour.BoutKind;
import org.aftercast.behaviour.Event;
import org.aftercast.motion.SecondTable;

/** Invented recordings for drawing only: sums of sines and noise, no claim to resemble an animal. */
final class InventedPlate {

    private InventedPlate() {}

    static SecondTable table(int seconds, long seed) {
        Random random = new Random(seed);
        float[][] c = new float[13][seconds];
        for (int i = 0; i < seconds; i++) {
            double h = i / 3600.0;
            boolean swims = (i / 900) % 5 != 2 && h < 21;
            boolean gap = i > 40000 && i < 42500;
            double depth = h < 0.05 ? h * 300 : 18 + 12 * Math.sin(h * 0.9) + 2 * Math.sin(h * 12);
            c[0][i] = gap ? Float.NaN : (float) (h > 23 ? 0.1 : depth + random.nextGaussian() * 0.1);
            c[1][i] = 0;
            c[2][i] = gap ? Float.NaN : (float) (14.5 - c[0][i] * 0.05 + random.nextGaussian() * 0.02);
            c[3][i] = gap ? Float.NaN : (float) (5 * Math.sin(i / 40.0) + random.nextGaussian() * 3);
            c[4][i] = gap
                    ? Float.NaN
                    : (float) (h > 21 && h < 23 ? 175 + random.nextGaussian() * 6 : 8 * Math.sin(i / 900.0));
            c[8][i] = !gap && swims ? (float) (0.9 + 0.5 * Math.exp(-h / 3) + random.nextGaussian() * 0.05) : Float.NaN;
            c[9][i] = !gap && swims
                    ? (float) (0.06 + 0.08 * Math.exp(-h / 3) + random.nextGaussian() * 0.008)
                    : Float.NaN;
            c[10][i] = gap ? Float.NaN : swims ? c[9][i] * 0.7f : 0.004f;
            c[12][i] = gap ? 0 : 1;
        }
        for (int i = 42501; i < seconds; i++) {
            if (c[4][i] > 180) {
                c[4][i] -= 360;
            }
        }
        return new SecondTable(c[0], c[1], c[2], c[3], c[4], c[5], c[6], c[7], c[8], c[9], c[10], c[11], c[12]);
    }

    static Plate plate(int bins) {
        int seconds = 24 * 3600;
        List<Bout> bouts = new ArrayList<>();
        bouts.add(new Bout(BoutKind.WEAK_AT_SURFACE, 300, 700, 0.9));
        bouts.add(new Bout(BoutKind.DESCENDING, 700, 1800, 0.9));
        for (int k = 2; k < 84; k++) {
            bouts.add(new Bout(k % 5 == 2 ? BoutKind.RESTING : BoutKind.SWIMMING, k * 900, (k + 1) * 900, 0.8));
        }
        bouts.add(new Bout(BoutKind.MOTIONLESS, 21 * 3600, 22 * 3600, 0.9));
        bouts.add(new Bout(BoutKind.INSIDE_PREDATOR, 22 * 3600, 23 * 3600, 0.9));
        bouts.add(new Bout(BoutKind.AFLOAT, 23 * 3600, 24 * 3600, 0.9));
        List<Event> events = List.of(
                new Event(Event.Kind.BURST, 9000, 4, 3),
                new Event(Event.Kind.BURST, 9700, 4, 3),
                new Event(Event.Kind.SURFACING, 30000, 20, 1),
                new Event(Event.Kind.PREDATOR_ATTACK, 22 * 3600, 9, 8));
        return new Plate(
                "SH-07",
                PlateSeries.of(table(seconds, 7), 0, seconds, bins),
                Instant.parse("2031-06-14T09:40:00Z"),
                ZoneOffset.UTC,
                300,
                23 * 3600,
                new Plate.Change("died", 21 * 3600, 20.2 * 3600, 21.3 * 3600),
                bouts,
                events,
                List.of(new Span(40000, 42500)),
                List.of(new Span(41000, 68000)));
    }
}
