package org.aftercast.search;

import java.time.Instant;

/**
 * What a leg promises: the chance of hearing at its end, what a bearing there would tell, and the expected time to the package
 * afterwards, over every outcome of a stop (24 classes of bearing by lowest gain heard, or silence).
 */
final class LegPromise {

    private static final int BEARING_CLASSES = 24;

    private LegPromise() {}

    /** Some particles and what they would sound like. */
    record Sample(
            double[] x, double[] y, double[] east, double[] north, double[] marginDb, double[] sdDeg, Instant time) {}

    /** What a leg promises. */
    record Promise(double heardChance, double bits, double remainingS) {}

    /** Weighs every outcome of a stop at the end of a leg. */
    static Promise of(Hunt hunt, double boatMps, Sample s, double toX, double toY, double metres) {
        SearchSettings settings = hunt.settings();
        double legS = metres / boatMps + settings.advice().stopMinutes() * 60;
        Hearing hearing = hunt.hearing();
        int n = s.x.length;
        int steps = hearing.steps();
        int outcomes = 1 + BEARING_CLASSES * steps;
        double[][] chance = new double[n][];
        double[] px = new double[n];
        double[] py = new double[n];
        double heardChance = 0;
        double conditional = 0;
        double[] total = new double[outcomes];
        double wild = settings.bearings().wildShare();
        for (int i = 0; i < n; i++) {
            px[i] = s.x[i] + s.east[i] * legS;
            py[i] = s.y[i] + s.north[i] * legS;
            double dx = px[i] - toX;
            double dy = py[i] - toY;
            double distance = Math.hypot(dx, dy);
            double[] p = new double[outcomes];
            double reach = 1;
            double[] lowest = new double[steps];
            for (int g = 0; g < steps; g++) {
                double heard = hearing.chance(distance, g + 1, s.marginDb[i], 0);
                if (g == 0) {
                    p[0] = 1 - heard;
                    heardChance += heard / n;
                } else {
                    lowest[g - 1] = reach * (1 - heard);
                }
                reach *= heard;
            }
            lowest[steps - 1] = reach;
            double bearing = Math.atan2(dx, dy);
            double kappa = Likelihoods.kappa(s.sdDeg[i], 0, distance);
            double sum = 0;
            double[] byClass = new double[BEARING_CLASSES];
            for (int b = 0; b < BEARING_CLASSES; b++) {
                double off = 2 * Math.PI * (b + 0.5) / BEARING_CLASSES - bearing;
                byClass[b] = Likelihoods.bearingDensity(off, kappa, 0.05, wild);
                sum += byClass[b];
            }
            // Class and gain are independent given the place, so the entropy of an outcome is a sum of two.
            for (int b = 0; b < BEARING_CLASSES; b++) {
                byClass[b] /= sum;
                conditional += (1 - p[0]) * entropyTerm(byClass[b]) / n;
                for (int g = 0; g < steps; g++) {
                    p[1 + b * steps + g] = byClass[b] * lowest[g];
                }
            }
            conditional += entropyTerm(p[0]) / n;
            for (int g = 0; g < steps; g++) {
                conditional += entropyTerm(lowest[g]) / n;
            }
            for (int o = 0; o < outcomes; o++) {
                total[o] += p[o] / n;
            }
            chance[i] = p;
        }
        double entropy = 0;
        double remaining = 0;
        for (int o = 0; o < outcomes; o++) {
            if (total[o] < 1e-5) {
                entropy += entropyTerm(total[o]);
                continue;
            }
            entropy += entropyTerm(total[o]);
            double mx = 0;
            double my = 0;
            double squares = 0;
            for (int i = 0; i < n; i++) {
                double w = chance[i][o];
                mx += w * px[i];
                my += w * py[i];
                squares += w * (px[i] * px[i] + py[i] * py[i]);
            }
            double all = n * total[o];
            mx /= all;
            my /= all;
            double spread = Math.sqrt(Math.max(1, squares / all - mx * mx - my * my));
            double left = Math.hypot(mx - toX, my - toY) + 1.1 * spread;
            // Each further stop costs time; one is needed for about every halving of the spread down to sight.
            double stops = Math.max(0, Math.log(spread / settings.advice().visualRangeM()) / Math.log(3));
            remaining += total[o] * (left / boatMps + stops * settings.advice().stopMinutes() * 60);
        }
        return new Promise(heardChance, Math.max(0, entropy - conditional) / Math.log(2), remaining);
    }

    private static double entropyTerm(double p) {
        return p > 0 ? -p * Math.log(p) : 0;
    }
}
