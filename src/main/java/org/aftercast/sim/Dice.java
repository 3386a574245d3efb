package org.aftercast.sim;

import java.util.SplittableRandom;

/** Seeded randomness with the few shapes that the simulator needs. Not for use by several threads at once. */
final class Dice {

    private final SplittableRandom random;

    Dice(long seed) {
        this.random = new SplittableRandom(seed);
    }

    /** A number that looks random, fixed by two others: seeds of parts from one seed. */
    static long mix(long seed, long part) {
        long z = seed + 0x9E3779B97F4A7C15L * (part + 1);
        z = (z ^ (z >>> 30)) * 0xBF58476D1CE4E5B9L;
        z = (z ^ (z >>> 27)) * 0x94D049BB133111EBL;
        return z ^ (z >>> 31);
    }

    double uniform() {
        return random.nextDouble();
    }

    double between(double low, double high) {
        return low + (high - low) * random.nextDouble();
    }

    double logBetween(double low, double high) {
        return Math.exp(between(Math.log(low), Math.log(high)));
    }

    double normal() {
        return random.nextGaussian();
    }

    /** Exponential with this mean. */
    double waiting(double mean) {
        return -mean * Math.log(1 - random.nextDouble());
    }

    /** Whether something of this probability happens. */
    boolean happens(double probability) {
        return random.nextDouble() < probability;
    }

    int below(int bound) {
        return random.nextInt(bound);
    }
}
