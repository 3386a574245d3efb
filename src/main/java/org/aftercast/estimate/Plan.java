package org.aftercast.estimate;

import java.util.ArrayList;
import java.util.List;
import java.util.TreeSet;
import org.aftercast.stats.Planning;
import org.hipparchus.distribution.discrete.BinomialDistribution;
import org.jspecify.annotations.Nullable;

/**
 * How many animals, for how long: every possible outcome added up, no normal approximation.
 *
 * @param question what was asked
 * @param method how it was computed
 * @param designEffect factor by which likeness within trips inflates the variance: 1 + (m − 1)·likeness
 * @param rows what numbers of usable animals would show
 * @param forHalfWidth animals for the wanted half-width, or null when not asked for
 * @param forPower animals for the wanted power, in all groups together, or null when not asked for
 * @param toSeeOne animals to see at least one death with the wanted assurance
 * @param missedByHorizon share of the deaths that come after the horizon, or null when the pace is unknown
 * @param recordLengths what records of other lengths would miss; empty when the pace is unknown
 * @param inWords sentences for a proposal
 */
public record Plan(
        PlanQuestion question,
        Method method,
        double designEffect,
        List<Row> rows,
        @Nullable Need forHalfWidth,
        @Nullable Need forPower,
        Need toSeeOne,
        @Nullable Double missedByHorizon,
        List<RecordLength> recordLengths,
        List<String> inWords) {

    private static final double[] LENGTHS_H = {6, 12, 24, 48, 72, 168, 720};

    private static final int[] USUAL = {10, 15, 20, 30, 40, 50, 75, 100, 150, 200};

    public Plan {
        rows = List.copyOf(rows);
        recordLengths = List.copyOf(recordLengths);
        inWords = List.copyOf(inWords);
    }

    /**
     * What a number of usable animals would show.
     *
     * @param animals usable animals
     * @param halfWidth expected half of the interval's width
     * @param halfWidthIfTagged the same when so many animals are tagged and only some records come back usable: every
     *     possible number of usable records weighed; with none the interval is 0–1
     * @param coverage how often the interval will hold the truth
     * @param noDeath chance that none dies
     * @param power chance to see that two groups of half so many differ (Fisher, two-sided, 1 − level); null with one
     *     group
     */
    public record Row(
            int animals,
            double halfWidth,
            double halfWidthIfTagged,
            double coverage,
            double noDeath,
            @Nullable Double power) {}

    /**
     * What records of one length miss, when deaths come at a constant pace.
     *
     * @param hours length of the records
     * @param missed share of the deaths that come later
     * @param seenShare share of all animals that would be seen to die: the expected share without those missed
     */
    public record RecordLength(double hours, double missed, double seenShare) {}

    /**
     * A number of animals.
     *
     * @param independent usable animals if their fates were independent
     * @param usable with likeness within trips
     * @param deploy to be tagged, so that so many usable records come back with the wanted assurance
     */
    public record Need(int independent, int usable, int deploy) {}

    /**
     * Plans.
     *
     * @throws IllegalArgumentException if more animals are needed than can be counted through (5000; 1000 a group)
     */
    public static Plan of(PlanQuestion q) {
        double effect = 1 + (q.perCluster() - 1) * q.likeness();
        TreeSet<Integer> numbers = new TreeSet<>();
        for (int n : USUAL) {
            numbers.add(n);
        }
        Integer animals = q.animals();
        if (animals != null) {
            numbers.add(animals);
        }
        Double other = q.otherShare();
        List<Row> rows = new ArrayList<>();
        for (int n : numbers) {
            Planning.Precision precision = Planning.precision(q.interval(), n, q.share(), q.level());
            rows.add(new Row(
                    n,
                    precision.halfWidth(),
                    ifTagged(n, q),
                    precision.coverage(),
                    precision.none(),
                    other == null || n < 2 || n > 400
                            ? null
                            : Planning.fisherPower(n / 2, n - n / 2, q.share(), other, 1 - q.level())));
        }
        Double half = q.halfWidth();
        Need width = half == null
                ? null
                : need(Planning.subjectsForHalfWidth(q.interval(), q.share(), half, q.level()), effect, q);
        Need power = other == null
                ? null
                : need(2 * Planning.subjectsForPower(q.share(), other, 1 - q.level(), q.power()), effect, q);
        Need one = need(Planning.subjectsToSeeOne(q.share(), q.assurance()), effect, q);
        Double pace = q.halfTimeH();
        Double missed = pace == null ? null : Math.pow(0.5, q.horizonH() / pace);
        List<RecordLength> lengths = new ArrayList<>();
        if (pace != null && missed != null) {
            TreeSet<Double> hours = new TreeSet<>();
            for (double h : LENGTHS_H) {
                hours.add(h);
            }
            hours.add(q.horizonH());
            for (double h : hours) {
                double late = Math.pow(0.5, h / pace);
                // the share is the one expected within the horizon: all deaths are share / (1 − missed by the horizon)
                double all = Math.min(1, q.share() / (1 - missed));
                lengths.add(new RecordLength(h, late, all * (1 - late)));
            }
        }
        return new Plan(
                q, method(q), effect, rows, width, power, one, missed, lengths, words(q, width, power, one, missed));
    }

    /** Expected half-width over the number of usable records among so many tagged. */
    private static double ifTagged(int tagged, PlanQuestion q) {
        double usable = q.back() * (1 - q.shed());
        BinomialDistribution back = new BinomialDistribution(tagged, usable);
        double sum = 0.5 * back.probability(0);
        for (int k = 1; k <= tagged; k++) {
            double p = back.probability(k);
            if (p > 1e-12) {
                sum += p
                        * Planning.precision(q.interval(), k, q.share(), q.level())
                                .halfWidth();
            }
        }
        return sum;
    }

    private static Need need(int independent, double effect, PlanQuestion q) {
        int usable = (int) Math.ceil(independent * effect - 1e-9);
        return new Need(independent, usable, Planning.deployFor(usable, q.back() * (1 - q.shed()), q.assurance()));
    }

    private static Method method(PlanQuestion q) {
        return Method.used(
                "Exact enumeration of every possible number of deaths, "
                        + q.interval().shownName() + " interval",
                List.of(
                        "The expected shares are guesses; look at neighbouring ones too.",
                        "Each package comes back, and stays on, independently of the others and of the fate.",
                        "Deaths come at a constant pace, where a half-time is given.",
                        "Records that end early are left out here; the survival curve will use them in part, so the"
                                + " number is on the safe side."));
    }

    private static List<String> words(
            PlanQuestion q, @Nullable Need width, @Nullable Need power, Need one, @Nullable Double missed) {
        List<String> out = new ArrayList<>();
        Double half = q.halfWidth();
        if (width != null && half != null) {
            out.add("If " + Text.percent(q.share()) + " die within " + Text.number(q.horizonH()) + " h, "
                    + width.usable() + " usable records give a " + Text.number(100 * q.level()) + " % "
                    + q.interval().shownName() + " interval with an expected half-width of at most "
                    + Text.number(100 * half) + " percentage points.");
            out.add(deploy(q, width));
        }
        Double other = q.otherShare();
        if (power != null && other != null) {
            out.add("To see with " + Text.number(100 * q.power()) + " % power that " + Text.percent(q.share()) + " and "
                    + Text.percent(other) + " differ (Fisher's exact test, two-sided, "
                    + Text.number(100 * (1 - q.level())) + " %), " + power.usable() / 2
                    + " usable records a group are needed.");
            out.add(deploy(q, power));
        }
        out.add("To see at least one death with " + Text.number(100 * q.assurance()) + " % assurance, " + one.usable()
                + " usable records are needed.");
        if (missed != null) {
            out.add("If half of the deaths come within " + Text.number(q.halfTimeH() == null ? 0 : q.halfTimeH())
                    + " h, records of " + Text.number(q.horizonH()) + " h miss " + Text.percent(missed)
                    + " of the deaths.");
        }
        return out;
    }

    private static String deploy(PlanQuestion q, Need need) {
        return "With " + Text.percent(q.back()) + " of the packages coming back and " + Text.percent(q.shed())
                + " of these off too early, " + need.deploy() + " animals must be tagged to have " + need.usable()
                + " usable records with " + Text.number(100 * q.assurance()) + " % assurance.";
    }
}
