package org.aftercast.voyage;

import java.io.IOException;
import java.time.Instant;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import org.aftercast.estimate.AnimalOutcome;
import org.aftercast.estimate.ClusterCheck;
import org.aftercast.estimate.EstimateResult;
import org.aftercast.estimate.GroupComparison;
import org.aftercast.estimate.Headline;
import org.aftercast.estimate.Plan;
import org.aftercast.estimate.PlanQuestion;
import org.aftercast.estimate.Share;
import org.aftercast.estimate.WhoWasTagged;
import org.aftercast.fate.RecordEnd;
import org.aftercast.report.EstimateSection;
import org.aftercast.report.EstimateSection.TextTable;
import org.aftercast.report.PlanSection;
import org.aftercast.stats.Planning;
import org.aftercast.study.HistoryEntry;
import org.aftercast.study.KeptPlan;
import org.aftercast.study.Release;
import org.aftercast.study.StudyStore;
import org.jspecify.annotations.Nullable;

/** What a study planned, beside what came of it. */
final class PlanSections {

    private static final String NONE = "–";
    private static final String NOT_SAID = "not said";
    private static final DateTimeFormatter DAY = DateTimeFormatter.ofPattern("d MMMM uuuu", Locale.ENGLISH);

    private PlanSections() {}

    /**
     * The plan that the study keeps, with what was reached.
     *
     * @param result the estimate, or null while there is none
     * @return null without a kept plan
     */
    static @Nullable PlanSection of(StudyStore store, @Nullable EstimateResult result, List<AnimalOutcome> animals)
            throws IOException {
        KeptPlan kept = KeepNumbers.of(store).plan();
        if (kept == null) {
            return null;
        }
        Plan plan;
        try {
            plan = PlanStudy.of(kept.question());
        } catch (BadInputException tooMany) {
            throw new IOException("the kept plan cannot be counted through: " + tooMany.getMessage(), tooMany);
        }
        List<String> sentences = new ArrayList<>();
        sentences.add(when(store, kept));
        plan.inWords().forEach(sentences::add);
        if (plan.designEffect() > 1) {
            sentences.add("Animals of one trip or angler were expected to share their fate: that makes "
                    + Decimals.fixed(plan.designEffect(), 2) + " times as many necessary (counted in).");
        }
        List<TextTable> tables = new ArrayList<>();
        List<String> outcome = new ArrayList<>();
        if (result == null) {
            outcome.add("Nothing has come of it yet: no animal has a fate.");
        } else {
            outcome.addAll(judged(plan, result));
            tables.add(cameOf(plan, result, animals));
        }
        lengths(plan, tables);
        return new PlanSection(
                plan,
                sentences,
                outcome,
                tables,
                new EstimateSection.MethodNote(
                        "Planning", plan.method().name(), plan.method().assumptions(), null));
    }

    /** As one of the parts that pages and the command line show. */
    static EstimateSection.Block block(PlanSection section) {
        List<String> sentences = new ArrayList<>(section.planned());
        sentences.addAll(section.cameOf());
        return new EstimateSection.Block(EstimateSection.Place.FURTHER, PlanSection.TITLE, sentences, section.tables());
    }

    private static String when(StudyStore store, KeptPlan kept) throws IOException {
        HistoryEntry entry = store.history().stream()
                .filter(e -> e.table().equals("plan") && e.key().equals(Integer.toString(kept.number())))
                .filter(e -> e.what() == HistoryEntry.What.ADDED)
                .reduce((a, b) -> b)
                .orElse(null);
        if (entry == null) {
            return "When it was planned is not known.";
        }
        Instant first = store.all(Release.class).stream()
                .map(Release::releasedUtc)
                .filter(Objects::nonNull)
                .min(Instant::compareTo)
                .orElse(null);
        String day = DAY.format(entry.atUtc().atZone(ZoneId.of(store.info().timeZone())));
        String number = kept.number() == 1 ? "The plan" : "Plan number " + kept.number() + " (the last counts)";
        if (first == null) {
            return number + " was kept on " + day + ", before any animal was released.";
        }
        return number + " was kept on " + day
                + (entry.atUtc().isBefore(first)
                        ? ", before the first animal was released."
                        : ", after the first animal was released: it may have been made with its outcome in view.");
    }

    private static List<String> judged(Plan plan, EstimateResult result) {
        Share died = result.headline().died();
        PlanQuestion q = plan.question();
        List<String> out = new ArrayList<>();
        if (died == null) {
            out.add("No share could be stated, so the wanted width was not reached. "
                    + result.headline().method().refusal());
            return out;
        }
        double reached = (died.high() - died.low()) / 2;
        Double wanted = q.halfWidth();
        if (wanted != null) {
            out.add("Wanted was an interval of ± " + points(wanted) + "; reached was one of ± " + points(reached) + " ("
                    + percent(died.low()) + " to " + percent(died.high()) + ")"
                    + (reached <= wanted ? ": as narrow as wanted." : ": wider than wanted.")
                    + why(plan, result, died));
        }
        if (q.share() < died.low() || q.share() > died.high()) {
            out.add("The share expected when planning, " + percent(q.share()) + ", lies outside the interval.");
        }
        if (Math.abs(q.horizonH() - result.headline().horizonH()) > 1e-9) {
            out.add("Planned were " + Decimals.number(q.horizonH()) + " h of watching; the share is stated at "
                    + Decimals.number(result.headline().horizonH())
                    + " h, so the two columns are not quite the same thing.");
        }
        return out;
    }

    /** Whether too few animals or another share made the interval wider. */
    private static String why(Plan plan, EstimateResult result, Share died) {
        PlanQuestion q = plan.question();
        Double wanted = q.halfWidth();
        int known = known(result.headline().counts());
        if (wanted == null || known == 0 || (died.high() - died.low()) / 2 <= wanted) {
            return "";
        }
        double asManyAsKnown =
                Planning.precision(q.interval(), known, q.share(), q.level()).halfWidth();
        return " With the " + known + " animals known to the horizon, ± " + points(asManyAsKnown)
                + " were to be expected at the planned share of " + percent(q.share())
                + (Math.abs(died.value() - 0.5) < Math.abs(q.share() - 0.5)
                        ? "; the rest is due to the share itself, which lies nearer to one half."
                        : ".");
    }

    private static TextTable cameOf(Plan plan, EstimateResult result, List<AnimalOutcome> animals) {
        PlanQuestion q = plan.question();
        Headline headline = result.headline();
        Headline.Counts counts = headline.counts();
        Share died = headline.died();
        Plan.Need need = plan.forHalfWidth() == null ? plan.forPower() : plan.forHalfWidth();
        Integer thought = q.animals();
        int tagged = stage(result, WhoWasTagged.Kind.TAGGED);
        int back = stage(result, WhoWasTagged.Kind.PACKAGE_RETRIEVED);
        long shed = animals.stream()
                .filter(a -> a.end() == RecordEnd.SHED_EARLY && !a.dead() && a.atRiskH() < headline.horizonH())
                .count();
        Double wanted = q.halfWidth();
        List<List<String>> rows = new ArrayList<>();
        rows.add(List.of(
                "animals tagged", need == null ? NOT_SAID : Integer.toString(need.deploy()), Integer.toString(tagged)));
        rows.add(List.of(
                "animals known to the horizon (usable records)",
                need != null ? Integer.toString(need.usable()) : thought == null ? NOT_SAID : thought.toString(),
                Integer.toString(known(counts))));
        rows.add(List.of("packages that came back", percent(q.back()), ofMany(back, tagged)));
        rows.add(List.of("of these, off before the horizon", percent(q.shed()), ofMany((int) shed, back)));
        rows.add(List.of(
                "hours of watching",
                Decimals.number(q.horizonH()) + " h",
                Decimals.number(headline.horizonH()) + " h"));
        rows.add(List.of(
                "share that dies",
                percent(q.share()),
                died == null
                        ? NONE
                        : percent(died.value()) + " (" + percent(died.low()) + " to " + percent(died.high()) + ")"));
        rows.add(List.of(
                "half-width of the " + Decimals.number(100 * q.level()) + " % interval",
                wanted == null ? NOT_SAID : "± " + points(wanted),
                died == null ? NONE : "± " + points((died.high() - died.low()) / 2)));
        if (need != null) {
            rows.add(List.of(
                    "chance that no animal dies",
                    percent(Math.pow(1 - q.share(), need.usable())),
                    counts.died() + " died"));
        }
        Double other = q.otherShare();
        if (other != null) {
            rows.add(List.of(
                    "chance to see that " + percent(q.share()) + " and " + percent(other) + " differ",
                    percent(q.power()),
                    seen(result.groups())));
        }
        ClusterCheck clusters = result.clusters();
        Double effect = clusters == null ? null : clusters.designEffect();
        if (plan.designEffect() > 1 || effect != null) {
            rows.add(List.of(
                    "times the variance of independent animals",
                    Decimals.fixed(plan.designEffect(), 2),
                    effect == null ? NONE : Decimals.fixed(effect, 2)));
        }
        return new TextTable(
                "Planned, and what came of it.", List.of("what", "planned", "came of it"), List.of(1, 2), rows);
    }

    private static String seen(List<GroupComparison> groups) {
        for (GroupComparison group : groups) {
            GroupComparison.TwoGroups two = group.two();
            if (two != null) {
                return "p " + (two.fisherP() < 0.0005 ? "< 0.001" : "= " + Decimals.fixed(two.fisherP(), 3))
                        + " (Fisher)";
            }
        }
        return "no two groups compared";
    }

    private static void lengths(Plan plan, List<TextTable> tables) {
        if (plan.recordLengths().isEmpty()) {
            return;
        }
        List<List<String>> rows = new ArrayList<>();
        for (Plan.RecordLength length : plan.recordLengths()) {
            rows.add(List.of(Decimals.number(length.hours()), percent(length.missed()), percent(length.seenShare())));
        }
        tables.add(new TextTable(
                "What records of other lengths would miss, if deaths come at the planned pace.",
                List.of("hours of record", "deaths that come later", "share it would show"),
                List.of(0, 1, 2),
                rows));
    }

    private static int known(Headline.Counts counts) {
        return counts.animals() - counts.unknown();
    }

    private static int stage(EstimateResult result, WhoWasTagged.Kind kind) {
        return result.whoWasTagged().stages().stream()
                .filter(stage -> stage.kind() == kind)
                .mapToInt(WhoWasTagged.Stage::animals)
                .sum();
    }

    private static String ofMany(int some, int all) {
        return some + " of " + all + (all == 0 ? "" : " (" + percent((double) some / all) + ")");
    }

    private static String points(double share) {
        return Decimals.fixed(100 * share, 1) + " points";
    }

    private static String percent(double share) {
        return EstimateSections.percent(share);
    }
}
