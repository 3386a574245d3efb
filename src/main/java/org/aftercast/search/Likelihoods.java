package org.aftercast.search;

import org.aftercast.geo.Bearings;
import org.aftercast.geo.LocalPlane;
import org.jspecify.annotations.Nullable;

/**
 * How likely each observation is for each particle.
 *
 * <ul>
 *   <li>Bearing β at angle θ: (1−ε)[(1−a)·vM(β;θ,κ) + a·vM(β;θ+π,κ)] + ε/2π, times the chance of hearing at that gain; ε the
 *       share of wild bearings, a the antenna's share of backs, κ from each particle's own standard deviation; each particle
 *       has its own error of the compass, the same for all bearings, taken off first.
 *   <li>Listen: P of {@link Hearing}, or 1 − P; a listen shorter than one look counts in proportion.
 *   <li>Sighting: a normal spread around the place; not seen: 0.8 of the range of sight is searched with chance 0.7
 *       (judgement).
 *   <li>Drift: a normal spread about the particle's velocity, with or without its wind; its width is the error of the
 *       measurement and how currents differ between two places, which grows with the cube root of their distance.
 * </ul>
 */
final class Likelihoods {

    private static final double OWN_POSITION_SD_M = 25;
    private static final double LOOK_CHANCE = 0.7;
    private static final double PLACES_APART_M = 10_000;

    private final SearchSettings settings;
    private final Hearing hearing;

    Likelihoods(SearchSettings settings, Hearing hearing) {
        this.settings = settings;
        this.hearing = hearing;
    }

    /**
     * A bearing, already turned to the plane's north.
     *
     * @param sdDeg standard deviation, or null: each particle's own
     * @param residual filled with the angle from particle to bearing in radians
     */
    Cloud.Likelihood bearing(
            LocalPlane.Point own,
            double planeBearingDeg,
            @Nullable Double sdDeg,
            double extraSdDeg,
            double backShare,
            int gainStep,
            int residual) {
        double bearing = Math.toRadians(planeBearingDeg);
        double extra = Math.toRadians(extraSdDeg);
        double wild = settings.bearings().wildShare();
        return (cloud, log) -> {
            float[] angles = cloud.residuals.get(residual);
            for (int i = 0; i < log.length; i++) {
                double dx = cloud.x[i] - own.xM();
                double dy = cloud.y[i] - own.yM();
                double distance = Math.hypot(dx, dy);
                double angle = bearing - cloud.compassRad[i] - Math.atan2(dx, dy);
                angles[i] = (float) Math.IEEEremainder(angle, 2 * Math.PI);
                double sd = sdDeg == null ? Math.exp(cloud.logSdDeg[i]) : sdDeg;
                double density = bearingDensity(angle, kappa(sd, extra, distance), backShare, wild);
                double chance = hearing.chance(distance, gainStep, cloud.marginOf(i), 0);
                log[i] = Math.log((cloud.attached(i) ? 1 / (2 * Math.PI) : density) * chance);
            }
        };
    }

    static double bearingDensity(double angleRad, double kappa, double backShare, double wildShare) {
        double cos = Math.cos(angleRad);
        double front = VonMises.density(cos, kappa);
        double back = backShare == 0 ? 0 : VonMises.density(-cos, kappa);
        return (1 - wildShare) * ((1 - backShare) * front + backShare * back) + wildShare / (2 * Math.PI);
    }

    /** κ of a standard deviation in degrees with the correction's error and the boat's own position error. */
    static double kappa(double sdDeg, double extraRad, double distanceM) {
        double sd = Math.toRadians(sdDeg);
        double near = OWN_POSITION_SD_M / Math.max(distanceM, OWN_POSITION_SD_M / 1.5);
        double variance = Math.min(2.4, sd * sd + extraRad * extraRad + near * near);
        return VonMises.concentration(Math.exp(-variance / 2));
    }

    Cloud.Likelihood listen(LocalPlane.Point own, Observation.Listen listen, double turnDeg) {
        double looks = Math.min(1, listen.seconds() / settings.hearing().lookS());
        Double from = listen.sweptFromDeg();
        Double to = listen.sweptToDeg();
        return (cloud, log) -> {
            for (int i = 0; i < log.length; i++) {
                double dx = cloud.x[i] - own.xM();
                double dy = cloud.y[i] - own.yM();
                double off = 0;
                if (from != null && to != null) {
                    double bearing = Math.toDegrees(Math.atan2(dx, dy)) - turnDeg;
                    off = listen.antenna().gainDb(outside(bearing, from, to));
                }
                double chance = looks * hearing.chance(Math.hypot(dx, dy), listen.gainStep(), cloud.marginOf(i), off);
                log[i] = Math.log(listen.heard() == Observation.Listen.Heard.HEARD ? chance : 1 - chance);
            }
        };
    }

    /** Degrees from a bearing to the nearest edge of a sector swept clockwise from one bearing to another; 0 inside. */
    static double outside(double bearingDeg, double fromDeg, double toDeg) {
        double width = Bearings.wrap360(toDeg - fromDeg);
        double along = Bearings.wrap360(bearingDeg - fromDeg);
        return along <= width ? 0 : Math.min(along - width, 360 - along);
    }

    Cloud.Likelihood notSeen(LocalPlane.Point own, double rangeM) {
        double looked = 0.8 * rangeM;
        return (cloud, log) -> {
            for (int i = 0; i < log.length; i++) {
                double distance = Math.hypot(cloud.x[i] - own.xM(), cloud.y[i] - own.yM());
                log[i] = distance <= looked && !cloud.ashore[i] && !cloud.attached(i) ? Math.log(1 - LOOK_CHANCE) : 0;
            }
        };
    }

    Cloud.Likelihood seenAtDistance(LocalPlane.Point own, double distanceM, double sdM) {
        return (cloud, log) -> {
            for (int i = 0; i < log.length; i++) {
                double off = Math.hypot(cloud.x[i] - own.xM(), cloud.y[i] - own.yM()) - distanceM;
                log[i] = -off * off / (2 * sdM * sdM);
            }
        };
    }

    Cloud.Likelihood drift(LocalPlane.Point own, Observation.Drift drift, double[] wind) {
        double windSpeed = Math.hypot(wind[0], wind[1]);
        // The mean of an error that persists over T differs from its end by σ √(2 t/3T) for t well below T, at most by
        // σ.
        double over = drift.overS() / (settings.drift().correlationH() * 3600);
        double base = Math.hypot(
                settings.drift().measuredSdMps(),
                settings.drift().currentSdMps() * Math.sqrt(Math.min(1, 2 * over / 3)));
        double perPlace = settings.drift().placeSdMps() / Math.cbrt(PLACES_APART_M);
        double leeway = settings.drift().boatLeeway();
        double measured =
                drift.drifter() == Observation.Drift.Drifter.STOPPED_BOAT ? Math.hypot(base, 0.02 * windSpeed) : base;
        double share = switch (drift.drifter()) {
            case STOPPED_BOAT, DROGUE -> 0;
            case DUMMY_FLOAT, RETRIEVED_PACKAGE -> 1;
        };
        double ownLeeway = drift.drifter() == Observation.Drift.Drifter.STOPPED_BOAT ? leeway : 0;
        double east = drift.eastMps() - ownLeeway * wind[0];
        double north = drift.northMps() - ownLeeway * wind[1];
        return (cloud, log) -> {
            Cloud.Flows flows = cloud.flows();
            for (int i = 0; i < log.length; i++) {
                double de = east - cloud.eastMps(flows, i, share);
                double dn = north - cloud.northMps(flows, i, share);
                double places = perPlace * Math.cbrt(Math.hypot(cloud.x[i] - own.xM(), cloud.y[i] - own.yM()));
                double variance = measured * measured + places * places;
                log[i] = -(de * de + dn * dn) / (2 * variance) - Math.log(variance);
            }
        };
    }
}
