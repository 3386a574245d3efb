package org.aftercast.search;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDateTime;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import java.util.zip.GZIPInputStream;
import org.aftercast.geo.Geodesics;
import org.aftercast.geo.Land;
import org.aftercast.geo.LocalPlane;
import org.aftercast.geo.MagneticModel;
import org.aftercast.geo.Position;

/**
 * Forecasts of real drifters (six GPS drifters, Baltic, 2023, MIT licence, (c) 2025 GEOMAR; see ../shared/data): fed the last
 * hour's drift, where are they 1, 3 and 6 h later, against the forecast's regions. What the growth of error is, is learnt
 * from the other drifters only. No wind or current is known to the forecast.
 *
 * <p>The raw file has laboratory, ship and beaching in it, repeated records and a stray drifter. Used are starts with a fix
 * within 10 minutes of each wanted time, at least 6 fixes in the last hour, no step faster than 1.2 m/s from the last
 * hour to the target, and at least 60 m moved both in the hour before and from start to target (lying in a laboratory or
 * on a beach is no drift). These rules are ours and look at the target only to tell drift from ship or shore.
 */
final class DrifterForecasts {

    static final int[] HOURS = {1, 3, 6};

    private DrifterForecasts() {}

    record Fixed(Instant time, Position position) {}

    /** A start: velocity of the last hour and the displacements to come ({east, north} in metres; NaN when not usable). */
    record Start(String drifter, Fixed at, double east, double north, double[][] moved) {}

    record Growth(double currentSdMps, double correlationH, double measuredSdMps, double tail) {}

    record Row(String drifter, int hours, int n, int in50, int in95, double medianM, double p90M) {}

    static Path file() {
        return Path.of(System.getProperty("aftercast.basedir", "."))
                .resolve("../shared/data/baltic_surface_drifters/drifters_raw.csv.gz");
    }

    static Map<String, List<Fixed>> read(Path file) throws IOException {
        DateTimeFormatter format = DateTimeFormatter.ofPattern("d-MMM-yyyy HH:mm:ss", Locale.ENGLISH);
        Map<String, Map<Instant, Fixed>> all = new TreeMap<>();
        try (BufferedReader in = new BufferedReader(
                new InputStreamReader(new GZIPInputStream(Files.newInputStream(file)), StandardCharsets.UTF_8))) {
            in.readLine();
            for (String line = in.readLine(); line != null; line = in.readLine()) {
                String[] part = line.split(",", -1);
                if (part.length < 4 || part[2].equals("NaN") || part[2].isBlank()) {
                    continue;
                }
                Instant time = LocalDateTime.parse(part[1].strip(), format).toInstant(ZoneOffset.UTC);
                Position place = new Position(Double.parseDouble(part[2]), Double.parseDouble(part[3]));
                all.computeIfAbsent(part[0].strip(), k -> new TreeMap<>()).putIfAbsent(time, new Fixed(time, place));
            }
        }
        Map<String, List<Fixed>> out = new TreeMap<>();
        all.forEach((name, fixes) -> {
            if (fixes.size() > 100) {
                out.put(name, new ArrayList<>(fixes.values()));
            }
        });
        return out;
    }

    static List<Start> starts(String name, List<Fixed> fixes, Duration every) {
        List<Start> out = new ArrayList<>();
        Instant last = Instant.MIN;
        for (int i = 0; i < fixes.size(); i++) {
            Fixed at = fixes.get(i);
            if (at.time.isBefore(last.equals(Instant.MIN) ? Instant.MIN : last.plus(every))) {
                continue;
            }
            int before = nearest(fixes, at.time.minus(Duration.ofHours(1)));
            if (before < 0 || i - before < 6 || tooFast(fixes, before, i)) {
                continue;
            }
            LocalPlane plane = new LocalPlane(at.position);
            LocalPlane.Point was = plane.toPlane(fixes.get(before).position);
            double seconds = Sea.seconds(fixes.get(before).time, at.time);
            if (Math.hypot(was.xM(), was.yM()) < 60) {
                continue;
            }
            double[][] moved = new double[HOURS.length][];
            boolean any = false;
            for (int h = 0; h < HOURS.length; h++) {
                int to = nearest(fixes, at.time.plus(Duration.ofHours(HOURS[h])));
                moved[h] = new double[] {Double.NaN, Double.NaN};
                if (to > i && !tooFast(fixes, i, to)) {
                    LocalPlane.Point then = plane.toPlane(fixes.get(to).position);
                    double share = HOURS[h] * 3600 / Sea.seconds(at.time, fixes.get(to).time);
                    if (Math.hypot(then.xM(), then.yM()) >= 60) {
                        moved[h] = new double[] {then.xM() * share, then.yM() * share};
                        any = true;
                    }
                }
            }
            if (any) {
                out.add(new Start(name, at, -was.xM() / seconds, -was.yM() / seconds, moved));
                last = at.time;
            }
        }
        return out;
    }

    private static int nearest(List<Fixed> fixes, Instant time) {
        int best = -1;
        double least = 600;
        int low = 0;
        int high = fixes.size() - 1;
        while (low < high) {
            int middle = (low + high) / 2;
            if (fixes.get(middle).time.isBefore(time)) {
                low = middle + 1;
            } else {
                high = middle;
            }
        }
        for (int i = Math.max(0, low - 1); i <= Math.min(fixes.size() - 1, low); i++) {
            double off = Math.abs(Sea.seconds(fixes.get(i).time, time));
            if (off <= least) {
                least = off;
                best = i;
            }
        }
        return best;
    }

    private static boolean tooFast(List<Fixed> fixes, int from, int to) {
        for (int i = from + 1; i <= to; i++) {
            double s = Sea.seconds(fixes.get(i - 1).time, fixes.get(i).time);
            double metres = Geodesics.distanceM(fixes.get(i - 1).position, fixes.get(i).position);
            if (s > 1800 || metres > 1.2 * s + 30) {
                return true;
            }
        }
        return false;
    }

    /**
     * The growth under which all that these starts did is likeliest, by the law the forecast follows: a place's restlessness r
     * is drawn once (r² inverse gamma: velocities are Student's t with ν degrees of freedom and standard deviation σ), the
     * velocity decays with time T and is shaken to keep its spread, the last hour's velocity is measured with an error. Given
     * a measured velocity v the displacement is then Student's t with ν + 2 degrees of freedom and σ² ((ν − 2) + |v|²/(σ² +
     * error²))/ν in place of σ²: a place that drifts fast is a restless one.
     */
    static Growth learn(List<Start> starts) {
        Growth best = null;
        double most = Double.NEGATIVE_INFINITY;
        for (double tail : new double[] {2.5, 3, 4, 6, 10}) {
            for (double t : new double[] {8, 10, 12, 14, 17, 20, 25, 32}) {
                for (double sd = 0.06; sd < 0.5; sd *= 1.12) {
                    for (double measured : new double[] {0.01, 0.015, 0.02, 0.03, 0.045}) {
                        Growth growth = new Growth(sd, t, measured, tail);
                        double sum = 0;
                        for (Start s : starts) {
                            sum += logLikelihood(s, growth);
                        }
                        if (sum > most) {
                            most = sum;
                            best = growth;
                        }
                    }
                }
            }
        }
        return best;
    }

    private static double logLikelihood(Start s, Growth g) {
        double measured = g.measuredSdMps * g.measuredSdMps;
        double all = g.currentSdMps * g.currentSdMps + measured;
        double speed = (s.east * s.east + s.north * s.north) / all;
        double sum = student(speed, all, g.tail);
        double restless = g.currentSdMps * g.currentSdMps * (g.tail - 2 + speed) / g.tail;
        double t = g.correlationH * 3600;
        for (int h = 0; h < HOURS.length; h++) {
            if (!Double.isNaN(s.moved[h][0])) {
                double r = HOURS[h] / g.correlationH;
                double keep = t * -Math.expm1(-r);
                double shaken = restless * t * t * (2 * r - 3 + 4 * Math.exp(-r) - Math.exp(-2 * r));
                double variance = shaken + measured * keep * keep + 30 * 30;
                double east = s.moved[h][0] - s.east * keep;
                double north = s.moved[h][1] - s.north * keep;
                sum += student((east * east + north * north) / variance, variance, g.tail + 2);
            }
        }
        return sum;
    }

    /** Log density, up to a constant, of Student's t in two dimensions scaled to a variance per axis. */
    private static double student(double squares, double variance, double tail) {
        return Math.log(tail / (tail - 2)) - Math.log(variance) - (tail + 2) / 2 * Math.log1p(squares / (tail - 2));
    }

    /** Rows of one drifter, forecast with a growth learnt from others. */
    static List<Row> evaluate(List<Start> starts, Growth growth, int particles) {
        SearchSettings base = SearchSettings.defaults().with(particles, 1);
        return evaluate(
                starts,
                base.with(new SearchSettings.Drift(
                        0,
                        0,
                        0,
                        growth.currentSdMps,
                        growth.correlationH,
                        growth.tail,
                        0.1,
                        600,
                        0.5,
                        growth.measuredSdMps,
                        0,
                        0.03)));
    }

    /** Rows of one drifter, forecast with these settings. */
    static List<Row> evaluate(List<Start> starts, SearchSettings settings) {
        BearingCorrection correction = new BearingCorrection(MagneticModel.wmm2025(), settings.bearings(), 0.0);
        int[] n = new int[HOURS.length];
        int[] in50 = new int[HOURS.length];
        int[] in95 = new int[HOURS.length];
        List<List<Double>> errors = new ArrayList<>();
        for (int h = 0; h < HOURS.length; h++) {
            errors.add(new ArrayList<>());
        }
        for (Start s : starts) {
            Land land = Land.none(s.at.position, 200_000);
            // The last hour's drift is told as the velocity typed for now, fading as its error persists.
            Hunt hunt = Hunt.open(
                    new HuntStart(new HuntStart.Contact(s.at.time, s.at.position, 15), Sea.UNKNOWN, null, land, null),
                    settings,
                    correction);
            hunt.add(new Observation.Drift(
                    s.at.time, s.at.position, s.east, s.north, Observation.Drift.Drifter.DUMMY_FLOAT));
            for (int h = 0; h < HOURS.length; h++) {
                if (Double.isNaN(s.moved[h][0])) {
                    continue;
                }
                Fix fix = hunt.fixAt(s.at.time.plus(Duration.ofHours(HOURS[h])));
                Position truth = land.plane().toEarth(s.moved[h][0], s.moved[h][1]);
                n[h]++;
                in50[h] += fix.region50().contains(truth) ? 1 : 0;
                in95[h] += fix.region95().contains(truth) ? 1 : 0;
                errors.get(h).add(Geodesics.distanceM(fix.mean(), truth));
            }
        }
        List<Row> rows = new ArrayList<>();
        for (int h = 0; h < HOURS.length; h++) {
            List<Double> sorted = errors.get(h).stream().sorted().toList();
            rows.add(new Row(
                    starts.isEmpty() ? "" : starts.get(0).drifter,
                    HOURS[h],
                    n[h],
                    in50[h],
                    in95[h],
                    sorted.isEmpty() ? Double.NaN : sorted.get(sorted.size() / 2),
                    sorted.isEmpty() ? Double.NaN : sorted.get((int) (0.9 * (sorted.size() - 1)))));
        }
        return rows;
    }
}
