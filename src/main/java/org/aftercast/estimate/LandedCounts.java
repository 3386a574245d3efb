package org.aftercast.estimate;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What happened before the release: everything that was landed, tagged or not.
 *
 * @param landed animals brought to the vessel, ≥ 1
 * @param deadAtVessel of these, dead before release, 0–landed
 * @param tagged of these, released with a package; null: as many as there are outcomes
 * @param notTagged landed alive and released without a package, by reason
 */
public record LandedCounts(
        int landed, int deadAtVessel, @Nullable Integer tagged, List<NotTagged> notTagged) {

    /** With as many tagged as there are outcomes. */
    public LandedCounts(int landed, int deadAtVessel, List<NotTagged> notTagged) {
        this(landed, deadAtVessel, null, notTagged);
    }

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

    /** Animals released with a package, where so many outcomes are known. */
    int taggedOf(int outcomes) {
        return tagged == null ? outcomes : Math.max(tagged, outcomes);
    }

    /** Landed alive, released without a package, and no reason named. */
    int unexplained(int outcomes) {
        return landed
                - deadAtVessel
                - taggedOf(outcomes)
                - notTagged.stream().mapToInt(NotTagged::animals).sum();
    }

    /** Why these counts do not fit so many outcomes, one sentence; null when they do. */
    public @Nullable String misfit(int outcomes) {
        if (unexplained(outcomes) >= 0) {
            return null;
        }
        return "Of " + landed + " landed, " + deadAtVessel + " dead before release, " + taggedOf(outcomes)
                + " released with a package and "
                + notTagged.stream().mapToInt(NotTagged::animals).sum() + " without are more than all.";
    }
}
