package org.aftercast.estimate;

import org.aftercast.stats.BinomialInterval;
import org.jspecify.annotations.Nullable;

/**
 * What is expected and wanted before the first animal.
 *
 * @param share share expected to die, above 0 and below 1
 * @param halfWidth wanted half of the interval's width, above 0 and below ½, or null
 * @param animals usable animals that are thought of, or null
 * @param otherShare share expected in a second group, or null for one group
 * @param power wanted chance to see that the groups differ, above 0 and below 1
 * @param back share of packages that come back with a usable record, above 0 up to 1
 * @param shed share of those that come off before the horizon, 0 up to below 1
 * @param assurance how surely enough records are to come back, above 0 and below 1
 * @param perCluster animals per trip or angler, ≥ 1
 * @param likeness correlation of fates within one, 0–1
 * @param horizonH hours of watching
 * @param halfTimeH hours in which half of the deaths have come, or null when unknown
 * @param interval interval that will be reported
 * @param level its coverage
 */
public record PlanQuestion(
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

    public PlanQuestion {
        inside("share", share);
        if (halfWidth != null && !(halfWidth > 0 && halfWidth < 0.5)) {
            throw new IllegalArgumentException("halfWidth: " + halfWidth
                    + " is not between 0 and 0.5; accepted: a share such as 0.1 for ± 10 percentage points");
        }
        if (animals != null && (animals < 1 || animals > 2000)) {
            throw new IllegalArgumentException("animals: " + animals + " is not within 1–2000");
        }
        if (otherShare != null) {
            inside("otherShare", otherShare);
            if (otherShare == share) {
                throw new IllegalArgumentException("otherShare: " + otherShare + " equals share");
            }
        }
        inside("power", power);
        inside("assurance", assurance);
        inside("level", level);
        if (!(back > 0 && back <= 1)) {
            throw new IllegalArgumentException(
                    "back: " + back + " is not a share above 0, up to 1; accepted: such as 0.8 for 80 %");
        }
        if (!(shed >= 0 && shed < 1)) {
            throw new IllegalArgumentException(
                    "shed: " + shed + " is not a share from 0 to below 1; accepted: such as 0.05 for 5 %");
        }
        if (!(perCluster >= 1 && perCluster < 1e6) || !(likeness >= 0 && likeness <= 1)) {
            throw new IllegalArgumentException(
                    "perCluster: " + perCluster + " must be ≥ 1 and likeness: " + likeness + " within 0–1");
        }
        hours("horizonH", horizonH);
        if (halfTimeH != null) {
            hours("halfTimeH", halfTimeH);
        }
    }

    private static void hours(String name, double value) {
        if (!(value > 0 && value < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException(
                    name + ": " + value + " is not a number of hours above 0; accepted: such as 24");
        }
    }

    private static void inside(String name, double value) {
        if (!(value > 0 && value < 1)) {
            throw new IllegalArgumentException(name + ": "
                    + (Double.isNaN(value) ? "is missing" : value + " is not between 0 and 1")
                    + "; accepted: a share such as 0.1 for 10 %");
        }
    }
}
