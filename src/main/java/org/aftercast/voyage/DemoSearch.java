package org.aftercast.voyage;

import java.time.Duration;
import java.time.Instant;
import java.util.Locale;
import java.util.SplittableRandom;

/**
 * What was noted on the water while looking for the demo's last package: invented. The package truly drifts with a
 * reversing tide and a little wind; the bearings are taken from a boat that heads out and then crosses them. A flat map
 * will do over these few miles.
 */
final class DemoSearch {

    private static final double NORTH_M = 111_200;
    private static final double TIDE_MPS = 0.45;
    private static final double TIDE_TO_DEG = 35;
    private static final double TIDE_PERIOD_S = 12.42 * 3600;

    private final Instant detached;
    private final double latDeg;
    private final double lonDeg;
    private final SplittableRandom random = new SplittableRandom(24);
    private final StringBuilder text = new StringBuilder();

    private DemoSearch(DemoCast.Animal animal) {
        this.detached = animal.plannedDetachUtc();
        this.latDeg = Double.parseDouble(animal.cells().getOrDefault("releaseLatDeg", "52.5"));
        this.lonDeg = Double.parseDouble(animal.cells().getOrDefault("releaseLonDeg", "-4.5"));
    }

    /** The observation table of {@code aftercast seek}. */
    static String observations(DemoCast.Animal animal) {
        return new DemoSearch(animal).write();
    }

    private double eastM() {
        return NORTH_M * Math.cos(Math.toRadians(latDeg));
    }

    /** East and north of the release, m, at hours after the detachment: the package came off 900 m north of there. */
    private double[] truth(double hours) {
        double swing = TIDE_MPS * TIDE_PERIOD_S / (2 * Math.PI) * Math.sin(2 * Math.PI * hours * 3600 / TIDE_PERIOD_S);
        double along = Math.toRadians(TIDE_TO_DEG);
        double wind = 0.025 * 5 * hours * 3600; // 2.5 % of 5 m/s from the south-west
        double windTo = Math.toRadians(50);
        return new double[] {
            300 + swing * Math.sin(along) + wind * Math.sin(windTo),
            900 + swing * Math.cos(along) + wind * Math.cos(windTo)
        };
    }

    private String write() {
        text.append("time,lat,lon,kind,values\n");
        text.append("# INVENTED: observations of the aftercast demo; no real package, boat or day.\n");
        row(0, 0, 0, "start", "sd_m=700 planned=" + detached);
        text.append(detached).append(",,,beacon,frequency_mhz=150.48 range_nm=8\n");
        row(1.5, 12_000, -9_000, "home", "");
        text.append(detached.plus(Duration.ofMinutes(90))).append(",,,boat,speed_kn=12 fuel_h=9\n");
        text.append(detached).append(",,,wind,speed_mps=5 from_deg=230\n");
        text.append(detached).append(",,,tide,speed_mps=0.45 to_deg=35 period_h=12.42\n");
        row(2.0, 7_000, -5_000, "listen", "heard=no gain=1 seconds=90");
        row(2.4, 3_500, -1_500, "listen", "heard=yes gain=1 seconds=60");
        bearing(2.45, 3_500, -1_500);
        bearing(2.8, -1_500, 500);
        bearing(3.1, -800, 4_600);
        row(3.15, -800, 4_600, "listen", "heard=yes gain=3 seconds=60");
        return text.toString();
    }

    private void row(double hours, double eastM, double northM, String kind, String values) {
        text.append(String.format(
                Locale.ROOT,
                "%s,%.5f,%.5f,%s,%s\n",
                detached.plusSeconds(Math.round(hours * 3600)),
                latDeg + northM / NORTH_M,
                lonDeg + eastM / eastM(),
                kind,
                values));
    }

    private void bearing(double hours, double eastM, double northM) {
        double[] place = truth(hours);
        double deg = Math.toDegrees(Math.atan2(place[0] - eastM, place[1] - northM)) + 8 * random.nextGaussian();
        row(
                hours,
                eastM,
                northM,
                "bearing",
                String.format(Locale.ROOT, "deg=%.0f source=true gain=1", (deg + 720) % 360));
    }
}
