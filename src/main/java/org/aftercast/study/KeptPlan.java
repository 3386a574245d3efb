package org.aftercast.study;

import org.aftercast.estimate.PlanQuestion;
import org.aftercast.stats.BinomialInterval;
import org.jspecify.annotations.Nullable;

/**
 * What was expected and wanted when the study was planned. Planning anew adds another; the last counts. The answer is
 * not kept: it follows from the question. Ranges and units are those of {@link PlanQuestion}, which throws
 * {@link IllegalArgumentException} for what lies outside; a number out of range is a {@link RuleException}.
 *
 * @param number 1, 2, … in order of planning, at most 1 000 000
 * @param share share expected to die
 * @param halfWidth wanted half of the interval's width, or null
 * @param animals usable animals that were thought of, or null
 * @param otherShare share expected in a second group, or null
 * @param power wanted chance to see that the groups differ
 * @param back share of packages that come back with a usable record
 * @param shed share of those that come off before the horizon
 * @param assurance how surely enough records are to come back
 * @param perCluster animals per trip or angler
 * @param likeness correlation of fates within one
 * @param horizonH hours of watching
 * @param halfTimeH hours in which half of the deaths have come, or null
 * @param interval interval that will be reported
 * @param level its coverage, 0 to 1
 */
public record KeptPlan(
        int number,
        double share,
        @Nullable Double halfWidth,
        @Nullable Integer animals,
        @Nullable Double otherShare,
        double power,
        double back,
        double shed,
        double assurance,
        double perCluster,
        double likeness,
        double horizonH,
        @Nullable Double halfTimeH,
        BinomialInterval interval,
        double level) {

    public KeptPlan {
        new Rules().within("number", number, 1, 1_000_000, "").check();
        new PlanQuestion(
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
    }

    /** As a record of the study. */
    public static KeptPlan of(int number, PlanQuestion q) {
        return new KeptPlan(
                number,
                q.share(),
                q.halfWidth(),
                q.animals(),
                q.otherShare(),
                q.power(),
                q.back(),
                q.shed(),
                q.assurance(),
                q.perCluster(),
                q.likeness(),
                q.horizonH(),
                q.halfTimeH(),
                q.interval(),
                q.level());
    }

    /** The question that was planned with. */
    public PlanQuestion question() {
        return new PlanQuestion(
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
    }
}
