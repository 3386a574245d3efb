package org.aftercast.study;

import java.util.Collections;
import java.util.Map;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;

/**
 * The fishery that the tagged animals stand for: how its animals divide into the groups of one column, and how many it
 * lets go.
 *
 * @param id always {@code fishery}: there is one per study
 * @param groupColumn column of the capture table whose groups are weighted, or null for none
 * @param groupShares share of each group in the fishery, each 0 to 1 000 000, not all 0; scaled to sum 1 when used
 * @param sharesFrom animals on which the shares rest, 0 when they are taken as known
 * @param released animals that the fishery released, above 0 to 10¹², or null when not known
 * @param releasedLow lower limit of that number at the estimate's level, or null when it is taken as known
 * @param releasedHigh upper limit
 * @param releasedWhat which animals these are (fishery, year, area), one line, or null
 */
public record Fishery(
        String id,
        @Nullable String groupColumn,
        Map<String, Double> groupShares,
        int sharesFrom,
        @Nullable Double released,
        @Nullable Double releasedLow,
        @Nullable Double releasedHigh,
        @Nullable String releasedWhat) {

    /** The one key. */
    public static final String ID = "fishery";

    private static final double MOST = 1e12;

    public Fishery {
        Rules rules = new Rules()
                .line("groupColumn", groupColumn)
                .within("sharesFrom", sharesFrom, 0, 1_000_000_000, "")
                .within("released", released, Double.MIN_VALUE, MOST, "")
                .within("releasedLow", releasedLow, Double.MIN_VALUE, MOST, "")
                .within("releasedHigh", releasedHigh, Double.MIN_VALUE, MOST, "")
                .line("releasedWhat", releasedWhat);
        if (!ID.equals(id)) {
            rules.add("id", "must be \"" + ID + "\"");
        }
        double sum = 0;
        for (Map.Entry<String, Double> group : groupShares.entrySet()) {
            rules.line("groupShares", group.getKey()).needed("groupShares", group.getKey());
            rules.within("groupShares", group.getValue(), 0, 1_000_000, "");
            sum += group.getValue();
        }
        if (groupColumn == null && !groupShares.isEmpty()) {
            rules.add("groupColumn", "is missing although shares of groups are given");
        }
        if (groupColumn != null && !(sum > 0)) {
            rules.add("groupShares", "must sum to more than 0 when a column of groups is named");
        }
        if (groupColumn == null && released == null) {
            rules.add("released", "is missing; accepted: a number of released animals, shares of groups, or both");
        }
        limits(rules, released, releasedLow, releasedHigh);
        rules.check();
        groupShares = Collections.unmodifiableMap(new TreeMap<>(groupShares));
    }

    private static void limits(Rules rules, @Nullable Double number, @Nullable Double low, @Nullable Double high) {
        if ((low == null) != (high == null)) {
            rules.add(low == null ? "releasedLow" : "releasedHigh", "is missing although the other limit is given");
        }
        if (number == null && (low != null || high != null)) {
            rules.add("released", "is missing although its limits are given");
        }
        if (number != null && low != null && high != null && !(low <= number && number <= high)) {
            rules.add("released", "must lie between its limits releasedLow and releasedHigh");
        }
    }
}
