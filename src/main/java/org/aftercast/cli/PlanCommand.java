package org.aftercast.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.Locale;
import java.util.concurrent.Callable;
import org.aftercast.estimate.Plan;
import org.aftercast.estimate.PlanQuestion;
import org.aftercast.stats.BinomialInterval;
import org.aftercast.study.FileStore;
import org.aftercast.voyage.PlanStudy;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** {@code aftercast plan}. */
@Command(
        name = "plan",
        mixinStandardHelpOptions = true,
        description = "How many animals, for how long, for which precision or power.")
final class PlanCommand implements Callable<Integer> {

    @Spec
    @SuppressWarnings("NullAway.Init") // filled by picocli before call()
    private CommandSpec spec;

    @Option(names = "--share", paramLabel = "SHARE", required = true, description = "Share expected to die (0.1).")
    private double share;

    @Option(names = "--half-width", paramLabel = "SHARE", description = "Wanted half-width of the interval (0.1).")
    private @Nullable Double halfWidth;

    @Option(names = "--animals", paramLabel = "N", description = "Usable animals that are thought of.")
    private @Nullable Integer animals;

    @Option(names = "--other-share", paramLabel = "SHARE", description = "Share expected in a second group.")
    private @Nullable Double otherShare;

    @Option(names = "--power", paramLabel = "SHARE", description = "Wanted power (default 0.8).")
    private double power = 0.8;

    @Option(names = "--back", paramLabel = "SHARE", description = "Packages that come back (default 0.8).")
    private double back = 0.8;

    @Option(names = "--shed", paramLabel = "SHARE", description = "Of these, off before the horizon (default 0).")
    private double shed;

    @Option(names = "--assurance", paramLabel = "SHARE", description = "How surely enough come back (default 0.9).")
    private double assurance = 0.9;

    @Option(names = "--per-trip", paramLabel = "N", description = "Animals per trip or angler (default 1).")
    private double perCluster = 1;

    @Option(names = "--likeness", paramLabel = "R", description = "Correlation of fates within a trip (default 0).")
    private double likeness;

    @Option(names = "--horizon", paramLabel = "HOURS", description = "Hours of watching (default 24).")
    private double horizonH = 24;

    @Option(names = "--half-time", paramLabel = "HOURS", description = "Hours in which half of the deaths have come.")
    private @Nullable Double halfTimeH;

    @Option(
            names = "--interval",
            paramLabel = "NAME",
            converter = EstimateCommand.IntervalName.class,
            description = "clopper-pearson (default), wilson, jeffreys or mid-p.")
    private BinomialInterval interval = BinomialInterval.CLOPPER_PEARSON;

    @Option(names = "--level", paramLabel = "SHARE", description = "Coverage of the interval (default 0.95).")
    private double level = 0.95;

    @Option(names = "--json", paramLabel = "OUT", description = "Also write everything as JSON.")
    private @Nullable Path json;

    @Override
    public Integer call() throws Exception {
        PlanQuestion question;
        try {
            question = new PlanQuestion(
                    share,
                    halfWidth,
                    animals,
                    otherShare,
                    power,
                    back,
                    shed,
                    assurance,
                    perCluster,
                    likeness,
                    horizonH,
                    halfTimeH,
                    interval,
                    level);
        } catch (IllegalArgumentException bad) {
            throw new ParameterException(spec.commandLine(), bad.getMessage(), bad);
        }
        Plan plan = PlanStudy.of(question);
        PrintWriter out = spec.commandLine().getOut();
        out.println("usable   half-width   holds the truth   chance of no death"
                + (otherShare == null ? "" : "   power for two halves"));
        for (Plan.Row row : plan.rows()) {
            Double rowPower = row.power();
            out.println(String.format(
                    Locale.ROOT,
                    "%6d   ± %7.1f %%   %13.1f %%   %16.1f %%%s",
                    row.animals(),
                    100 * row.halfWidth(),
                    100 * row.coverage(),
                    100 * row.noDeath(),
                    rowPower == null ? "" : String.format(Locale.ROOT, "   %18.1f %%", 100 * rowPower)));
        }
        out.println();
        plan.inWords().forEach(sentence -> out.println("- " + sentence));
        if (plan.designEffect() > 1) {
            out.println(String.format(
                    Locale.ROOT,
                    "- Likeness within trips makes %.2f times as many animals necessary (counted in above).",
                    plan.designEffect()));
        }
        plan.method().assumptions().forEach(sentence -> out.println("- " + sentence));
        if (json != null) {
            new PlanStudy(FileStore.onDisk()).writeJson(plan, json);
            out.println();
            out.println("Written: " + json);
        }
        out.flush();
        return 0;
    }
}
