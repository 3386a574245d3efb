package org.aftercast.search;

import java.util.List;

/**
 * Everything the search room can be told. Figures marked judgement are starting points: measure your own.
 *
 * @param particles number of particles, 500 to 200 000
 * @param seed randomness; the same seed and observations give the same fix
 * @param drift how packages drift
 * @param hearing how far they are heard
 * @param bearings how wrong bearings are
 * @param advice how legs are chosen
 * @param attachment whether the package is still on the animal
 */
public record SearchSettings(
        int particles,
        long seed,
        Drift drift,
        Hearing hearing,
        Bearings bearings,
        AdviceRules advice,
        Attachment attachment) {

    public SearchSettings {
        if (particles < 500 || particles > 200_000) {
            throw new IllegalArgumentException("particles: " + particles + " is outside 500–200000");
        }
    }

    /**
     * How packages drift.
     *
     * @param windFactor share of the wind speed a float drifts with, mean of the prior; 0.025 (judgement on 2–4 %, Wagner
     *     2022)
     * @param windFactorSd its standard deviation; 0.008
     * @param leewayAngleSdDeg standard deviation of the angle off downwind; 15°, either side
     * @param currentSdMps standard deviation of the current about what was typed or measured, in m/s; 0.15
     * @param correlationH time over which that error persists, in hours (Taylor 1921)
     * @param volatilityTail degrees of freedom of how restless currents differ between places; 4: heavy tails. A place that
     *     drifts fast is then taken to be a restless one
     * @param diffusionM2ps spreading K in m²/s by what is smaller than the error of the current: 0.5, Okubo's (1971) at 1 km
     * @param stepS longest time step in seconds
     * @param refloatChance chance that a package held at the shore comes off when the drift leads off it (judgement)
     * @param measuredSdMps error of a measured drift at its own place, in m/s (an hour's mean for the moment's)
     * @param placeSdMps how currents 10 km apart differ, in m/s; grows with the cube root of the distance (Richardson's law,
     *     from memory; the figure is judgement)
     * @param boatLeeway share of the wind a stopped boat drifts with; 0.03 ± 0.02 (judgement)
     */
    public record Drift(
            double windFactor,
            double windFactorSd,
            double leewayAngleSdDeg,
            double currentSdMps,
            double correlationH,
            double volatilityTail,
            double diffusionM2ps,
            double stepS,
            double refloatChance,
            double measuredSdMps,
            double placeSdMps,
            double boatLeeway) {
        public Drift {
            range("windFactor", windFactor, 0, 0.1);
            range("windFactorSd", windFactorSd, 0, 0.05);
            range("leewayAngleSdDeg", leewayAngleSdDeg, 0, 60);
            range("currentSdMps", currentSdMps, 0, 3);
            range("correlationH", correlationH, 0.1, 1000);
            range("volatilityTail", volatilityTail, 2.1, 1000);
            range("diffusionM2ps", diffusionM2ps, 0, 1000);
            range("stepS", stepS, 10, 3600);
            range("refloatChance", refloatChance, 0, 1);
            range("measuredSdMps", measuredSdMps, 0.005, 2);
            range("placeSdMps", placeSdMps, 0, 2);
            range("boatLeeway", boatLeeway, 0, 0.2);
        }
    }

    /**
     * How far packages are heard.
     *
     * @param frequencyMHz beacon's frequency, 30–1000
     * @param beaconHeightM height of its antenna above the water
     * @param antennaHeightM height of the boat's antenna above the water
     * @param referenceDistanceM distance at which, at the highest gain, a beacon is heard half the time; 10 nautical miles
     *     is common practice without a source and beyond the horizon, so it carries a wide error
     * @param marginSdDb how far that may be wrong, in dB
     * @param fadingSdDb spread from look to look in dB (swell, fading)
     * @param lossErrorDb how far the law of loss may be off between two distances e apart, in dB; 2
     *     (judgement: near the beacon losses between 20 and 40 dB a decade are met, 9 dB apart over a factor e)
     * @param falseChance chance that a beacon is noted heard when it cannot be
     * @param bestChance chance that a loud beacon is noted heard
     * @param gainStepsDb attenuation of each gain step in dB, the first 0 (highest gain), rising
     * @param lookS time of one look in seconds: one turn of the antenna
     * @param muteShare prior chance that the beacon cannot be heard at all (dead, under water, wet antenna)
     */
    public record Hearing(
            double frequencyMHz,
            double beaconHeightM,
            double antennaHeightM,
            double referenceDistanceM,
            double marginSdDb,
            double fadingSdDb,
            double lossErrorDb,
            double falseChance,
            double bestChance,
            List<Double> gainStepsDb,
            double lookS,
            double muteShare) {
        public Hearing {
            gainStepsDb = List.copyOf(gainStepsDb);
            range("frequencyMHz", frequencyMHz, 30, 1000);
            range("beaconHeightM", beaconHeightM, 0.01, 5);
            range("antennaHeightM", antennaHeightM, 0.5, 50);
            range("referenceDistanceM", referenceDistanceM, 100, 100_000);
            range("marginSdDb", marginSdDb, 0, 30);
            range("fadingSdDb", fadingSdDb, 0.1, 30);
            range("lossErrorDb", lossErrorDb, 0, 20);
            range("falseChance", falseChance, 0, 0.2);
            range("bestChance", bestChance, 0.5, 1);
            range("lookS", lookS, 1, 600);
            range("muteShare", muteShare, 0, 0.9);
            if (gainStepsDb.isEmpty() || gainStepsDb.size() > 20 || gainStepsDb.get(0) != 0) {
                throw new IllegalArgumentException("gainStepsDb: 1–20 steps are needed, the first 0 dB");
            }
            for (int i = 1; i < gainStepsDb.size(); i++) {
                if (!(gainStepsDb.get(i) > gainStepsDb.get(i - 1))) {
                    throw new IllegalArgumentException("gainStepsDb: attenuations must rise, not " + gainStepsDb);
                }
            }
        }
    }

    /**
     * How wrong bearings are.
     *
     * @param sdDeg median of the standard deviation in degrees; 12 (small boat, judgement 8–15)
     * @param sdSpread how unsure that is, as the standard deviation of its logarithm; 0.5
     * @param wildShare share of bearings that mean nothing; 0.05
     * @param deviationCard the boat's compass: heading (magnetic) to deviation (degrees, east positive); may be empty
     * @param courseSdDeg extra error of a course over ground used as heading, in degrees (set, leeway)
     * @param compassSdDeg how far all bearings of a search may be off together, in degrees (compass, habit, a metal boat); 5
     *     (judgement)
     */
    public record Bearings(
            double sdDeg,
            double sdSpread,
            double wildShare,
            List<DeviationPoint> deviationCard,
            double courseSdDeg,
            double compassSdDeg) {
        public Bearings {
            deviationCard = List.copyOf(deviationCard);
            range("sdDeg", sdDeg, 0.5, 60);
            range("sdSpread", sdSpread, 0, 1.5);
            range("wildShare", wildShare, 0.001, 0.5);
            range("courseSdDeg", courseSdDeg, 0, 45);
            range("compassSdDeg", compassSdDeg, 0, 45);
        }
    }

    /** One line of a deviation card: magnetic heading and deviation in degrees, east positive. */
    public record DeviationPoint(double headingDeg, double deviationDeg) {}

    /**
     * How legs are chosen.
     *
     * @param visualRangeM how far a float is seen from the boat in metres; 0.1 nautical miles (judgement)
     * @param stopMinutes time of a stop with one turn of the antenna
     * @param shortestLegM shortest leg in metres
     * @param longestLegM longest leg in metres
     * @param coastMarginM legs keep this far from the shipped coast
     * @param daylightMarginMin minutes before sunset to be home by
     */
    public record AdviceRules(
            double visualRangeM,
            double stopMinutes,
            double shortestLegM,
            double longestLegM,
            double coastMarginM,
            double daylightMarginMin) {
        public AdviceRules {
            range("visualRangeM", visualRangeM, 10, 2000);
            range("stopMinutes", stopMinutes, 0, 60);
            range("shortestLegM", shortestLegM, 50, 10_000);
            range("longestLegM", longestLegM, shortestLegM, 50_000);
            range("coastMarginM", coastMarginM, 0, 5000);
            range("daylightMarginMin", daylightMarginMin, 0, 300);
        }
    }

    /**
     * Whether the package is still on the animal, where a planned detachment is known and lies after the start. All judgement.
     *
     * @param earlyShare share of packages that come off before they should; any time before is as likely; 0.1
     * @param stuckShare share that does not come off when it should; 0.05
     * @param offSdMin how far the planned time may be missed, in minutes (standard deviation); 15
     * @param animalSpreadM2ps how an animal wanders, as a random walk in m²/s; 100: 4 km a day on each axis
     */
    public record Attachment(double earlyShare, double stuckShare, double offSdMin, double animalSpreadM2ps) {
        public Attachment {
            range("earlyShare", earlyShare, 0, 0.9);
            range("stuckShare", stuckShare, 0, 0.9);
            range("earlyShare + stuckShare", earlyShare + stuckShare, 0, 0.95);
            range("offSdMin", offSdMin, 0, 1440);
            range("animalSpreadM2ps", animalSpreadM2ps, 0, 10_000);
        }
    }

    /** The defaults; see each part. */
    public static SearchSettings defaults() {
        return new SearchSettings(
                20_000,
                1,
                new Drift(0.025, 0.008, 15, 0.15, 12, 4, 0.5, 300, 0.5, 0.025, 0.07, 0.03),
                new Hearing(
                        150,
                        0.15,
                        4,
                        18_520,
                        8,
                        6,
                        2,
                        0.01,
                        0.95,
                        List.of(0.0, 12.0, 24.0, 36.0, 48.0, 60.0),
                        20,
                        0.05),
                new Bearings(12, 0.5, 0.05, List.of(), 8, 5),
                new AdviceRules(185, 3, 400, 9000, 300, 30),
                new Attachment(0.1, 0.05, 15, 100));
    }

    /** The same with another number of particles and seed. */
    public SearchSettings with(int newParticles, long newSeed) {
        return new SearchSettings(newParticles, newSeed, drift, hearing, bearings, advice, attachment);
    }

    /** The same with other drift settings. */
    public SearchSettings with(Drift newDrift) {
        return new SearchSettings(particles, seed, newDrift, hearing, bearings, advice, attachment);
    }

    /** The same with other hearing settings. */
    public SearchSettings with(Hearing newHearing) {
        return new SearchSettings(particles, seed, drift, newHearing, bearings, advice, attachment);
    }

    /** The same with other bearing settings. */
    public SearchSettings with(Bearings newBearings) {
        return new SearchSettings(particles, seed, drift, hearing, newBearings, advice, attachment);
    }

    private static void range(String name, double value, double low, double high) {
        if (!(value >= low && value <= high)) {
            throw new IllegalArgumentException(name + ": " + value + " is outside " + low + "–" + high);
        }
    }
}
