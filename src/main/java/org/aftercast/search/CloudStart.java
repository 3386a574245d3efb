package org.aftercast.search;

import java.time.Instant;
import java.util.SplittableRandom;
import org.aftercast.geo.LocalPlane;

/** Draws a cloud's particles before anything was heard: place, drift, hearing, compass, and when each came off the animal. */
final class CloudStart {

    private CloudStart() {}

    static void fill(Cloud cloud, HuntStart start, SearchSettings settings, SplittableRandom random) {
        HuntStart.Contact contact = start.contact();
        LocalPlane.Point centre = start.land().plane().toPlane(contact.position());
        SearchSettings.Drift drift = settings.drift();
        Sea.Tide tide = start.sea().tide();
        for (int i = 0; i < cloud.x.length; i++) {
            int tries = 0;
            do {
                cloud.x[i] = centre.xM() + contact.sdM() * random.nextGaussian();
                cloud.y[i] = centre.yM() + contact.sdM() * random.nextGaussian();
            } while (start.land().isLand(cloud.x[i], cloud.y[i]) && ++tries < 30);
            cloud.ashore[i] = start.land().isLand(cloud.x[i], cloud.y[i]);
            cloud.restless[i] = Resampling.heavyTail(random, drift.volatilityTail(), drift.volatilityTail() - 2);
            cloud.currentEast[i] = drift.currentSdMps() * cloud.restless[i] * random.nextGaussian();
            cloud.currentNorth[i] = drift.currentSdMps() * cloud.restless[i] * random.nextGaussian();
            cloud.windFactor[i] = Math.max(0, drift.windFactor() + drift.windFactorSd() * random.nextGaussian());
            cloud.leewayRad[i] = Math.toRadians(drift.leewayAngleSdDeg() * random.nextGaussian());
            cloud.marginDb[i] = settings.hearing().marginSdDb() * random.nextGaussian();
            cloud.logSdDeg[i] =
                    Math.log(settings.bearings().sdDeg()) + settings.bearings().sdSpread() * random.nextGaussian();
            cloud.compassRad[i] = Math.toRadians(settings.bearings().compassSdDeg() * random.nextGaussian());
            cloud.tideScale[i] = tide == null ? 1 : 1 + tide.strengthSd() * random.nextGaussian();
            cloud.offAtS[i] = Double.NEGATIVE_INFINITY;
            cloud.weight[i] = 1.0 / cloud.x.length;
        }
        Instant planned = start.plannedDetachment();
        if (planned != null && planned.isAfter(contact.time())) {
            attach(cloud, settings.attachment(), random, Sea.seconds(contact.time(), planned));
        }
    }

    private static void attach(Cloud cloud, SearchSettings.Attachment a, SplittableRandom random, double plannedS) {
        double[] offAtS = cloud.offAtS;
        for (int i = 0; i < offAtS.length; i++) {
            double roll = random.nextDouble();
            offAtS[i] = roll < a.earlyShare()
                    ? plannedS * random.nextDouble()
                    : roll < a.earlyShare() + a.stuckShare()
                            ? Double.POSITIVE_INFINITY
                            : Math.max(0, plannedS + 60 * a.offSdMin() * random.nextGaussian());
        }
    }
}
