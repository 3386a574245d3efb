package org.aftercast.search;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import org.aftercast.geo.LocalPlane;

/** Reads fix and residuals off a cloud. */
final class HuntReadout {

    private static final int CLOUD_SHOWN = 400;

    private HuntReadout() {}

    static Fix fix(Cloud at, LocalPlane plane) {
        double meanX = at.mean(at.x);
        double meanY = at.mean(at.y);
        Density density = Density.of(plane, at.x, at.y, at.weight);
        Cloud.Flows flows = at.flows();
        double east = 0;
        double north = 0;
        double[] distance = new double[at.size()];
        for (int i = 0; i < at.size(); i++) {
            east += at.weight[i] * at.eastMps(flows, i, 1);
            north += at.weight[i] * at.northMps(flows, i, 1);
            distance[i] = Math.hypot(at.x[i] - meanX, at.y[i] - meanY);
        }
        int[] shown = at.draw(Math.min(CLOUD_SHOWN, at.size()), 5);
        return new Fix(
                at.time(),
                plane.toEarth(meanX, meanY),
                density.peak(),
                quantile(distance, at.weight, 0.95),
                density.region(0.5),
                density.region(0.95),
                east,
                north,
                Resampling.effective(at.weight),
                Arrays.stream(shown)
                        .mapToObj(i -> plane.toEarth(at.x[i], at.y[i]))
                        .toList());
    }

    /** Weighted quantile. */
    static double quantile(double[] values, double[] weight, double share) {
        Integer[] order = new Integer[values.length];
        Arrays.setAll(order, i -> i);
        Arrays.sort(order, Comparator.comparingDouble(i -> values[i]));
        double sum = 0;
        for (Integer i : order) {
            sum += weight[i];
            if (sum >= share) {
                return values[i];
            }
        }
        return values[order[order.length - 1]];
    }

    /** How each bearing agrees with everything known now. */
    static List<Residual> residuals(List<Hunt.BearingNote> bearings, Cloud cloud, double wild) {
        List<Residual> out = new ArrayList<>();
        for (int r = 0; r < bearings.size(); r++) {
            Hunt.BearingNote note = bearings.get(r);
            float[] angles = cloud.residuals.get(r);
            double back = 0;
            double nothing = 0;
            double sin = 0;
            double cos = 0;
            for (int i = 0; i < angles.length; i++) {
                double w = cloud.weight[i];
                double kappa =
                        Likelihoods.kappa(Math.exp(cloud.logSdDeg[i]), Math.toRadians(note.extraSdDeg()), 10_000);
                double c = Math.cos(angles[i]);
                double front = 0.9 * (1 - wild) * VonMises.density(c, kappa);
                double behind = 0.1 * (1 - wild) * VonMises.density(-c, kappa);
                double uniform = wild / (2 * Math.PI);
                double all = front + behind + uniform;
                back += w * behind / all;
                nothing += w * uniform / all;
                sin += w * Math.sin(angles[i]);
                cos += w * c;
            }
            Residual.Verdict verdict = nothing > 0.5
                    ? Residual.Verdict.LIKELY_WRONG
                    : back > 0.5 ? Residual.Verdict.LIKELY_BACK : Residual.Verdict.AGREES;
            out.add(new Residual(
                    note.number(),
                    note.time(),
                    note.trueDeg(),
                    note.how(),
                    Math.toDegrees(Math.atan2(sin, cos)),
                    back,
                    nothing,
                    verdict));
        }
        return out;
    }
}
