package org.aftercast.estimate;

import java.util.List;

/**
 * What happened before the release: everything that was landed, tagged or not.
 *
 * @param landed animals brought to the vessel, ≥ 1
 * @param deadAtVessel of these, dead before release, 0–landed
 * @param notTagged landed alive and released without a package, by reason
 */
public record LandedCounts(int landed, int deadAtVessel, List<NotTagged> notTagged) {

    /**
     * Animals released without a package for one reason.
     *
     * @param reason in the words of the study
     * @param animals ≥ 0
     */
    public record NotTagged(String reason, int animals) {

        public NotTagged {
            if (animals < 0) {
                throw new IllegalArgumentException("animals: " + animals + " is below 0");
            }
        }
    }

    public LandedCounts {
        notTagged = List.copyOf(notTagged);
        if (landed < 1 || deadAtVessel < 0 || deadAtVessel > landed) {
            throw new IllegalArgumentException(
                    "deadAtVessel: " + deadAtVessel + " of landed: " + landed + " needs 0 ≤ dead ≤ landed, landed ≥ 1");
        }
    }
}
