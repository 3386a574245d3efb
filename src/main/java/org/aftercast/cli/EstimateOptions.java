package org.aftercast.cli;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import org.aftercast.estimate.DeathRule;
import org.aftercast.estimate.EatenRule;
import org.aftercast.estimate.EstimateSettings;
import org.aftercast.estimate.EstimateSettings.Calibration;
import org.aftercast.stats.BinomialInterval;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Option;

/** The choices of an estimate as options, for every command that makes one. */
final class EstimateOptions {

    @Option(
            names = "--horizon",
            paramLabel = "HOURS",
            description = "Hours after release (default: a study's declared horizon, 24 for a table).")
    private @Nullable Double horizonH;

    @Option(
            names = "--interval",
            paramLabel = "NAME",
            converter = EstimateCommand.IntervalName.class,
            description = "clopper-pearson (default), wilson, jeffreys or mid-p.")
    private @Nullable BinomialInterval interval;

    @Option(names = "--level", paramLabel = "SHARE", description = "Wanted coverage of the interval (default 0.95).")
    private @Nullable Double level;

    @Option(
            names = "--eaten",
            paramLabel = "RULE",
            converter = EstimateCommand.EatenName.class,
            description = "counts (default): eaten alive counts as killed by the catch; other-end: it does not.")
    private @Nullable EatenRule eaten;

    @Option(
            names = "--deaths-within",
            paramLabel = "HOURS",
            description =
                    "Later deaths do not count as caused by the catch (default: a study's declared rule; for a table all"
                            + " count).")
    private @Nullable Double withinH;

    @Option(names = "--cluster", paramLabel = "COLUMN", description = "Animals of one trip, vessel or angler.")
    private @Nullable String clusterBy;

    @Option(names = "--by", paramLabel = "COLUMN", split = ",", description = "Compare groups.")
    private List<String> groupBy = List.of();

    @Option(
            names = "--risk",
            paramLabel = "COLUMN[,COLUMN]",
            description = "A model of what makes it worse; repeat for each model of the declared set.")
    private List<String> risk = List.of();

    @Option(names = "--scale-up", paramLabel = "COLUMN", description = "Groups to be weighted by their share.")
    private @Nullable String scaleUp;

    @Option(names = "--weight", paramLabel = "GROUP=SHARE", description = "Share of a group in the fishery; repeat.")
    private Map<String, Double> weights = Map.of();

    @Option(names = "--weights-from", paramLabel = "N", description = "Animals on which the shares rest (0: known).")
    private int weightsFrom;

    @Option(names = "--controls", paramLabel = "N", description = "Control animals: handled alike, not caught.")
    private @Nullable Integer controls;

    @Option(names = "--control-deaths", paramLabel = "N", description = "Of these, dead by the horizon.")
    private @Nullable Integer controlDeaths;

    @Option(names = "--released", paramLabel = "N", description = "Animals that the fishery released.")
    private @Nullable Double released;

    @Option(
            names = "--released-between",
            paramLabel = "LOW,HIGH",
            split = ",",
            description = "Limits of that number, as sure as --level (default: it is known).")
    private List<Double> releasedBetween = List.of();

    @Option(names = "--released-what", paramLabel = "TEXT", description = "Which animals: fishery, year, area.")
    private @Nullable String releasedWhat;

    @Option(names = "--natural-rate", paramLabel = "PER_H", description = "Natural deaths per animal and hour (0).")
    private double naturalPerH;

    @Option(names = "--calibrated", description = "The fate probabilities were checked against known fates.")
    private boolean calibrated;

    @Option(names = "--seed", paramLabel = "N", description = "Seed of every random draw.")
    private @Nullable Long seed;

    @Option(names = "--replicates", paramLabel = "N", description = "Random replicates (default 10000).")
    private @Nullable Integer replicates;

    /** The options, and where they are silent what the study has declared. */
    EstimateSettings ofStudy(EstimateSettings declared) {
        EstimateSettings given = settings();
        return given.change()
                .horizonH(horizonH == null ? declared.horizonH() : horizonH)
                .deaths(new DeathRule(
                        eaten == null ? declared.deaths().eaten() : eaten,
                        withinH == null ? declared.deaths().withinH() : withinH))
                .clusterBy(clusterBy == null ? declared.clusterBy() : clusterBy)
                .groupBy(groupBy.isEmpty() ? declared.groupBy() : groupBy)
                .riskModels(risk.isEmpty() ? declared.riskModels() : given.riskModels())
                .scaleUp(scaleUp == null ? declared.scaleUp() : given.scaleUp())
                .controls(controls == null ? declared.controls() : given.controls())
                .released(released == null ? declared.released() : given.released())
                .done();
    }

    EstimateSettings settings() {
        EstimateSettings d = EstimateSettings.defaults();
        if ((scaleUp == null) != weights.isEmpty()) {
            throw new IllegalArgumentException("--scale-up and --weight need each other");
        }
        if (controls == null && controlDeaths != null) {
            throw new IllegalArgumentException("--control-deaths needs --controls");
        }
        if (controls != null) {
            int dead = controlDeaths == null ? 0 : controlDeaths;
            if (controls < 1 || dead < 0 || dead > controls) {
                throw new IllegalArgumentException("--control-deaths: " + dead + " of --controls: " + controls
                        + " cannot be; accepted: at least 1 control animal, and no more deaths than animals");
            }
        }
        if (scaleUp == null && weightsFrom != 0) {
            throw new IllegalArgumentException("--weights-from needs --scale-up and --weight");
        }
        List<EstimateSettings.Weight> shares = new ArrayList<>();
        weights.forEach((group, share) -> shares.add(new EstimateSettings.Weight(group, share)));
        return d.change()
                .horizonH(horizonH == null ? d.horizonH() : horizonH)
                .interval(interval == null ? d.interval() : interval)
                .level(level == null ? d.level() : level)
                .deaths(new DeathRule(eaten == null ? d.deaths().eaten() : eaten, withinH))
                .clusterBy(clusterBy)
                .groupBy(groupBy)
                .riskModels(risk.stream()
                        .map(columns -> Arrays.stream(columns.split(","))
                                .map(String::strip)
                                .toList())
                        .toList())
                .scaleUp(scaleUp == null ? null : new EstimateSettings.ScaleUp(scaleUp, shares, weightsFrom))
                .controls(
                        controls == null
                                ? null
                                : new EstimateSettings.Controls(controls, controlDeaths == null ? 0 : controlDeaths))
                .released(releasedCatch())
                .naturalPerH(naturalPerH)
                .calibration(calibrated ? Calibration.CALIBRATED : Calibration.NOT_CHECKED)
                .seed(seed == null ? d.seed() : seed)
                .replicates(replicates == null ? d.replicates() : replicates)
                .done();
    }

    private EstimateSettings.@Nullable ReleasedCatch releasedCatch() {
        if (released == null) {
            if (!releasedBetween.isEmpty() || releasedWhat != null) {
                throw new IllegalArgumentException("--released-between and --released-what need --released");
            }
            return null;
        }
        if (!releasedBetween.isEmpty() && releasedBetween.size() != 2) {
            throw new IllegalArgumentException(
                    "--released-between: " + releasedBetween.size() + " numbers; accepted: two, such as 3200,5000");
        }
        return new EstimateSettings.ReleasedCatch(
                released,
                releasedBetween.isEmpty() ? null : releasedBetween.get(0),
                releasedBetween.isEmpty() ? null : releasedBetween.get(1),
                releasedWhat);
    }
}
