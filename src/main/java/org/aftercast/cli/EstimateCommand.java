package org.aftercast.cli;

import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.Callable;
import org.aftercast.estimate.EatenRule;
import org.aftercast.estimate.EstimateSettings;
import org.aftercast.estimate.LandedCounts;
import org.aftercast.report.EstimateSection;
import org.aftercast.stats.BinomialInterval;
import org.aftercast.study.FileStore;
import org.aftercast.voyage.BadInputException;
import org.aftercast.voyage.EstimateDocument;
import org.aftercast.voyage.EstimateStudy;
import org.aftercast.voyage.KeepNumbers;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.ITypeConverter;
import picocli.CommandLine.Mixin;
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
@SuppressWarnings("NullAway.Init") // filled by picocli
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

    @Option(names = "--landed", paramLabel = "N", description = "Animals brought to the vessel, tagged or not.")
    private @Nullable Integer landed;

    @Option(names = "--dead-at-vessel", paramLabel = "N", description = "Of these, dead before release.")
    private @Nullable Integer deadAtVessel;

    @Option(
            names = "--not-tagged",
            paramLabel = "REASON=N",
            description = "Landed alive but released without a package, by reason; repeat for each reason.")
    private Map<String, Integer> notTagged = Map.of();

    @Option(
            names = "--keep",
            description = "Keep the control animals and the fishery in the study, for the pages, the report and later"
                    + " estimates.")
    private boolean keep;

    @Option(
            names = "--take-back",
            paramLabel = "WHAT",
            split = ",",
            description = "Take back what the study keeps: controls, fishery. The history remembers it.")
    private Set<Keepable> takeBack = Set.of();

    @Mixin
    private WhoOption who;

    @Mixin
    private final EstimateOptions options = new EstimateOptions();

    @Override
    public Integer call() throws Exception {
        EstimateSettings settings;
        LandedCounts counts;
        try {
            settings = options.settings();
            counts = landedCounts();
        } catch (IllegalArgumentException bad) {
            throw new ParameterException(spec.commandLine(), bad.getMessage(), bad);
        }
        if (json != null && Files.isDirectory(json)) {
            throw new BadInputException(json + ": is a folder; accepted: the name of a file to write");
        }
        if ((keep || !takeBack.isEmpty()) && !Files.isDirectory(source)) {
            throw new BadInputException(source + ": only a study keeps numbers; accepted with --keep and --take-back:"
                    + " the folder of a study");
        }
        KeepNumbers numbers = new KeepNumbers(FileStore.onDisk(), InstantSource.system());
        List<String> said = new ArrayList<>();
        for (Keepable what : takeBack) {
            boolean was = numbers.takeBack(source, what.kind, who.who());
            said.add(was ? "Taken back: " + what + "." : "The study keeps no " + what + ".");
        }
        EstimateStudy study = new EstimateStudy(FileStore.onDisk());
        EstimateDocument document = Files.isDirectory(source)
                ? study.fromStudy(source, counts, options::ofStudy, InstantSource.system())
                : study.fromTable(source, counts, settings);
        PrintWriter out = spec.commandLine().getOut();
        List<EstimateSection.Block> ofStudy = Files.isDirectory(source)
                ? study.ofStudyOnly(source, document.estimate(), InstantSource.system())
                : List.of();
        EstimateSummary.lines(document.estimate(), ofStudy).forEach(out::println);
        if (keep) {
            numbers.used(source, document.estimate().settings(), who.who());
            said.add("The study keeps the control animals and the fishery named above.");
        }
        if (!said.isEmpty()) {
            out.println();
            said.forEach(out::println);
        }
        if (json != null) {
            study.writeJson(document, json);
            out.println();
            out.println("Written: " + json);
        }
        out.flush();
        return 0;
    }

    /** What an estimate can keep. */
    enum Keepable {
        CONTROLS(KeepNumbers.Kind.CONTROLS),
        FISHERY(KeepNumbers.Kind.FISHERY);

        private final KeepNumbers.Kind kind;

        Keepable(KeepNumbers.Kind kind) {
            this.kind = kind;
        }

        @Override
        public String toString() {
            return name().toLowerCase(Locale.ROOT);
        }
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
