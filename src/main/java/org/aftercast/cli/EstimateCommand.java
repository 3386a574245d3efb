package org.aftercast.cli;

import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.Callable;
import org.aftercast.estimate.DeathRule;
import org.aftercast.estimate.EatenRule;
import org.aftercast.estimate.EstimateSettings;
import org.aftercast.estimate.EstimateSettings.Calibration;
import org.aftercast.estimate.LandedCounts;
import org.aftercast.stats.BinomialInterval;
import org.aftercast.study.FileStore;
import org.aftercast.voyage.BadInputException;
import org.aftercast.voyage.EstimateDocument;
import org.aftercast.voyage.EstimateStudy;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.ITypeConverter;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;
import picocli.CommandLine.TypeConversionException;

/** {@code aftercast estimate}. */
@Command(
        name = "estimate",
        mixinStandardHelpOptions = true,
        description = "From the fates of all animals to the share that died, with its interval and its assumptions.")
final class EstimateCommand implements Callable<Integer> {

    @Spec
    @SuppressWarnings("NullAway.Init") // filled by picocli before call()
    private CommandSpec spec;

    @Parameters(
            paramLabel = "FILE|DIR",
            description = "A table of fates as CSV, one row an animal; or a study's folder.")
    @SuppressWarnings("NullAway.Init") // required
    private Path source;

    @Option(names = "--json", paramLabel = "OUT", description = "Also write everything as JSON.")
    private @Nullable Path json;

    @Option(
            names = "--horizon",
            paramLabel = "HOURS",
            description = "Hours after release (default: a study's declared horizon, 24 for a table).")
    private @Nullable Double horizonH;

    @Option(
            names = "--interval",
            paramLabel = "NAME",
            converter = IntervalName.class,
            description = "clopper-pearson (default), wilson, jeffreys or mid-p.")
    private @Nullable BinomialInterval interval;

    @Option(names = "--level", paramLabel = "SHARE", description = "Wanted coverage of the interval (default 0.95).")
    private @Nullable Double level;

    @Option(
            names = "--eaten",
            paramLabel = "RULE",
            converter = EatenName.class,
            description = "counts (default): eaten alive counts as killed by the catch; other-end: it does not.")
    private @Nullable EatenRule eaten;

    @Option(
            names = "--deaths-within",
            paramLabel = "HOURS",
            description =
                    "Later deaths do not count as caused by the catch (default: a study's declared rule; for a table all"
                            + " count).")
    private @Nullable Double withinH;

    @Option(names = "--landed", paramLabel = "N", description = "Animals brought to the vessel, tagged or not.")
    private @Nullable Integer landed;

    @Option(names = "--dead-at-vessel", paramLabel = "N", description = "Of these, dead before release.")
    private @Nullable Integer deadAtVessel;

    @Option(
            names = "--not-tagged",
            paramLabel = "REASON=N",
            description = "Landed alive but released without a package, by reason; repeat for each reason.")
    private Map<String, Integer> notTagged = Map.of();

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
    private int controlDeaths;

    @Option(names = "--natural-rate", paramLabel = "PER_H", description = "Natural deaths per animal and hour (0).")
    private double naturalPerH;

    @Option(names = "--calibrated", description = "The fate probabilities were checked against known fates.")
    private boolean calibrated;

    @Option(names = "--seed", paramLabel = "N", description = "Seed of every random draw.")
    private @Nullable Long seed;

    @Option(names = "--replicates", paramLabel = "N", description = "Random replicates (default 10000).")
    private @Nullable Integer replicates;

    @Override
    public Integer call() throws Exception {
        EstimateSettings settings;
        LandedCounts counts;
        try {
            settings = settings();
            counts = landedCounts();
        } catch (IllegalArgumentException bad) {
            throw new ParameterException(spec.commandLine(), bad.getMessage(), bad);
        }
        if (json != null && Files.isDirectory(json)) {
            throw new BadInputException(json + ": is a folder; accepted: the name of a file to write");
        }
        EstimateStudy study = new EstimateStudy(FileStore.onDisk());
        EstimateDocument document = Files.isDirectory(source)
                ? study.fromStudy(source, counts, this::ofStudy, InstantSource.system())
                : study.fromTable(source, counts, settings);
        PrintWriter out = spec.commandLine().getOut();
        EstimateSummary.lines(document.estimate()).forEach(out::println);
        if (json != null) {
            study.writeJson(document, json);
            out.println();
            out.println("Written: " + json);
        }
        out.flush();
        return 0;
    }

    /** The options, and where they are silent what the study has declared. */
    private EstimateSettings ofStudy(EstimateSettings declared) {
        EstimateSettings given = settings();
        return given.change()
                .horizonH(horizonH == null ? declared.horizonH() : horizonH)
                .deaths(new DeathRule(
                        eaten == null ? declared.deaths().eaten() : eaten,
                        withinH == null ? declared.deaths().withinH() : withinH))
                .clusterBy(clusterBy == null ? declared.clusterBy() : clusterBy)
                .riskModels(risk.isEmpty() ? declared.riskModels() : given.riskModels())
                .done();
    }

    private EstimateSettings settings() {
        EstimateSettings d = EstimateSettings.defaults();
        if ((scaleUp == null) != weights.isEmpty()) {
            throw new IllegalArgumentException("--scale-up and --weight need each other");
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
                .controls(controls == null ? null : new EstimateSettings.Controls(controls, controlDeaths))
                .naturalPerH(naturalPerH)
                .calibration(calibrated ? Calibration.CALIBRATED : Calibration.NOT_CHECKED)
                .seed(seed == null ? d.seed() : seed)
                .replicates(replicates == null ? d.replicates() : replicates)
                .done();
    }

    private @Nullable LandedCounts landedCounts() {
        if (landed == null) {
            if (deadAtVessel != null || !notTagged.isEmpty()) {
                throw new IllegalArgumentException("--dead-at-vessel and --not-tagged need --landed");
            }
            return null;
        }
        List<LandedCounts.NotTagged> reasons = new ArrayList<>();
        notTagged.forEach((reason, n) -> reasons.add(new LandedCounts.NotTagged(reason, n)));
        return new LandedCounts(landed, deadAtVessel == null ? 0 : deadAtVessel, reasons);
    }

    /** Names with hyphens. */
    private static <E extends Enum<E>> E named(Class<E> type, String text) {
        for (E value : type.getEnumConstants()) {
            if (value.name().replace('_', '-').equalsIgnoreCase(text.replace('_', '-'))) {
                return value;
            }
        }
        List<String> names = new ArrayList<>();
        for (E value : type.getEnumConstants()) {
            names.add(value.name().replace('_', '-').toLowerCase(Locale.ROOT));
        }
        throw new TypeConversionException("\"" + text + "\" is not one of " + String.join(", ", names));
    }

    static final class IntervalName implements ITypeConverter<BinomialInterval> {
        @Override
        public BinomialInterval convert(String text) {
            return named(BinomialInterval.class, text);
        }
    }

    static final class EatenName implements ITypeConverter<EatenRule> {
        @Override
        public EatenRule convert(String text) {
            return named(EatenRule.class, text);
        }
    }
}
