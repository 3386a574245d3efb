package org.aftercast.estimate;

import java.util.List;
import org.aftercast.stats.CumulativeIncidence;
import org.jspecify.annotations.Nullable;

/**
 * Death from the catch beside death from being eaten, whatever the declared rule.
 *
 * @param method how it was obtained
 * @param ends one per kind of end
 */
public record CompetingEnds(Method method, List<End> ends) {

    public CompetingEnds {
        ends = List.copyOf(ends);
    }

    /**
     * One kind of end.
     *
     * @param name in words
     * @param animals how many met it while watched
     * @param incidence share that has met it by each time (hours)
     * @param byHorizon share at the horizon with log-log limits (limits 0 and 1 where there are none), or null when
     *     nobody was watched so long
     * @param ifOthersWereCensored what 1 − Kaplan–Meier would give when the other ends are treated as lost from sight:
     *     too high, because eaten animals can no longer die; null when nobody was watched so long
     */
    public record End(
            String name,
            int animals,
            CumulativeIncidence incidence,
            @Nullable Share byHorizon,
            @Nullable Double ifOthersWereCensored) {}
}
