package org.aftercast.estimate;

import java.util.LinkedHashSet;
import java.util.List;
import org.aftercast.stats.BinomialInterval;
import org.jspecify.annotations.Nullable;

/**
 * The choices behind an estimate. Change some with {@link #change()}.
 *
 * @param horizonH hours after release to which the headline speaks, above 0
 * @param furtherHorizonsH further hours at which survival is tabled
 * @param interval interval of the headline
 * @param level wanted coverage, above 0 and below 1
 * @param deaths which deaths count as caused by the catch
 * @param clusterBy group column whose members are not independent (trip, vessel, angler), or null
 * @param groupBy group columns to compare
 * @param riskModels declared set of models of what makes it worse: each a list of columns
 * @param scaleUp shares of groups in the fishery, or null
 * @param controls animals that were handled alike but not caught, or null
 * @param released animals that the fishery released, or null
 * @param naturalPerH natural death rate per hour in the long-term curve, ≥ 0
 * @param calibration whether the fate probabilities are known to be right as often as they say
 * @param seed of every random draw
 * @param replicates bootstrap replicates and posterior draws, ≥ 100
 */
public record EstimateSettings(
        double horizonH,
        List<Double> furtherHorizonsH,
        BinomialInterval interval,
        double level,
        DeathRule deaths,
        @Nullable String clusterBy,
        List<String> groupBy,
        List<List<String>> riskModels,
        @Nullable ScaleUp scaleUp,
        @Nullable Controls controls,
        @Nullable ReleasedCatch released,
        double naturalPerH,
        Calibration calibration,
        long seed,
        int replicates) {

    /** Whether fate probabilities are right as often as they say. */
    public enum Calibration {
        /** Checked against known fates. */
        CALIBRATED,
        /** Not checked. */
        NOT_CHECKED
    }

    /**
     * From groups of tagged animals to the fishery.
     *
     * @param column the group column
     * @param weights share of each group in the fishery; scaled to sum 1
     * @param weightsFrom animals on which the shares rest, 0 when they are taken as known
     */
    public record ScaleUp(String column, List<Weight> weights, int weightsFrom) {

        public ScaleUp {
            weights = List.copyOf(weights);
            if (weightsFrom < 0 || weights.stream().mapToDouble(Weight::share).sum() <= 0) {
                throw new IllegalArgumentException(
                        "weightsFrom: " + weightsFrom + " must be ≥ 0 and the shares must sum to more than 0");
            }
        }
    }

    /**
     * Share of one group.
     *
     * @param group value in the group column
     * @param share ≥ 0
     */
    public record Weight(String group, double share) {

        public Weight {
            if (!(share >= 0 && share < Double.POSITIVE_INFINITY)) {
                throw new IllegalArgumentException("share: " + share + " of group " + group + " is not ≥ 0");
            }
        }
    }

    /**
     * Control animals: handled and tagged alike, but not caught by the gear.
     *
     * @param animals ≥ 1
     * @param died by the same horizon, 0–animals
     */
    public record Controls(int animals, int died) {

        public Controls {
            if (animals < 1 || died < 0 || died > animals) {
                throw new IllegalArgumentException(
                        "died: " + died + " of animals: " + animals + " needs 0 ≤ died ≤ animals, animals ≥ 1");
            }
        }
    }

    /**
     * Animals that the fishery released, on which the share is laid.
     *
     * @param animals above 0
     * @param low lower limit at the estimate's level, above 0, or null when the number is taken as known
     * @param high upper limit; both or neither
     * @param what which animals these are (fishery, year, area), or null
     */
    public record ReleasedCatch(
            double animals,
            @Nullable Double low,
            @Nullable Double high,
            @Nullable String what) {

        public ReleasedCatch {
            if (!(animals > 0 && animals <= 1e12)) {
                throw new IllegalArgumentException(
                        "released: " + animals + " is not a number of animals above 0, up to 1e12");
            }
            if ((low == null) != (high == null)
                    || (low != null
                            && high != null
                            && !(low > 0 && low <= animals && animals <= high && high <= 1e12))) {
                throw new IllegalArgumentException("released: limits " + low + " to " + high
                        + " must both be given, above 0 up to 1e12, with the number " + animals + " between them");
            }
        }
    }

    public EstimateSettings {
        furtherHorizonsH = List.copyOf(furtherHorizonsH);
        groupBy = List.copyOf(groupBy);
        riskModels = riskModels.stream().map(List::copyOf).toList();
        if (!(horizonH > 0 && horizonH < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException("horizonH: " + horizonH + " is not a number of hours above 0");
        }
        for (double further : furtherHorizonsH) {
            if (!(further > 0 && further < Double.POSITIVE_INFINITY)) {
                throw new IllegalArgumentException(
                        "furtherHorizonsH: " + further + " is not a number of hours above 0");
            }
        }
        if (!(level > 0 && level < 1)) {
            throw new IllegalArgumentException("level: " + level + " is not between 0 and 1");
        }
        if (!(naturalPerH >= 0 && naturalPerH < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException("naturalPerH: " + naturalPerH + " is not ≥ 0");
        }
        if (replicates < 100) {
            throw new IllegalArgumentException("replicates: " + replicates + " is below 100");
        }
    }

    /** 24 h, Clopper–Pearson 95 %, every death while watched counts, 10 000 replicates. */
    public static EstimateSettings defaults() {
        return new EstimateSettings(
                24,
                List.of(6.0, 12.0, 48.0),
                BinomialInterval.CLOPPER_PEARSON,
                0.95,
                new DeathRule(EatenRule.COUNTS, null),
                null,
                List.of(),
                List.of(),
                null,
                null,
                null,
                0,
                Calibration.NOT_CHECKED,
                20260101L,
                10_000);
    }

    /** A copy to be changed. */
    public Change change() {
        return new Change(this);
    }

    /** Every column that these settings name, without repetition. */
    public List<String> columnsNamed() {
        LinkedHashSet<String> named = new LinkedHashSet<>(groupBy);
        if (clusterBy != null) {
            named.add(clusterBy);
        }
        riskModels.forEach(named::addAll);
        if (scaleUp != null) {
            named.add(scaleUp.column());
        }
        return List.copyOf(named);
    }

    /** Settings being changed; {@link #done} checks them. */
    public static final class Change {

        private double horizonH;
        private List<Double> furtherHorizonsH;
        private BinomialInterval interval;
        private double level;
        private DeathRule deaths;
        private @Nullable String clusterBy;
        private List<String> groupBy;
        private List<List<String>> riskModels;
        private @Nullable ScaleUp scaleUp;
        private @Nullable Controls controls;
        private @Nullable ReleasedCatch released;
        private double naturalPerH;
        private Calibration calibration;
        private long seed;
        private int replicates;

        private Change(EstimateSettings from) {
            horizonH = from.horizonH;
            furtherHorizonsH = from.furtherHorizonsH;
            interval = from.interval;
            level = from.level;
            deaths = from.deaths;
            clusterBy = from.clusterBy;
            groupBy = from.groupBy;
            riskModels = from.riskModels;
            scaleUp = from.scaleUp;
            controls = from.controls;
            released = from.released;
            naturalPerH = from.naturalPerH;
            calibration = from.calibration;
            seed = from.seed;
            replicates = from.replicates;
        }

        public Change horizonH(double value) {
            horizonH = value;
            return this;
        }

        public Change furtherHorizonsH(List<Double> value) {
            furtherHorizonsH = value;
            return this;
        }

        public Change interval(BinomialInterval value) {
            interval = value;
            return this;
        }

        public Change level(double value) {
            level = value;
            return this;
        }

        public Change deaths(DeathRule value) {
            deaths = value;
            return this;
        }

        public Change clusterBy(@Nullable String value) {
            clusterBy = value;
            return this;
        }

        public Change groupBy(List<String> value) {
            groupBy = value;
            return this;
        }

        public Change riskModels(List<List<String>> value) {
            riskModels = value;
            return this;
        }

        public Change scaleUp(@Nullable ScaleUp value) {
            scaleUp = value;
            return this;
        }

        public Change controls(@Nullable Controls value) {
            controls = value;
            return this;
        }

        public Change released(@Nullable ReleasedCatch value) {
            released = value;
            return this;
        }

        public Change naturalPerH(double value) {
            naturalPerH = value;
            return this;
        }

        public Change calibration(Calibration value) {
            calibration = value;
            return this;
        }

        public Change seed(long value) {
            seed = value;
            return this;
        }

        public Change replicates(int value) {
            replicates = value;
            return this;
        }

        /**
         * The changed settings.
         *
         * @throws IllegalArgumentException if a value is out of range
         */
        public EstimateSettings done() {
            return new EstimateSettings(
                    horizonH,
                    furtherHorizonsH,
                    interval,
                    level,
                    deaths,
                    clusterBy,
                    groupBy,
                    riskModels,
                    scaleUp,
                    controls,
                    released,
                    naturalPerH,
                    calibration,
                    seed,
                    replicates);
        }
    }
}
