package org.aftercast.search;

import java.time.Instant;
import java.util.SplittableRandom;
import org.aftercast.geo.Land;

/**
 * How the particles of a cloud drift.
 *
 * <p>Velocity of a particle = current(t) + its own error of it + tide(t)·its strength + wind factor · wind(t) turned by its
 * leeway angle. The current's error wanders about 0 with a persistence time (Ornstein–Uhlenbeck, Taylor 1921), its size
 * drawn per particle with heavy tails. Small-scale spreading is a random walk. Land stops a particle; it comes off again
 * by chance when the drift leads off. What is still on the animal wanders with it.
 */
final class CloudDrift {

    private final Cloud cloud;
    private final SearchSettings settings;
    private final Sea sea;
    private final Land land;
    private final Instant began;
    private final SplittableRandom random;

    CloudDrift(Cloud cloud, SearchSettings settings, Sea sea, Land land, Instant began, SplittableRandom random) {
        this.cloud = cloud;
        this.settings = settings;
        this.sea = sea;
        this.land = land;
        this.began = began;
        this.random = random;
    }

    private double gauss() {
        return random.nextGaussian();
    }

    /** Drifts all particles by one step. */
    void step(Instant middle, double stepS) {
        SearchSettings.Drift drift = settings.drift();
        double[] wind = sea.windAt(middle);
        double[] current = sea.currentAt(middle);
        double[] tide = sea.tideAt(middle);
        double keep = Math.exp(-stepS / (drift.correlationH() * 3600));
        double shake = drift.currentSdMps() * Math.sqrt(1 - keep * keep);
        double spread = Math.sqrt(2 * drift.diffusionM2ps() * stepS);
        double wander = Math.sqrt(2 * settings.attachment().animalSpreadM2ps() * stepS);
        double now = Sea.seconds(began, middle);
        for (int i = 0; i < cloud.x.length; i++) {
            if (cloud.offAtS[i] > now) {
                move(i, wander * gauss(), wander * gauss());
                continue;
            }
            double cos = Math.cos(cloud.leewayRad[i]);
            double sin = Math.sin(cloud.leewayRad[i]);
            double east = current[0]
                    + cloud.currentEast[i]
                    + tide[0] * cloud.tideScale[i]
                    + cloud.windFactor[i] * (wind[0] * cos + wind[1] * sin);
            double north = current[1]
                    + cloud.currentNorth[i]
                    + tide[1] * cloud.tideScale[i]
                    + cloud.windFactor[i] * (wind[1] * cos - wind[0] * sin);
            double dx = east * stepS + spread * gauss();
            double dy = north * stepS + spread * gauss();
            cloud.currentEast[i] = keep * cloud.currentEast[i] + shake * cloud.restless[i] * gauss();
            cloud.currentNorth[i] = keep * cloud.currentNorth[i] + shake * cloud.restless[i] * gauss();
            move(i, dx, dy);
        }
    }

    private void move(int i, double dx, double dy) {
        double newX = cloud.x[i] + dx;
        double newY = cloud.y[i] + dy;
        if (land.isLand(newX, newY) || land.isLand(cloud.x[i] + dx / 2, cloud.y[i] + dy / 2)) {
            cloud.ashore[i] = true;
            return;
        }
        if (cloud.ashore[i] && random.nextDouble() >= settings.drift().refloatChance()) {
            return;
        }
        cloud.ashore[i] = false;
        cloud.x[i] = newX;
        cloud.y[i] = newY;
    }
}
