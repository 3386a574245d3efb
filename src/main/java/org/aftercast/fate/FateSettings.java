package org.aftercast.fate;

import java.util.EnumMap;
import java.util.Map;

/**
 * What can be adjusted; all our own defaults. The prior shares that die and are eaten stand once, in
 * {@link org.aftercast.behaviour.BehaviourSettings}, since bouts need them too.
 *
 * @param shareShed prior share of packages that come off early, 0–1
 * @param decideAbove an animal's fate is called when its probability is at least this, 0.5–1; else undecided
 * @param shedToleranceMin a package that comes off more than this before the plan came off early, minutes
 * @param movesAtEnd log-odds added to died when the animal moves at the end as its own (negative)
 * @param cannotTell log-odds added to eaten when the record is too short to compare before and after (negative)
 * @param sightingOdds shift of the odds by each kind of sighting
 */
public record FateSettings(
        double shareShed,
        double decideAbove,
        double shedToleranceMin,
        double movesAtEnd,
        double cannotTell,
        Map<Sighting.What, SightingOdds> sightingOdds) {

    public FateSettings {
        share("shareShed", shareShed);
        if (!(decideAbove >= 0.5 && decideAbove < 1)) {
            throw new IllegalArgumentException("decideAbove: " + decideAbove + " is outside 0.5–1");
        }
        if (!(shedToleranceMin > 0)) {
            throw new IllegalArgumentException("shedToleranceMin: " + shedToleranceMin + " must be above 0 minutes");
        }
        for (Sighting.What what : Sighting.What.values()) {
            if (!sightingOdds.containsKey(what)) {
                throw new IllegalArgumentException("sightingOdds: nothing is stated for " + what);
            }
        }
        sightingOdds = Map.copyOf(sightingOdds);
    }

    private static void share(String name, double value) {
        if (!(value > 0 && value < 1)) {
            throw new IllegalArgumentException(name + ": " + value + " is outside 0–1, both excluded");
        }
    }

    /** The defaults. */
    public static FateSettings defaults() {
        Map<Sighting.What, SightingOdds> odds = new EnumMap<>(Sighting.What.class);
        for (Sighting.What what : Sighting.What.values()) {
            odds.put(what, SightingOdds.standard(what));
        }
        return new FateSettings(0.08, 0.7, 10, -7, -2, odds);
    }
}
