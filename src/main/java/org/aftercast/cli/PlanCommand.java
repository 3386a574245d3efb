package org.aftercast.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.time.InstantSource;
import java.util.Locale;
import java.util.concurrent.Callable;
import org.aftercast.estimate.Plan;
import org.aftercast.estimate.PlanQuestion;
import org.aftercast.stats.BinomialInterval;
import org.aftercast.study.FileStore;
import org.aftercast.voyage.BadInputException;
import org.aftercast.voyage.KeepNumbers;
import org.aftercast.voyage.PlanStudy;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** {@code aftercast plan}. */
@Command(
        name = "plan",
        mixinStandardHelpOptions = true,
        description = "How many animals, for how long, for which precision or power.")
@SuppressWarnings("NullAway.Init") // filled by picocli
final class PlanCommand implements Callable<Integer> {

    @Spec
    @SuppressWarnings("NullAway.Init") // filled by picocli before call()
    private CommandSpec spec;

    @Option(
            names = "--share",
            paramLabel = "SHARE",
            description = "Share expected to die, such as 0.1. Without it the command asks for everything.")
    private @Nullable Double share;

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

    @Option(
            names = "--figure",
            paramLabel = "OUT",
            description = "Also draw it for a proposal: a name ending in .svg, .png (600 dpi) or .pdf.")
    private @Nullable Path figure;

    @Option(
            names = "--keep",
            paramLabel = "DIR",
            description = "Keep the plan in this study: its report and pages then show it beside what came of it.")
    private @Nullable Path keep;

    @Option(names = "--take-back", paramLabel = "DIR", description = "Take back this study's last plan and stop.")
    private @Nullable Path takeBack;

    @Mixin
    private WhoOption who;

    @Override
    public Integer call() throws Exception {
        if (takeBack != null) {
            boolean was = new KeepNumbers(FileStore.onDisk(), InstantSource.system())
                    .takeBack(takeBack, KeepNumbers.Kind.PLAN, who.who());
            spec.commandLine()
                    .getOut()
                    .println(was ? "Taken back; the history remembers it." : "The study keeps no plan.");
            spec.commandLine().getOut().flush();
            return 0;
        }
        if (share == null) {
            ask();
        }
        Double expected = share;
        PlanQuestion question;
        try {
            if (expected == null) {
                throw new IllegalArgumentException("Which share is expected to die? Give --share, such as 0.1");
            }
            question = new PlanQuestion(
                    expected,
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
        Plan plan = plan(question);
        PrintWriter out = spec.commandLine().getOut();
        out.println("animals   half-width   half-width if so many   holds the truth   chance of no death"
                + (otherShare == null ? "" : "   power for two halves"));
        out.println(" usable                are tagged, some lost");
        for (Plan.Row row : plan.rows()) {
            Double rowPower = row.power();
            out.println(String.format(
                    Locale.ROOT,
                    "%7d   ± %6.1f %%   ± %17.1f %%   %13.1f %%   %16.1f %%%s",
                    row.animals(),
                    100 * row.halfWidth(),
                    100 * row.halfWidthIfTagged(),
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
        if (!plan.recordLengths().isEmpty()) {
            out.println();
            out.println("records of   miss of the deaths   would show a share of");
            for (Plan.RecordLength length : plan.recordLengths()) {
                out.println(String.format(
                        Locale.ROOT,
                        "%8s h   %15.1f %%   %19.1f %%",
                        EstimateSummary.number(length.hours()),
                        100 * length.missed(),
                        100 * length.seenShare()));
            }
        }
        if (figure != null) {
            new PlanStudy(FileStore.onDisk()).writeFigure(plan, figure);
            out.println();
            out.println("Written: " + figure);
        }
        if (json != null) {
            new PlanStudy(FileStore.onDisk()).writeJson(plan, json);
            out.println();
            out.println("Written: " + json);
        }
        if (keep != null) {
            int number = new KeepNumbers(FileStore.onDisk(), InstantSource.system()).plan(keep, question, who.who());
            out.println();
            out.println("Kept in " + keep + " as plan " + number + ". Its report shows it beside what came of it.");
        }
        out.flush();
        return 0;
    }

    private static Plan plan(PlanQuestion question) throws BadInputException {
        try {
            return PlanStudy.of(question);
        } catch (BadInputException tooMany) {
            throw new BadInputException(
                    tooMany.problems().stream().map(ErrorWords::typed).toList());
        }
    }

    /** Asks line by line; an empty line keeps what stands in brackets. */
    private void ask() {
        Questions questions = new Questions(spec.commandLine());
        share = questions.number("Share that you expect to die, between 0 and 1 (0.1 is one in ten)", null);
        halfWidth = questions.number("Wanted half-width of the interval (0.1 is ± 10 points)", 0.1);
        otherShare = questions.optional("Share expected in a second group; nothing for one group");
        back = questions.needed("Share of the packages that come back with a usable record", back);
        shed = questions.needed("Share of these that come off before the end of the watch", shed);
        horizonH = questions.needed("Hours of watching", horizonH);
        halfTimeH = questions.optional("Hours in which half of the deaths have come; nothing when not known");
        perCluster = questions.needed("Animals per trip or angler", perCluster);
        if (perCluster > 1) {
            likeness = questions.needed("How alike their fates are, 0 (not at all) to 1 (the same)", 0.1);
        }
        spec.commandLine().getOut().println();
    }
}
